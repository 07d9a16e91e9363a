/** Everything heard from a word on goes to another machine: the dialog that asks which, from where, and how much. */

import { h } from "../dom.js";
import { allItems, machineName } from "./ticket.js";

const byId = (/** @type {string} */ id) => /** @type {HTMLElement} */ (document.getElementById(id));

/** The dictations read as one with this one, in order. @param {any[]} dictations @param {string} id @returns {string[]} */
function together(dictations, id) {
  const chain = [id];
  for (let d = dictations.find((x) => x.id === id); d?.continues; d = dictations.find((x) => x.id === chain[0])) chain.unshift(d.continues);
  for (const d of dictations) if (d.continues && chain.includes(d.continues) && !chain.includes(d.id)) chain.push(d.id);
  return chain;
}

/**
 * @param {any} ticket @param {string} dictation @param {number} index of the word @param {(string | null)[]} tags
 * @param {{play: (dictation: string, second: number) => void, move: (edits: any[], to: string) => void}} act
 */
export function openDivide(ticket, dictation, index, tags, act) {
  const d = ticket.dictations.find((/** @type {any} */ x) => x.id === dictation);
  const chain = together(ticket.dictations, dictation);
  const items = allItems(ticket).filter(({ item }) => chain.includes(item.heard?.dictation));
  let from = 0;
  const at = (/** @type {number} */ n) => {
    index = Math.min(d.words.length - 1, Math.max(0, n));
    from = d.words.slice(0, index).reduce((/** @type {number} */ sum, /** @type {any} */ w) => sum + w.text.length + 1, 0);
  };
  at(index);
  const behind = (/** @type {any} */ heard) =>
    heard.dictation === dictation ? heard.from >= from : chain.indexOf(heard.dictation) > chain.indexOf(dictation);

  const dialog = /** @type {HTMLDialogElement} */ (byId("divide"));
  const upTo = /** @type {HTMLSelectElement} */ (byId("divide-to"));
  const select = /** @type {HTMLSelectElement} */ (byId("divide-machine"));
  const affected = () => items.filter(({ item }) => upTo.value === "whole" || behind(item.heard));
  // The machine it is at already is the last one that anybody wants here.
  const now = affected()[0]?.tag ?? null;
  select.replaceChildren(...[...tags.filter((t) => t !== now), now].map((t) => h("option", { value: t ?? "" }, machineName(t))));
  const count = () => {
    byId("divide-what").textContent = `${affected().length} items, from “${d.words.slice(index, index + 5).map((/** @type {any} */ w) => w.text).join(" ")} …”`;
  };
  upTo.onchange = count;
  for (const [name, by] of /** @type {[string, number][]} */ ([["divide-earlier", -1], ["divide-later", 1]]))
    byId(name).onclick = () => {
      at(index + by);
      count();
    };
  count();
  byId("divide-play").onclick = () => act.play(dictation, d.words[index].start ?? 0);
  byId("divide-play").hidden = d.words[index].start === null;
  byId("divide-go").onclick = () => {
    const to = select.value || null;
    const edits = affected().filter((x) => x.tag !== to).map(({ kind, item, tag }) => ({ op: "move", kind, item: item.id, field: "tag", before: tag, after: to }));
    dialog.close();
    act.move(edits, machineName(to));
  };
  dialog.showModal();
}
