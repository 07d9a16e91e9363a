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
    await this.#register();
    navigator.serviceWorker.addEventListener("controllerchange", () => this.#asked && location.reload());
    document.addEventListener("visibilitychange", () => {
      if (document.visibilityState === "visible") this.#registration?.update().catch(() => {});
    });
  }

  /** A first installation that a weak line broke is tried again: until it succeeds the app needs the network. */
  async #register() {
    try {
      this.#registration = await navigator.serviceWorker.register("sw.js", OPTIONS);
    } catch (error) {
      console.warn("The app will not open without a network until its service worker is installed:", error.message);
      if (error.name !== "SecurityError") setTimeout(() => this.#register(), INSTALL_AGAIN_MS); // else: forbidden, not unreachable
      return;
    }
    const first = this.#registration.installing;
    first?.addEventListener("statechange", () => {
      if (first.state === "redundant" && !this.#registration.active) setTimeout(() => this.#register(), INSTALL_AGAIN_MS);
    });
    this.#registration.onupdatefound = () => {
      this.#registration.installing?.addEventListener("statechange", () => this.look());
    };
    this.look();
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
