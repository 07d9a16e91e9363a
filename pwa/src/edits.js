// Corrections as data: pure functions. The ticket shown is the last one from the server with the corrections that
// have not arrived yet laid over it; nothing of what was heard is ever changed.
import { uuidv7 } from "./ids.js";

const LISTS = { reading: "readings", work: "work", part: "parts", finding: "findings", photo: "photos" };

export function makeEdit(ticket, { op, kind, item, field = null, before = null, after = null }, now = new Date()) {
  return { id: uuidv7(now.getTime()), at: now.toISOString(), ticket, state: "waiting", op, kind, item, field, before, after };
}

/**
 * The edits that set fields of an item: one for each field that differs, then one that accepts it, because a
 * person has looked. `change`: {value, ucum, unit, text …}.
 */
export function correction(ticket, kind, item, change, now) {
  const sets = Object.entries(change)
    .filter(([field, after]) => item[field] !== after)
    .map(([field, after]) => makeEdit(ticket, { op: "set", kind, item: item.id, field, before: item[field] ?? null, after }, now));
  if (item.check) sets.push(makeEdit(ticket, { op: "accept", kind, item: item.id }, now));
  return sets;
}

/** "That is right": tells the server what was seen, so that accepting does not accept what somebody wrote since. */
export function acceptance(ticket, kind, item, now) {
  return makeEdit(ticket, { op: "accept", kind, item: item.id, before: seen(kind, item) }, now);
}

export function removal(ticket, kind, item, now) {
  return makeEdit(ticket, { op: "remove", kind, item: item.id, before: seen(kind, item) }, now);
}

function seen(kind, item) {
  return kind === "reading" ? { value: item.value, text: item.text } : null;
}

/** "Looks right" for a whole machine: its open checks one by one, and the machine. */
export function looksRight(ticket, machine, now) {
  const checks = checksOf(machine).map(({ kind, item }) => acceptance(ticket, kind, item, now));
  return [...checks, makeEdit(ticket, { op: "accept", kind: "machine", item: machine.tag ?? "" }, now)];
}

/** A copy of the ticket document with waiting edits applied. */
export function overlay(document, edits) {
  const copy = structuredClone(document);
  for (const edit of edits) apply(copy, edit);
  return copy;
}

function apply(document, edit) {
  if (edit.state === "conflict") return markConflict(document, edit);
  if (edit.kind === "machine") {
    const machine = document.equipment.find((m) => (m.tag ?? "") === (edit.item ?? ""));
    if (machine) machine.looked_at = true;
    return;
  }
  if (edit.op === "add") {
    machineOf(document, edit.after.tag ?? null)[LISTS[edit.kind]].push({ ...edit.after, id: edit.item, waiting: true });
    return;
  }
  const place = find(document, edit.kind, edit.item);
  if (!place) return;
  const { list, index, item } = place;
  if (edit.op === "set") Object.assign(item, { [edit.field]: edit.after, waiting: true, corrected: true });
  if (edit.op === "accept") Object.assign(item, { check: null, waiting: true });
  if (edit.op === "remove") list.splice(index, 1);
  if (edit.op === "move") {
    list.splice(index, 1);
    machineOf(document, edit.after)[LISTS[edit.kind]].push({ ...item, waiting: true });
  }
}

function markConflict(document, edit) {
  const place = find(document, edit.kind, edit.item);
  if (place) (place.item.conflicts ??= []).push(edit);
}

export function find(document, kind, id) {
  for (const machine of document.equipment) {
    const list = machine[LISTS[kind]];
    const index = list?.findIndex((i) => i.id === id) ?? -1;
    if (index >= 0) return { machine, list, index, item: list[index] };
  }
  return null;
}

function machineOf(document, tag) {
  let machine = document.equipment.find((m) => m.tag === tag);
  if (!machine) {
    machine = { tag, summary: "", readings: [], work: [], parts: [], findings: [], computed: [], cautions: [], missing: [], photos: [] };
    document.equipment.push(machine);
  }
  return machine;
}

/** Everything on a machine that may carry a check. */
export function items(machine) {
  return [
    ...machine.readings.map((item) => ({ kind: "reading", item })),
    ...machine.work.map((item) => ({ kind: "work", item })),
    ...machine.parts.map((item) => ({ kind: "part", item })),
    ...machine.findings.map((item) => ({ kind: "finding", item })),
  ];
}

export function checksOf(machine) {
  return items(machine).filter(({ item }) => item.check || item.conflicts?.length);
}

/** Two ways out of a conflict. "mine" is a new correction on top of theirs; "theirs" needs nothing sent. */
export function settle(edit, whose, now) {
  if (whose === "theirs") return null;
  const { ticket, kind, item, field, theirs } = edit;
  // Accepting met a changed value: to hold on to what was accepted is to set it again.
  if (edit.op === "accept") return makeEdit(ticket, { op: "set", kind, item, field, before: theirs, after: edit.before?.[field] }, now);
  const before = edit.op === "remove" ? { [field]: theirs } : theirs;
  return makeEdit(ticket, { op: edit.op, kind, item, field: edit.op === "set" ? field : null, before, after: edit.after }, now);
}

/** What this person wanted, for the button that keeps it. */
export function wanted(edit) {
  if (edit.op === "accept") return edit.before?.[edit.field] ?? null;
  return edit.op === "remove" ? null : edit.after;
}

/** Words said around a moment of a dictation, offered as a photo's caption. Seconds before and after. */
export function wordsAround(document, dictation, at, before = 3, after = 6) {
  const words = document.dictations.find((d) => d.id === dictation)?.words ?? [];
  return words
    .filter((w) => w.start !== null && w.end !== null && w.end >= at - before && w.start <= at + after)
    .map((w) => w.text)
    .join(" ");
}
