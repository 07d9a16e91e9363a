/** The review page: joins the ticket, its sound, the board, the photos and the keys. */

import { newId } from "../api.js";
import { say } from "../dom.js";
import { bind } from "../keys.js";
import { showBoard } from "./board.js";
import { showConflicts } from "./conflicts.js";
import { openDivide } from "./divide.js";
import { edit as openEditor } from "./editor.js";
import { keptForm } from "./keep.js";
import { showPhotos } from "./photos.js";
import { Player } from "./player.js";
import { steady } from "./steady.js";
import { Sync } from "./sync.js";
import { allItems, alternativeText, asItIs, checks, findItem, itemName, itemValue, others } from "./ticket.js";
import { light, showChosen, showTranscript } from "./transcript.js";

const byId = (/** @type {string} */ id) => /** @type {HTMLElement} */ (document.getElementById(id));
const page = byId("review");
const id = String(page.dataset.ticket);
const office = page.dataset.role !== "technician";
const sync = new Sync(id);
const player = new Player(/** @type {HTMLAudioElement} */ (byId("sound")), (d, s) => light(byId("transcript"), d, s));
/** @type {string | null} */
let chosen = null;
/** @type {any} */
let words = null;
/** Edits of this visit to the page, newest last, so that the last one can be taken back. @type {import("./ticket.js").Edit[][]} */
const undo = [];

const mayEdit = () => ["draft", "returned", "checked"].includes(sync.base.status);
/** Keys and buttons wait for the ticket: what cannot be seen yet cannot be meant. */
const there = () => sync.base !== null && words !== null;
/** @returns {(string | null)[]} */
const tags = () => {
  const named = JSON.parse(page.dataset.machines ?? "[]");
  const there = sync.shown.equipment.map((/** @type {any} */ m) => m.tag).filter(Boolean);
  return [...new Set([...there, ...named]), null];
};

// ---------------------------------------------------------------- what a person does

/** @param {any[]} edits */
function make(...edits) {
  const before = sync.shown;
  const was = edits.map((e) => asItIs(before, e.item));
  undo.push(sync.edit(...edits).map((e, n) => ({ ...e, was: was[n] })));
}

const act = {
  async play(/** @type {any} */ item) {
    choose(item.id);
    try {
      if (!(await player.play(item.heard))) say("There is no sound behind this.");
    } catch {
      say("The sound cannot be played; it may not have arrived yet.", "problem");
    }
  },
  accept(/** @type {string} */ kind, /** @type {any} */ item) {
    const next = following(item.id);
    make({ op: "accept", kind, item: item.id, before: seen(kind, item) });
    say(`Kept: ${itemName(kind, item)} ${itemValue(kind, item)}`);
    choose(next);
  },
  pick(/** @type {string} */ kind, /** @type {any} */ item, /** @type {any} */ alt) {
    const edits = picked(kind, item, alt);
    if (!edits.length) {
      void act.change(kind, item);
      return;
    }
    const next = following(item.id);
    make(...edits);
    say(`Changed to ${alternativeText(item, alt, words.units)}`);
    choose(next);
  },
  async change(/** @type {string} */ kind, /** @type {any} */ item, /** @type {Record<string, string> | undefined} */ restored) {
    player.stop();
    const next = item.check ? following(item.id) : item.id;
    const { tag } = /** @type {any} */ (findItem(sync.shown, item.id));
    const changed = await openEditor({ ticket: id, kind, item, tag, tags: tags(), words, restored });
    if (!changed) return;
    const { tag: to, ...fields } = changed;
    const edits = Object.entries(fields).map(([field, after]) => ({ op: "set", kind, item: item.id, field, before: field === "difference" ? Boolean(item.difference) : (item[field] ?? null), after }));
    if ("tag" in changed) edits.push({ op: "move", kind, item: item.id, field: "tag", before: tag, after: to });
    if (edits.length) make(...edits);
    choose(next);
  },
  async add(/** @type {string} */ kind, /** @type {string | null} */ tag, /** @type {Record<string, string> | undefined} */ restored) {
    const fields = await openEditor({ ticket: id, kind, item: null, tag, tags: tags(), words, restored });
    if (!fields) return;
    const made = newId();
    make({ op: "add", kind, item: made, after: fields });
    choose(made);
  },
  remove(/** @type {string} */ kind, /** @type {any} */ item) {
    const next = item.check ? following(item.id) : null;
    make({ op: "remove", kind, item: item.id, before: seen(kind, item) });
    say(`Removed: ${itemName(kind, item)}. Press u to take that back.`);
    choose(next);
  },
  turn: (/** @type {any} */ p) => photoEdit(p, "rotation", (p.rotation + 90) % 360),
  caption: (/** @type {any} */ p, /** @type {string | null} */ text) => photoEdit(p, "caption", text),
  leaveOut: (/** @type {any} */ p) => photoEdit(p, "left_out", !p.left_out),
  give: (/** @type {any} */ p, /** @type {string | null} */ from, /** @type {string | null} */ to) =>
    make({ op: "move", kind: "photo", item: p.id, field: "tag", before: from, after: to }),
  playAt: (/** @type {any} */ p) => void player.playFrom(p.dictation, Math.max(0, p.at_s - 4)),
};

