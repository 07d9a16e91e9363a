/** One sound at a time: play a span, say at every frame which dictation is at which second. */

/** @typedef {{dictation: string | null, start: number | null, end: number | null}} Heard */

const BEFORE_S = 0.6;
const AFTER_S = 0.5;

export class Player {
  /** @param {HTMLAudioElement} audio @param {(dictation: string | null, second: number) => void} onsecond */
  constructor(audio, onsecond) {
    this.audio = audio;
    this.onsecond = onsecond;
    /** @type {string | null} */
    this.dictation = null;
    /** @type {number | null} */
    this.until = null;
    audio.addEventListener("play", () => requestAnimationFrame(() => this.#frame()));
    audio.addEventListener("pause", () => this.onsecond(null, 0));
  }

  /** Play what was heard, with a breath on both sides. @param {Heard} heard @returns {Promise<boolean>} false without sound */
  async play(heard) {
    if (!heard.dictation || heard.start === null || heard.end === null) return false;
    await this.#from(heard.dictation, Math.max(0, heard.start - BEFORE_S));
    this.until = heard.end + AFTER_S;
    return true;
  }

  /** Play on from a second. @param {string} dictation @param {number} second */
  async playFrom(dictation, second) {
    await this.#from(dictation, second);
    this.until = null;
  }

  stop() {
    this.audio.pause();
  }

  /** @param {string} dictation @param {number} second */
  async #from(dictation, second) {
    if (this.dictation !== dictation) {
      this.dictation = dictation;
      this.audio.src = `/api/v1/recordings/${encodeURIComponent(dictation)}/sound`;
    }
    this.audio.currentTime = second;
    await this.audio.play();
  }

  #frame() {
    if (this.audio.paused) return;
    if (this.until !== null && this.audio.currentTime >= this.until) {
      this.audio.pause();
      return;
    }
    this.onsecond(this.dictation, this.audio.currentTime);
    requestAnimationFrame(() => this.#frame());
  }
}
