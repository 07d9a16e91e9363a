// Keeps the screen on while recording. A lock is gone whenever the page hides, so it is asked for again.

export class Wake extends EventTarget {
  #lock = null;
  #wanted = false;
  #again = () => document.visibilityState === "visible" && this.#ask();

  /** True when the browser keeps the screen on; false means the person has to. */
  async on() {
    this.#wanted = true;
    document.addEventListener("visibilitychange", this.#again);
    return this.#ask();
  }

  async off() {
    this.#wanted = false;
    document.removeEventListener("visibilitychange", this.#again);
    await this.#lock?.release().catch(() => {});
    this.#lock = null;
  }

  async #ask() {
    if (!this.#wanted) return false;
    try {
      this.#lock = await navigator.wakeLock.request("screen");
      return true;
    } catch {
      // Refused at low battery, or unknown to the browser: the recorder's view says "keep the screen on".
      return false;
    }
  }
}
