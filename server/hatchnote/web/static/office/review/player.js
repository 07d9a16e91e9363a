/** One sound at a time: play a span, say at every frame which dictation is at which second. */

/** @typedef {{dictation: string | null, start: number | null, end: number | null, continued?: Heard}} Heard */

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
    /** What is played when this dictation is over. @type {(() => Promise<void>) | null} */
    this.then = null;
    /** Dictation → the one that a person joined to it. @type {Map<string, string>} */
    this.next = new Map();
    audio.addEventListener("ended", () => void this.#over());
    audio.addEventListener("play", () => requestAnimationFrame(() => this.#frame()));
    audio.addEventListener("pause", () => this.onsecond(null, 0));
  }

  /** Play what was heard, with a breath on both sides. @param {Heard} heard @returns {Promise<boolean>} false without sound */
  async play(heard) {
    if (!heard.dictation || heard.start === null || heard.end === null) return false;
    this.then = null;
    await this.#from(heard.dictation, Math.max(0, heard.start - BEFORE_S));
    this.until = heard.end + AFTER_S;
    const rest = heard.continued;
    if (rest?.dictation && rest.end !== null) {
      // It goes on in the next dictation: this one to its end, then that one from its beginning.
      const { dictation, end } = rest;
      this.until = null;
      this.then = async () => {
        await this.#from(dictation, 0);
        this.until = end + AFTER_S;
      };
    }
    return true;
  }

  /** Play on from a second, through all that is joined to it. @param {string} dictation @param {number} second */
  async playFrom(dictation, second) {
    this.then = null;
    await this.#from(dictation, second);
    this.until = null;
    const next = this.next.get(dictation);
    if (next) this.then = () => this.playFrom(next, 0);
  }

  stop() {
    this.then = null;
    this.audio.pause();
  }

  async #over() {
    const then = this.then;
    this.then = null;
    try {
      await then?.();
    } catch {
      // The second sound is not there yet; the first was heard to its end.
    }
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