/** @param {any} p @param {string} field @param {any} after */
const photoEdit = (p, field, after) => make({ op: "set", kind: "photo", item: p.id, field, before: p[field], after });

/** What the person had before their eyes, so that the server can tell when it was something else. */
function seen(/** @type {string} */ kind, /** @type {any} */ item) {
  const names = { reading: ["point", "value", "ucum", "text"], work: ["verb", "component", "state"], part: ["component", "size", "quantity", "use"], finding: ["component", "condition"] }[kind] ?? [];
  return Object.fromEntries(names.map((n) => [n, item[n] ?? null]));
}

/** @param {string} kind @param {any} item @param {any} alt */
function picked(kind, item, alt) {
  const set = (/** @type {string} */ field, /** @type {any} */ after) =>
    (item[field] ?? null) === after ? [] : [{ op: "set", kind, item: item.id, field, before: item[field] ?? null, after }];
  if (kind === "reading") {
    if (alt.value === null) return set("text", alt.text).concat(item.value === null ? [] : set("value", null));
    const unit = words.units.find((/** @type {any} */ u) => u.ucum === alt.ucum)?.unit ?? item.unit;
    const edits = [...set("value", alt.value), ...(alt.ucum && alt.ucum !== item.ucum ? [...set("ucum", alt.ucum), ...set("unit", unit)] : []), ...(item.text ? set("text", null) : [])];
    return edits.length ? edits : [{ op: "accept", kind, item: item.id, before: seen(kind, item) }];
  }
  // An alternative of work, parts and findings is a word: it goes where that word belongs.
  const slug = alt.text.trim().toLowerCase().replaceAll(" ", "-");
  if (words.components.includes(slug)) return set("component", slug);
  if (kind === "work" && words.verbs.includes(slug)) return set("verb", slug);
  if (kind === "work" && ["done", "needed", "recommended", "declined", "not-done"].includes(slug)) return set("state", slug);
  if (kind === "finding" && words.conditions.includes(slug)) return set("condition", slug);
  if (kind === "part") return alt.value === null ? set("size", alt.text) : set("quantity", alt.value);
  return [];
}

/** The check after this one, by what is still open. @param {string} item @returns {string | null} */
function following(item) {
  const open = checks(sync.shown).map((x) => x.item.id);
  const at = open.indexOf(item);
  const rest = open.filter((x) => x !== item);
  return rest.length ? (rest[Math.min(Math.max(at, 0), rest.length - 1)] ?? null) : null;
}

/** @param {string | null} item */
function choose(item) {
  chosen = item;
  draw();
  document.querySelector(".card.chosen, .row.chosen")?.scrollIntoView({ block: "nearest" });
}

/** @param {number} step */
function step(step) {
  const open = checks(sync.shown).map((x) => x.item.id);
  if (!open.length) {
    say("Nothing left to check.");
    return;
  }
  const at = chosen ? open.indexOf(chosen) : -1;
  choose(open[at < 0 ? (step > 0 ? 0 : open.length - 1) : (at + step + open.length) % open.length]);
}

/** @param {(kind: string, item: any) => void} run */
function withChosen(run) {
  const found = chosen ? findItem(sync.shown, chosen) : null;
  if (found) run(found.kind, found.item);
  else say("Choose a check first: press n.");
}

const DID = { set: "a change", add: "what was added", remove: "a removal", move: "a move", accept: "what was kept", join: "the joining", part: "the parting" };

/** Take back the last change: it counts no more, and both stay on record. */
function takeBack() {
  const last = undo.pop();
  if (!last) {
    say("There is nothing to take back.");
    return;
  }
  // The latest first; of several fields of one item the first holds the item as it was before all of them.
  sync.edit(...last.toReversed().map((e) => ({ op: "back", kind: e.kind, item: e.item, after: e.id, was: e.was })));
  const { op, kind, item } = last[0];
  const found = kind === "dictation" || !item ? null : findItem(sync.shown, item);
  say(`Taken back: ${DID[/** @type {keyof typeof DID} */ (op)] ?? "a change"}${found ? ` (${itemName(found.kind, found.item)} ${itemValue(found.kind, found.item)})` : ""}.`);
  choose(found ? item : chosen);
}

