/** The worklist by keyboard: the rows are links, so all this adds is moving between them. */

import { bind } from "./keys.js";

const links = () => /** @type {HTMLAnchorElement[]} */ ([...document.querySelectorAll("#rows a.open")]);

/** @param {number} step */
function move(step) {
  const all = links();
  const at = all.indexOf(/** @type {any} */ (document.activeElement));
  all[Math.min(all.length - 1, Math.max(0, at + step))]?.focus();
}

bind("j", "Next ticket", () => move(1));
bind("ArrowDown", "Next ticket", () => move(1));
bind("k", "Previous ticket", () => move(-1));
bind("ArrowUp", "Previous ticket", () => move(-1));
bind("/", "Search", () => document.getElementById("q")?.focus());
bind("o", "Open the first ticket", () => links()[0]?.click());
bind("]", "Next page", () => /** @type {HTMLElement|null} */ (document.querySelector("a[rel=next]"))?.click());

document.getElementById("q")?.addEventListener("keydown", (event) => {
  if (event.key === "Escape" || event.key === "ArrowDown") {
    event.preventDefault();
    links()[0]?.focus();
  }
});
