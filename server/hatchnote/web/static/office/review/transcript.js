/** The words as heard: doubtful ones underlined, those behind an item marked, the one being played lit. */

import { fill, h } from "../dom.js";

const DOUBTFUL = 0.55;

/** @param {any} ticket @param {any[]} items as `allItems` gives them @param {{play: (dictation: string, second: number) => void,
 *   choose: (dictation: string, index: number) => void}} act @param {HTMLElement} place */
export function showTranscript(place, ticket, items, act) {
  fill(
    place,
    ticket.dictations.length ? null : h("p", { class: "quiet" }, "Nothing was dictated or typed."),
    ticket.dictations.map((/** @type {any} */ d, /** @type {number} */ n) => dictation(d, n, items, act)),
  );
}

/** @param {any} d @param {number} n @param {any[]} items @param {any} act */
function dictation(d, n, items, act) {
  const said = d.words.some((/** @type {any} */ w) => w.start !== null);
  const title = said ? `Dictation ${n + 1}` : `Typed note ${n + 1}`;
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
    "section", { class: "dictation", "data-dictation": d.id, "aria-label": title },
    h("header", {},
      h("h3", {}, title),
      h("span", { class: "quiet" }, said && d.duration_s ? clock(d.duration_s) : ""),
      said ? h("button", { type: "button", class: "small", "data-key": `play-${d.id}`, onclick: () => act.play(d.id, 0) }, "Play") : null),
    (d.warnings ?? []).map((/** @type {string} */ w) => h("p", { class: "problem" }, w)),
    h("p", { class: "words", onclick: (/** @type {any} */ e) => {
      const word = e.target.closest?.(".w");
      if (word) act.choose(d.id, Number(word.dataset.i));
    } }, words));
}

/** @param {any} d @param {any[]} items */
function spans(d, items) {
  return items
    .filter(({ item }) => item.heard && item.heard.dictation === d.id && item.heard.to > item.heard.from)
    .map(({ item }) => ({ from: item.heard.from, to: item.heard.to, id: item.id, check: item.check }));
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
