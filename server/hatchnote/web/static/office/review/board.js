/** The middle of the page: what to check first, then each machine with its items, sums and gaps. */

import { fill, h } from "../dom.js";
import { alternativeText, checks, itemName, itemValue, machineName, others, plain, valueText } from "./ticket.js";

const HEADINGS = { reading: "Readings", work: "Work", part: "Parts", finding: "Found" };
const LISTS = { reading: "readings", work: "work", part: "parts", finding: "findings" };

/**
 * @param {HTMLElement} place @param {any} ticket @param {{chosen: string | null, mayEdit: boolean, changed: Set<string>, units: any[]}} state
 * @param {Record<string, (...args: any[]) => void>} act
 */
export function showBoard(place, ticket, state, act) {
  const open = checks(ticket);
  fill(place,
    h("section", { class: "checks", "aria-labelledby": "checks-title" },
      h("h2", { id: "checks-title" }, open.length ? `To check (${open.length})` : "Nothing left to check"),
      open.length ? h("ol", {}, open.map((x) => check(x, state, act))) : null),
    ticket.equipment.map((/** @type {any} */ m) => machine(m, state, act)));
}

/** @param {any} x @param {any} state @param {any} act */
function check({ kind, tag, item }, state, act) {
  const chosen = state.chosen === item.id;
  return h("li", { class: chosen ? "card chosen" : "card", "data-check": item.id, "aria-current": chosen ? "true" : null },
    h("div", { class: "line" },
      h("span", { class: "tag" }, machineName(tag)),
      h("span", { class: "name" }, itemName(kind, item)),
      h("strong", { class: "value" }, itemValue(kind, item))),
    item.said ? h("p", { class: "heard" }, "Heard: ", h("q", {}, item.said)) : null,
    h("p", { class: "why" }, item.check.why),
    h("div", { class: "buttons" },
      item.heard.start !== null ? button("Play", "p", `cp-${item.id}`, () => act.play(item)) : null,
      state.mayEdit
        ? [
            button(`Keep ${itemValue(kind, item) || "it"}`, "a", `ca-${item.id}`, () => act.accept(kind, item), "primary"),
            others(item).map((/** @type {any} */ alt, /** @type {number} */ n) =>
              button(alternativeText(item, alt, state.units), String(n + 1), `c${n}-${item.id}`, () => act.pick(kind, item, alt))),
            button("Change", "e", `ce-${item.id}`, () => act.change(kind, item)),
          ]
        : null));
}

/** @param {string} text @param {string | null} key @param {string} dataKey @param {() => void} run @param {string} [cls] */
function button(text, key, dataKey, run, cls) {
  return h("button", { type: "button", class: cls, "data-key": dataKey, onclick: run }, text, key ? h("kbd", { "aria-hidden": "true" }, key) : null);
}

/** @param {any} m @param {any} state @param {any} act */
function machine(m, state, act) {
  const name = machineName(m.tag);
  const sections = Object.entries(LISTS).map(([kind, list]) =>
    m[list].length || state.mayEdit
      ? h("section", { class: "items" },
          h("h3", {}, HEADINGS[kind], state.mayEdit
            ? h("button", { type: "button", class: "small", "data-key": `add-${kind}-${m.tag}`, "aria-label": `Add to ${HEADINGS[kind]} of ${name}`, onclick: () => act.add(kind, m.tag) }, "Add")
            : null),
          m[list].length ? h("ul", {}, m[list].map((/** @type {any} */ item) => row(kind, item, state, act))) : null)
      : null);
  return h("article", { class: "machine", "data-tag": m.tag ?? "", "aria-label": name },
    h("header", {}, h("h2", {}, name), h("p", { class: "summary" }, m.summary)),
    sections,
    m.computed.length ? h("section", { class: "items computed" }, h("h3", {}, "Worked out"), h("ul", {}, m.computed.map(computed))) : null,
    m.missing.length ? h("section", { class: "items missing" }, h("h3", {}, "Missing"), h("ul", {}, m.missing.map((/** @type {any} */ x) => h("li", {}, h("strong", {}, x.what), ` ${x.why}`)))) : null,
    m.cautions.length ? h("ul", { class: "cautions", "aria-label": `Cautions for ${name}` }, m.cautions.map((/** @type {any} */ c) => h("li", { class: c.kind }, c.text, c.source ? h("cite", {}, c.source) : null))) : null);
}

/** @param {string} kind @param {any} item @param {any} state @param {any} act */
function row(kind, item, state, act) {
  const named = `${itemName(kind, item)} ${itemValue(kind, item)}`;
  const classes = ["row", item.check ? "check" : "", state.chosen === item.id ? "chosen" : "", state.changed.has(item.id) ? "unsent" : ""];
  return h("li", { class: classes.filter(Boolean).join(" "), "data-item": item.id },
    h("button", { type: "button", class: "play small", "data-key": `p-${item.id}`, disabled: item.heard.start === null, "aria-label": `Play ${named}`, onclick: () => act.play(item) }, "▶"),
    h("span", { class: "name" }, itemName(kind, item), notes(kind, item)),
    h("span", { class: "value" }, itemValue(kind, item)),
    state.mayEdit
      ? h("span", { class: "tools" },
          h("button", { type: "button", class: "small", "data-key": `e-${item.id}`, "aria-label": `Change ${named}`, onclick: () => act.change(kind, item) }, "Change"),
          h("button", { type: "button", class: "small", "data-key": `r-${item.id}`, "aria-label": `Remove ${named}`, onclick: () => act.remove(kind, item) }, "Remove"))
      : null);
}

/** @param {string} kind @param {any} item */
function notes(kind, item) {
  const parts = [item.moment && plain(item.moment), item.detail, kind === "part" && item.description !== plain(item.component) ? item.description : null, item.size];
  if (item.rule === "added by hand") parts.push("added by hand");
  const text = parts.filter(Boolean).join(" · ");
  return [text ? h("small", {}, text) : null, item.check ? h("small", { class: "flag" }, "check") : null];
}

/** @param {any} c */
function computed(c) {
  const judged = { within: "within", outside: "outside", unknown: "" }[c.judgement];
  return h("li", { class: `row ${c.judgement}${c.depends_on_check ? " check" : ""}` },
    h("span", { class: "name" }, c.name, h("small", {}, `${c.formula}. ${c.source}`)),
    h("span", { class: "value" }, c.value === null ? "not known" : valueText(c),
      judged ? h("small", {}, `${judged} ${c.expected ?? "what is expected"}`) : null,
      c.depends_on_check ? h("small", { class: "flag" }, "rests on a check") : null));
}
