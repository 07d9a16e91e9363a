// The service worker and new versions. A new version waits until nothing is being recorded and nothing is unsent;
// then it is offered, taken on a tap, and the page loads again when the new worker is in control.

const OPTIONS = { type: "module", updateViaCache: "none" };
const INSTALL_AGAIN_MS = 10_000;

export class Update extends EventTarget {
  /** Why a waiting version is held back: null, "recording" or "unsent". */
  held = null;
  available = false;

  #registration = null;
  #asked = false;
  #mayChange;

  /** `mayChange()` resolves with null, "recording" or "unsent". */
  constructor(mayChange) {
    super();
    this.#mayChange = mayChange;
  }

  async start() {
    if (!navigator.serviceWorker) return;
    try {
      this.#registration = await navigator.serviceWorker.register("sw.js", OPTIONS);
    } catch (error) {
      console.warn("The app will not open without a network in this browser:", error.message);
      return;
    }
    this.#again(this.#registration.installing);
    navigator.serviceWorker.addEventListener("controllerchange", () => this.#asked && location.reload());
    this.#registration.addEventListener("updatefound", () => {
      this.#registration.installing?.addEventListener("statechange", () => this.look());
    });
    this.look();
    document.addEventListener("visibilitychange", () => {
      if (document.visibilityState === "visible") this.#registration.update().catch(() => {});
    });
  }

  /** A first installation that a weak line broke is tried again: until it succeeds the app needs the network. */
  #again(worker) {
    worker?.addEventListener("statechange", () => {
      if (worker.state !== "redundant" || this.#registration.active) return;
      setTimeout(async () => {
        this.#registration = await navigator.serviceWorker.register("sw.js", OPTIONS).catch(() => this.#registration);
        this.#again(this.#registration.installing);
      }, INSTALL_AGAIN_MS);
    });
  }

  async look() {
    this.available = Boolean(this.#registration?.waiting && navigator.serviceWorker.controller);
    this.held = this.available ? await this.#mayChange() : null;
    this.dispatchEvent(new Event("change"));
  }

  /** Take the new version now, unless something came up since it was offered. */
  async take() {
    await this.look();
    if (!this.available || this.held) return false;
    this.#asked = true;
    this.#registration.waiting.postMessage("take-over");
    return true;
  }

  /** Let the browser send when the network comes back even with the app closed, where it can. */
  async askForBackgroundSync() {
    await this.#registration?.sync?.register("outbox").catch(() => {});
  }
}
