/** The list of corrections, and the way from one of them to a word of the company's own. */

import "./keys.js";
import { call } from "./api.js";
import { fill, h, say } from "./dom.js";

const byId = (/** @type {string} */ id) => /** @type {HTMLElement} */ (document.getElementById(id));
const dialog = /** @type {HTMLDialogElement} */ (byId("add"));
const said = /** @type {HTMLInputElement} */ (byId("add-said"));
const kind = /** @type {HTMLSelectElement} */ (byId("add-kind"));
const slug = /** @type {HTMLSelectElement} */ (byId("add-slug"));
/** @type {any} */
let words = null;

const shown = (/** @type {any} */ v) => (v === null || v === "" ? "nothing" : String(v).replaceAll("-", " "));

async function list() {
  const { corrections } = await call("GET", "/corrections");
  fill(byId("corrections"), corrections.length
    ? corrections.map((/** @type {any} */ c) =>
        h("tr", {},
          h("td", {}, h("q", {}, c.heard || "nothing"), h("br"), h("small", {}, `read as ${shown(c.before)}`)),
          h("td", {}, h("strong", {}, shown(c.meant)), h("br"), h("small", {}, h("a", { href: `/office/tickets/${c.ticket}` }, `${c.item} ${c.field}`))),
          h("td", { class: "n" }, c.times),
          h("td", {}, c.vocabulary ? h("button", { type: "button", class: "small", "aria-label": `Add ${c.heard} as ${c.meant}`, onclick: () => open(c) }, "Add…") : null)))
    : h("tr", {}, h("td", { colspan: 4, class: "quiet" }, "Nothing was corrected yet.")));
}

/** @param {any} c */
function open(c) {
  said.value = c.heard.toLowerCase().replace(/[^a-z0-9'&/ .-]/g, "").trim();
  kind.value = c.vocabulary;
  offer(c.meant);
  fill(byId("preview"));
  dialog.showModal();
}

/** @param {string} [chosen] */
function offer(chosen) {
  const list = kind.value === "points" ? words.points.map((/** @type {any} */ p) => p.slug) : words[kind.value];
  fill(slug, list.map((/** @type {string} */ s) => h("option", { value: s, selected: s === chosen }, s.replaceAll("-", " "))));
}

const entry = () => ({ kind: kind.value, slug: slug.value, said: said.value.trim() });
kind.addEventListener("change", () => offer());
for (const b of dialog.querySelectorAll("[data-close]")) b.addEventListener("click", () => dialog.close());

byId("do-preview").addEventListener("click", async () => {
  try {
    const { looked_at, tickets } = await call("POST", "/vocabulary/preview", entry());
    fill(byId("preview"),
      h("p", {}, `${tickets.length} of ${looked_at} past tickets with these words would have read differently.`),
      h("ul", {}, tickets.map((/** @type {any} */ t) =>
        h("li", {}, h("a", { href: `/office/tickets/${t.id}` }, `${t.site}, ${t.date}`),
          t.before.map((/** @type {string} */ x) => h("div", {}, h("del", {}, x))), t.after.map((/** @type {string} */ x) => h("div", {}, h("ins", {}, x)))))));
  } catch (error) {
    fill(byId("preview"), h("p", { class: "problem" }, /** @type {Error} */ (error).message));
  }
});

byId("add-form").addEventListener("submit", async (event) => {
  event.preventDefault();
  try {
    const { added } = await call("POST", "/vocabulary/entries", entry());
    dialog.close();
    say(added ? "Added. The next dictation is read with it." : "That was among our words already.");
  } catch (error) {
    fill(byId("preview"), h("p", { class: "problem" }, /** @type {Error} */ (error).message));
  }
});

try {
  words = await (await fetch("/office/words.json")).json();
  await list();
} catch (error) {
  say(/** @type {Error} */ (error).message, "problem");
}