// ---------------------------------------------------------------- dictations joined and divided

/** Two dictations are read as one, or apart again. @param {"join" | "part"} op @param {string} dictation @param {string} before */
function join(op, dictation, before) {
  make({ op, kind: "dictation", item: dictation, before: op === "part" ? before : null, after: op === "join" ? before : null });
  say(op === "join" ? "Read as one. Press u to take that back." : "Read apart again. Press u to take that back.");
}

/** Give everything heard from a word on to another machine. */
function divide(/** @type {string} */ dictation, /** @type {number} */ index) {
  openDivide(sync.shown, dictation, index, tags(), {
    play: (d, second) => void player.playFrom(d, second),
    move: (edits, name) => {
      if (edits.length) make(...edits);
      say(`${edits.length} items moved to ${name}.`);
    },
  });
}

// ---------------------------------------------------------------- drawing

function draw() {
  const ticket = sync.shown;
  const items = allItems(ticket);
  // What was chosen may be gone: part of a longer reading now, or removed by somebody else.
  if (chosen && !items.some((x) => x.item.id === chosen)) chosen = checks(ticket)[0]?.item.id ?? null;
  const changed = new Set(sync.pending.map((e) => String(e.item)));
  const focus = /** @type {HTMLElement | null} */ (document.activeElement)?.dataset?.key;
  player.next = new Map(ticket.dictations.filter((/** @type {any} */ d) => d.continues).map((/** @type {any} */ d) => [d.continues, d.id]));
  showTranscript(byId("transcript"), ticket, items, {
    play: (/** @type {string} */ d, /** @type {number} */ s) => void player.playFrom(d, s),
    choose: (/** @type {string} */ d, /** @type {number} */ i) => wordChosen(d, i),
    join: (/** @type {string} */ d, /** @type {string} */ before) => join("join", d, before),
    part: (/** @type {string} */ d, /** @type {string} */ before) => join("part", d, before),
  }, mayEdit());
  showChosen(byId("transcript"), chosen);
  showBoard(byId("board"), ticket, { chosen, mayEdit: mayEdit(), changed, units: words.units }, act);
  showPhotos(byId("photos"), items.filter((x) => x.kind === "photo"), tags(), mayEdit(), act);
  showConflicts(byId("conflicts"), sync.conflicts, ticket, (c, mine) => sync.settle(c, mine));
  drawStatus(ticket);
  if (focus && document.activeElement?.getAttribute("data-key") !== focus)
    /** @type {HTMLElement | null} */ (page.querySelector(`[data-key="${CSS.escape(focus)}"]`))?.focus();
}

/** @param {string} dictation @param {number} index */
function wordChosen(dictation, index) {
  const word = byId("transcript").querySelector(`[data-dictation="${CSS.escape(dictation)}"] .w[data-i="${index}"]`);
  const item = /** @type {HTMLElement | null} */ (word)?.dataset.item;
  if (item) choose(item);
  if (mayEdit() && !item) divide(dictation, index);
}

/** @param {any} ticket */
function drawStatus(ticket) {
  const open = checks(ticket).length;
  byId("status").textContent = ticket.status;
  byId("status").className = `status ${ticket.status}`;
  byId("revision").textContent = `revision ${ticket.revision}`;
  byId("unsent").textContent = sync.pending.length ? `${sync.pending.length} ${sync.pending.length === 1 ? "change" : "changes"} ${sync.offline ? `kept here: ${sync.waits || "the server does not answer"}` : "being saved"}` : "All saved";
  byId("unsent").className = sync.offline ? "problem" : "quiet";
  const show = (/** @type {string} */ name, /** @type {boolean} */ on) => (byId(name).hidden = !on);
  show("do-checked", ["draft", "returned"].includes(ticket.status));
  show("do-approved", office && ticket.status === "checked");
  show("do-returned", office && ["checked", "approved"].includes(ticket.status));
  show("do-draft", ticket.status === "checked");
  byId("open-checks").textContent = open ? `${open} to check` : "nothing to check";
}

// ---------------------------------------------------------------- states

/** @param {string} to @param {string} [note] */
async function setStatus(to, note) {
  try {
    await sync.setStatus(to, note);
    say(`The ticket is now ${to}.`);
  } catch (error) {
    say(/** @type {Error} */ (error).message, "problem");
  }
}

