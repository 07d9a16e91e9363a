// Keeps the screen on while recording. A lock is gone whenever the page hides, so it is asked for again.

export class Wake {
  /** True while the browser keeps the screen on; false means the person has to. */
  held = false;

  #lock = null;
  #wanted = false;
  #again = () => document.visibilityState === "visible" && this.#ask();

  on() {
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
    try {
      const lock = await navigator.wakeLock.request("screen");
      if (!this.#wanted) return await lock.release();
      this.#lock = lock;
      this.held = true;
      // Low battery takes it away too, with the page in view.
      lock.addEventListener("release", () => (this.held = this.#lock !== lock && this.held));
    } catch {
      // Refused at low battery, or unknown to the browser: the recorder's view says "keep the screen on".
      this.held = false;
    }
  }
}
