/** Somebody else changed the same field first: both versions, side by side, and the person decides. */

import { fill, h } from "../dom.js";
import { findItem, itemName, number, plain } from "./ticket.js";

/** @param {HTMLElement} place @param {any[]} conflicts @param {any} ticket @param {(conflict: any, mine: boolean) => void} settle */
export function showConflicts(place, conflicts, ticket, settle) {
  place.hidden = !conflicts.length;
  fill(place, conflicts.length ? [
    h("h2", {}, conflicts.length === 1 ? "Somebody else changed the same thing" : `Somebody else changed the same things (${conflicts.length})`),
    h("p", {}, "Nothing was overwritten. Choose which version stands."),
    h("ul", {}, conflicts.map((c, n) => one(c, n, ticket, settle))),
  ] : []);
}

/** @param {any} c @param {number} n @param {any} ticket @param {any} settle */
function one(c, n, ticket, settle) {
  const found = c.item ? findItem(ticket, c.item) : null;
  const name = found ? itemName(found.kind, found.item) : "An item that is gone";
  const mine = c.mine?.op === "accept" ? "looks right" : shown(c.yours);
  const theirs = c.gone ? "removed" : shown(c.theirs);
  return h("li", {},
    h("p", {}, h("strong", {}, name), c.field ? `, ${plain(c.field)}` : ""),
    h("dl", { class: "versions" },
      h("div", {}, h("dt", {}, c.who ? `${c.who}'s version` : "Their version"), h("dd", { class: "theirs" }, theirs)),
      h("div", {}, h("dt", {}, "Your version"), h("dd", { class: "mine" }, mine)),
      h("div", {}, h("dt", {}, "Before both"), h("dd", {}, shown(c.before)))),
    h("div", { class: "buttons" },
      h("button", { type: "button", class: "primary", "data-key": `theirs-${n}`, onclick: () => settle(c, false) }, "Keep theirs"),
      c.gone ? null : h("button", { type: "button", "data-key": `mine-${n}`, onclick: () => settle(c, true) }, "Use mine")));
}

/** @param {any} v */
function shown(v) {
  if (v === null || v === undefined || v === "") return "nothing";
  if (typeof v === "number") return number(v);
  return typeof v === "object" ? JSON.stringify(v) : String(v);
}