for (const to of ["checked", "approved", "draft"]) byId(`do-${to}`).addEventListener("click", () => void setStatus(to));
byId("do-returned").addEventListener("click", () => /** @type {HTMLDialogElement} */ (byId("return")).showModal());
byId("return-form").addEventListener("submit", (event) => {
  event.preventDefault();
  const note = /** @type {HTMLTextAreaElement} */ (byId("return-note")).value.trim();
  if (!note) return;
  /** @type {HTMLDialogElement} */ (byId("return")).close();
  void setStatus("returned", note);
});
for (const cancel of document.querySelectorAll("dialog [data-close]")) cancel.addEventListener("click", () => cancel.closest("dialog")?.close());

// ---------------------------------------------------------------- keys

/** The line after or before the chosen one, whether it asks for a look or not. @param {number} step */
function line(step) {
  const all = allItems(sync.shown).map((x) => x.item.id);
  const at = chosen ? all.indexOf(chosen) : -1;
  if (all.length) choose(all[at < 0 ? (step > 0 ? 0 : all.length - 1) : (at + step + all.length) % all.length]);
}

/** Divide at the first word of the chosen line: by keyboard what a click on a word does. @param {any} item */
function divideAt(item) {
  const d = sync.shown.dictations.find((/** @type {any} */ x) => x.id === item.heard?.dictation);
  if (!d) {
    say("This was not heard in a dictation.");
    return;
  }
  let at = 0;
  divide(d.id, d.words.findIndex((/** @type {any} */ w) => (at += w.text.length + 1) > item.heard.from));
}

/** A key of this page. @param {string} key @param {string | null} what @param {() => void} run @param {string} [keys] */
const onKey = (key, what, run, keys) => bind(key, what, () => (there() ? run() : say("The ticket is still being loaded; press the key again.")), keys);

onKey("n", "Next check", () => step(1), "n or j");
onKey("j", null, () => step(1));
onKey("N", "Check before", () => step(-1), "N or k");
onKey("k", null, () => step(-1));
onKey("]", "Next line of any kind", () => line(1));
onKey("[", "Line before", () => line(-1));
onKey("p", "Play what was heard", () => withChosen((_, item) => void act.play(item)));
onKey("s", "Stop the sound", () => player.stop());
onKey("a", "Keep it: looks right", () => withChosen((kind, item) => mayEdit() && act.accept(kind, item)));
onKey("e", "Change it", () => withChosen((kind, item) => mayEdit() && void act.change(kind, item)));
onKey("x", "Remove it", () => withChosen((kind, item) => mayEdit() && act.remove(kind, item)));
for (let n = 1; n <= 9; n++)
  onKey(String(n), n === 1 ? "Take that alternative" : null, () => withChosen((kind, item) => {
    const alt = others(item)[n - 1];
    if (alt && mayEdit()) act.pick(kind, item, alt);
  }), "1 … 9");
onKey("u", "Take back the last change", takeBack);
onKey("d", "Divide here: all from the chosen line on to another machine", () => withChosen((_, item) => mayEdit() && divideAt(item)));
for (const [key, what, place] of [["h", "To what was heard", "heard-title"], ["r", "To what was read", "board"], ["f", "To the photos", "photos-title"]])
  bind(key, what, () => /** @type {HTMLElement | null} */ (byId(place).closest("[tabindex]"))?.focus());
onKey("c", "Mark as checked", () => byId("do-checked").hidden || byId("do-checked").click());
bind("w", "Back to the worklist", () => location.assign("/office"));

// ---------------------------------------------------------------- start

sync.addEventListener("change", steady(draw));
sync.addEventListener("others", () => say("Somebody else changed this ticket; you see it as it is now."));
sync.addEventListener("refused", (event) => {
  const { sentence, edits } = /** @type {CustomEvent} */ (event).detail;
  const refused = new Set(edits.map((/** @type {any} */ e) => e.id));
  for (const [n, made] of undo.entries()) undo[n] = made.filter((e) => !refused.has(e.id));
  undo.splice(0, undo.length, ...undo.filter((made) => made.length));
  say(`${sentence} (${edits.length} ${edits.length === 1 ? "change was" : "changes were"} not taken.)`, "problem");
});

const AGAIN_MS = 4000;

async function start() {
  try {
    const offered = await fetch("/office/words.json");
    if (!offered.ok) throw new Error(`The server answered ${offered.status}; trying again.`);
    words = await offered.json();
    await sync.load();
  } catch (error) {
    say(/** @type {Error} */ (error).message, "problem");
    setTimeout(() => void start(), AGAIN_MS);
    return;
  }
  choose(checks(sync.shown)[0]?.item.id ?? null);
  const form = keptForm(id);
  if (!form) return;
  const found = findItem(sync.shown, form.item);
  say("A change that was not finished is open again.");
  if (found) void act.change(found.kind, found.item, form.values);
  else if (form.item.startsWith("new:")) void act.add(form.item.slice(4), form.values.tag || null, form.values);
}

void start();
