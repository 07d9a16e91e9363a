/** The words as heard: doubtful ones underlined, those behind an item marked, the one being played lit. */

import { fill, h } from "../dom.js";
import { pieces } from "./ticket.js";

const DOUBTFUL = 0.55;

/** @param {any} ticket @param {any[]} items as `allItems` gives them @param {{play: (dictation: string, second: number) => void,
 *   choose: (dictation: string, index: number) => void, join: (dictation: string, before: string) => void,
 *   part: (dictation: string, before: string) => void}} act @param {HTMLElement} place @param {boolean} mayEdit */
export function showTranscript(place, ticket, items, act, mayEdit) {
  const named = titles(ticket.dictations);
  fill(
    place,
    ticket.dictations.length ? null : h("p", { class: "quiet" }, "Nothing was dictated or typed."),
    ticket.dictations.map((/** @type {any} */ d) => dictation(d, named, items, act, mayEdit)),
  );
}

const isSpoken = (/** @type {any} */ d) => d.words.some((/** @type {any} */ w) => w.start !== null);

/** What each is called, and which of its kind stands before it. @param {any[]} dictations */
function titles(dictations) {
  /** @type {Map<string, {title: string, before: string | null}>} */
  const out = new Map();
  const last = new Map();
  const count = new Map();
  for (const d of dictations) {
    const kind = isSpoken(d) ? "Dictation" : "Typed note";
    count.set(kind, (count.get(kind) ?? 0) + 1);
    out.set(d.id, { title: `${kind} ${count.get(kind)}`, before: last.get(kind) ?? null });
    last.set(kind, d.id);
  }
  return out;
}

/** @param {any} d @param {Map<string, {title: string, before: string | null}>} named @param {any[]} items
 *  @param {any} act @param {boolean} mayEdit */
function dictation(d, named, items, act, mayEdit) {
  const said = isSpoken(d);
  const { title, before } = /** @type {{title: string, before: string | null}} */ (named.get(d.id));
  const marks = spans(d, items);
  let at = 0;
  const words = d.words.map((/** @type {any} */ w, /** @type {number} */ i) => {
    const from = at;
    at += w.text.length + 1;
    const mark = marks.find((m) => from < m.to && from + w.text.length > m.from);
    const names = ["w", mark ? "read" : "", mark?.check ? "check" : "", w.p !== null && w.p < DOUBTFUL ? "doubtful" : ""];
    return [
      h("span", {
        class: names.filter(Boolean).join(" "), "data-i": i, "data-start": w.start, "data-end": w.end,
        "data-item": mark?.id, title: w.p !== null && w.p < DOUBTFUL ? `heard with ${Math.round(w.p * 100)} % certainty` : null,
      }, w.text), " ",
    ];
  });
  return h(
    "section", { class: d.continues ? "dictation joined" : "dictation", "data-dictation": d.id, "aria-label": title },
    h("header", {},
      h("h3", {}, title),
      h("span", { class: "quiet" }, said && d.duration_s ? clock(d.duration_s) : ""),
      said ? h("button", { type: "button", class: "small", "data-key": `play-${d.id}`, "aria-label": `Play ${title}`, onclick: () => act.play(d.id, 0) }, "Play") : null),
    d.continues ? h("p", { class: "quiet" }, `Goes on from ${named.get(d.continues)?.title ?? "another"}: the two are read as one.`) : null,
    mayEdit && (d.continues || before)
      ? h("div", { class: "buttons" }, d.continues
          ? h("button", { type: "button", class: "small", "data-key": `part-${d.id}`, onclick: () => act.part(d.id, d.continues) }, "Read apart again")
          : h("button", { type: "button", class: "small", "data-key": `join-${d.id}`, onclick: () => act.join(d.id, before) }, `Goes on from ${named.get(/** @type {string} */ (before))?.title}? Join`))
      : null,
    (d.warnings ?? []).map((/** @type {string} */ w) => h("p", { class: "problem" }, w)),
    h("p", { class: "words", onclick: (/** @type {any} */ e) => {
      const word = e.target.closest?.(".w");
      if (word) act.choose(d.id, Number(word.dataset.i));
    } }, words));
}

/** @param {any} d @param {any[]} items */
function spans(d, items) {
  return items
    .filter(({ item }) => item.heard)
    .flatMap(({ item }) => pieces(item.heard).map((piece) => ({ ...piece, id: item.id, check: item.check })))
    .filter((piece) => piece.dictation === d.id && piece.to > piece.from);
}

/** Light the word at this second. @param {HTMLElement} place @param {string | null} dictation @param {number} second */
export function light(place, dictation, second) {
  const lit = place.querySelector(".w.lit");
  const section = dictation === null ? null : place.querySelector(`[data-dictation="${CSS.escape(dictation)}"]`);
  const now = section && [...section.querySelectorAll(".w")].findLast((w) => Number(/** @type {any} */ (w).dataset.start) <= second && /** @type {any} */ (w).dataset.start);
  if (now === lit) return;
  lit?.classList.remove("lit");
  now?.classList.add("lit");
  now?.scrollIntoView({ block: "nearest" });
}

/** Mark the words behind one item. @param {HTMLElement} place @param {string | null} id */
export function showChosen(place, id) {
  for (const w of place.querySelectorAll(".w.chosen")) w.classList.remove("chosen");
  if (id) for (const w of place.querySelectorAll(`.w[data-item="${CSS.escape(id)}"]`)) w.classList.add("chosen");
}

/** @param {number} seconds */
export const clock = (seconds) => `${Math.floor(seconds / 60)}:${String(Math.floor(seconds % 60)).padStart(2, "0")}`;
