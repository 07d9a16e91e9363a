// Which page is shown: the address after "#". A page is {title, back, body(), dock(), enter(), leave(), events}.
import { h, icon, repaint, repaintIfNew } from "./dom.js";
import { counts } from "./outbox-rows.js";
import { phone } from "./views/phone.js";
import { machine } from "./views/machine.js";
import { pair } from "./views/pair.js";
import { recording } from "./views/recording.js";
import { sending } from "./views/sending.js";
import { signin } from "./views/signin.js";
import { visit } from "./views/visit.js";
import { visits } from "./views/visits.js";

/** Part of the screen's height that the two strips may take. */
const MOST_TAKEN = 0.6;
const LONGEST_PRESS_MS = 2000;
const PAGES = [
  [/^$/, visits],
  [/^visit\/([^/]+)$/, visit],
  [/^visit\/([^/]+)\/recording$/, recording],
  [/^visit\/([^/]+)\/machine\/([^/]*)$/, machine],
  [/^sending$/, sending],
  [/^phone$/, phone],
  [/^signin$/, signin],
  [/^pair(?:[=/]([^/]+))?$/, pair],
];

export class Router {
  #app;
  #page = null;
  #stop = [];
  #queued = false;
  #down = -Infinity;
  #later = false;

  constructor(app) {
    this.#app = app;
  }

  async start() {
    addEventListener("hashchange", () => this.#show());
    this.#watchFinger();
    const watch = new ResizeObserver(() => this.#fit());
    for (const id of ["top", "dock"]) watch.observe(document.getElementById(id));
    addEventListener("resize", () => this.#fit());
    const { outbox, tickets, update, recorder, speaker } = this.#app;
    // A page with a form under the fingers ("still") is not painted anew because something arrived.
    const news = () => (this.#page?.still ? this.bar() : this.repaint());
    for (const source of [outbox, tickets, update, recorder, speaker]) source.addEventListener("change", news);
    await this.#show();
  }

  go(path) {
    const hash = `#/${path}`;
    if (location.hash === hash) this.#show();
    else location.hash = hash;
  }

  signedOut() {
    const here = location.hash.replace(/^#\/?/, "");
    if (this.#later) this.bar();
    else if (!/^(signin|pair)/.test(here) && !this.#app.recorder.busy) this.go("signin");
  }

  /** "Not now": he goes on recording; the strip at the top says that nothing is sent meanwhile. */
  signInLater() {
    this.#later = true;
    this.#app.api.addEventListener("me", () => (this.#later = false), { once: true });
    this.go("");
  }

  async #show() {
    // While recording there is one page: the others would hide that the microphone is open.
    const { recorder } = this.#app;
    if (recorder.busy && recorder.recording && !location.hash.endsWith("/recording")) {
      history.replaceState(null, "", `#/visit/${recorder.recording.visit}/recording`);
    }
    const path = location.hash.replace(/^#\/?/, "");
    const found = PAGES.map(([pattern, page]) => [path.match(pattern), page]).find(([m]) => m) ?? [[""], visits];
    this.#page?.leave?.();
    for (const stop of this.#stop.splice(0)) stop();
    const [match, page] = found;
    this.#page = page(this.#app, ...match.slice(1).map((m) => decodeURIComponent(m ?? "")));
    const mine = this.#page;
    await mine.enter?.();
    if (mine !== this.#page) return;
    document.body.dataset.page = mine.name;
    await this.#paint();
    document.querySelector("#bar h1")?.focus({ preventScroll: true });
    scrollTo(0, 0);
  }

  /**
   * Repaint soon; several reasons in one frame make one repaint. Never between a finger's going down and its coming
   * up: the button under it would be replaced, and the tap lost.
   */
  repaint() {
    if (this.#queued) return;
    this.#queued = true;
    setTimeout(async () => {
      this.#queued = false;
      if (this.#pressed) this.repaint();
      else await this.#paint();
    }, 60);
  }

  #watchFinger() {
    addEventListener("pointerdown", () => (this.#down = performance.now()), true);
    const up = () => setTimeout(() => (this.#down = -Infinity));
    for (const end of ["pointerup", "pointercancel"]) addEventListener(end, up, true);
  }

  /** Some browsers forget to tell that a finger went up; after a while it is taken for granted. */
  get #pressed() {
    return performance.now() - this.#down < LONGEST_PRESS_MS;
  }

  async #paint() {
    const page = this.#page;
    if (!page) return;
    const [body, dock] = [await page.body(), await page.dock?.()];
    if (page !== this.#page) return;
    if (this.#pressed) return this.repaint();
    repaint(document.getElementById("main"), body);
    repaintIfNew(document.getElementById("dock"), dock ?? []);
    document.getElementById("dock").hidden = !dock?.length;
    await this.bar();
  }

  /** When the strips at head and foot leave too little between them, they scroll with the page. */
  #fit() {
    const taken = ["top", "dock"].reduce((sum, id) => sum + document.getElementById(id).offsetHeight, 0);
    document.documentElement.toggleAttribute("data-tight", taken > innerHeight * MOST_TAKEN);
  }

  /** The strip at the top: back, title, and what of the work has not reached the server yet. */
  async bar() {
    const page = this.#page;
    if (!page || this.#pressed) return;
    const title = await page.title();
    document.title = `${title} · hatchnote`;
    const { waiting, sending, failed } = counts(await this.#app.outbox.rows());
    const open = waiting + sending;
    const out = this.#app.outbox.paused;
    const [picture, word, kind] = out
      ? ["warn", "Signed out", "bad"]
      : failed
      ? ["warn", `${failed} not sent`, "bad"]
      : open
        ? [this.#app.reached === false ? "offline" : "up", this.#app.reached === false ? `${open} kept here` : `${open} to send`, "wait"]
        : ["done", "All sent", ""];
    const old = document.querySelector("#bar h1");
    const h1 = old ?? h("h1", { tabindex: "-1", "data-key": "title" });
    if (h1.textContent !== title) h1.textContent = title;
    const back = page.back?.();
    const children = [
      back !== undefined && back !== null ? h("a", { class: "button plain", href: `#/${back}`, "aria-label": "Back", "data-key": "back" }, icon("back")) : null,
      h1,
      page.name === "sending"
        ? null
        : h("a", { class: `button state ${kind}`, href: out ? "#/signin" : "#/sending", "data-key": "state", "aria-label": out ? "Signed out: sign in to send" : `${word}: what is sent and what waits` }, icon(picture), h("span", {}, word)),
    ];
    repaint(document.getElementById("bar"), children);
  }
}

