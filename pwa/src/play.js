// Plays the seconds of a dictation in which something was said: from this phone while the sound is still here,
// otherwise from the server, which answers byte ranges so that the browser can seek.
import { soundOf } from "./sound-store.js";

const LEAD_S = 0.3;
const TAIL_S = 0.5;

export class Player extends EventTarget {
  #db;
  #audio = null;
  #context = null;
  #node = null;
  #asked = 0;

  constructor(db) {
    super();
    this.#db = db;
  }

  /** `span`: {dictation, start, end} in seconds. Resolves true when it plays, false when the sound cannot be had now. */
  async play({ dictation, start, end }) {
    this.stop();
    const asked = this.#asked;
    if (!dictation || start === null || start === undefined) return false;
    const from = Math.max(0, start - LEAD_S);
    const to = end + TAIL_S;
    const kept = await soundOf(this.#db, dictation);
    if (asked !== this.#asked) return true;
    return kept.length ? this.#playHere(kept, from, to) : this.#playThere(dictation, from, to);
  }

  stop() {
    this.#asked++;
    this.#audio?.pause();
    this.#node?.stop();
    this.#audio = this.#node = null;
  }

  /** Segments one after another, as the server joins them. */
  async #playHere(segments, from, to) {
    this.#context ??= new AudioContext();
    const asked = this.#asked;
    await this.#context.resume();
    let at = 0;
    for (const segment of segments) {
      const sound = await this.#context.decodeAudioData(await segment.arrayBuffer()).catch(() => null);
      // Decoding takes a while; meanwhile he may have gone on, or begun to record.
      if (asked !== this.#asked) return true;
      if (!sound) continue;
      if (from < at + sound.duration) {
        this.#node = this.#context.createBufferSource();
        this.#node.buffer = sound;
        this.#node.connect(this.#context.destination);
        this.#node.start(0, Math.max(0, from - at), to - from);
        this.#done(this.#node, "ended");
        return true;
      }
      at += sound.duration;
    }
    return false;
  }

  async #playThere(dictation, from, to) {
    const audio = new Audio(`/api/v1/recordings/${dictation}/sound#t=${from.toFixed(2)},${to.toFixed(2)}`);
    this.#audio = audio;
    // The end of a media fragment is not obeyed everywhere.
    audio.addEventListener("timeupdate", () => audio.currentTime >= to && audio.pause());
    this.#done(audio, "pause");
    try {
      await audio.play();
      return true;
    } catch {
      this.dispatchEvent(new Event("end"));
      return false;
    }
  }

  #done(what, event) {
    what.addEventListener(event, () => this.dispatchEvent(new Event("end")), { once: true });
  }
}
