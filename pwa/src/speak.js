// Reading aloud with the browser's own voices. One sentence an utterance, since long ones stall on some phones;
// never while recording. The voices may arrive late, and the first word needs a tap before it. Events: "change",
// "no-voice" (a voice was asked and none began).

/** A phone without any voice tells nothing at all. */
const NO_VOICE_MS = 10_000;

export class Speaker extends EventTarget {
  #queue = [];
  #lang;
  #current = null; // kept, since some browsers forget an utterance that nobody holds, and its end with it

  constructor(lang = "en-US") {
    super();
    this.#lang = lang;
  }

  get available() {
    return "speechSynthesis" in globalThis;
  }

  get speaking() {
    return this.#queue.length > 0;
  }

  /** Say sentences in order, in place of what is being said. */
  say(sentences) {
    if (!this.available) return;
    this.stop();
    this.#queue = [...sentences];
    this.#next();
    this.dispatchEvent(new Event("change"));
  }

  stop() {
    this.#queue = [];
    this.#current = null;
    if (this.available) speechSynthesis.cancel();
    this.dispatchEvent(new Event("change"));
  }

  #next() {
    const text = this.#queue[0];
    if (!text) {
      this.dispatchEvent(new Event("change"));
      return;
    }
    const utterance = new SpeechSynthesisUtterance(text);
    utterance.lang = this.#lang;
    const voice = pick(speechSynthesis.getVoices(), this.#lang);
    if (voice) utterance.voice = voice;
    this.#current = utterance;
    let begun = false;
    utterance.addEventListener("start", () => (begun = true));
    const go = () => {
      // One that was cancelled says so late, when the next may be under way.
      if (this.#current !== utterance) return;
      this.#queue.shift();
      this.#next();
    };
    utterance.addEventListener("end", go, { once: true });
    const none = () => {
      if (begun || this.#current !== utterance) return;
      this.stop();
      this.dispatchEvent(new Event("no-voice"));
    };
    utterance.addEventListener("error", () => (begun ? go() : none()), { once: true });
    speechSynthesis.speak(utterance);
    setTimeout(none, NO_VOICE_MS);
  }
}

/** A voice that works without a network, of the language, where there is one. */
export function pick(voices, lang) {
  const fitting = voices.filter((v) => v.lang.replace("_", "-").startsWith(lang.slice(0, 2)));
  return fitting.find((v) => v.localService && v.lang.replace("_", "-") === lang) ?? fitting.find((v) => v.localService) ?? fitting[0] ?? null;
}
