/** The ticket as values: finding items in it, edits applied to it for show, and how things are worded. Pure. */

/** @typedef {{item: any, tag: string | null, index: number}} Was an item as it was, and where it stood */
/** @typedef {{id: string, at: string, op: string, kind: string, item: string | null, field?: string | null,
 *   before?: any, after?: any, was?: Was | null}} Edit `was` is for this page alone and is not sent */

export const LISTS = /** @type {const} */ ([
  ["reading", "readings"], ["work", "work"], ["part", "parts"], ["finding", "findings"], ["photo", "photos"],
]);
const LIST_OF = Object.fromEntries(LISTS);
const SETTLES = {
  reading: ["point", "value", "unit", "ucum", "text"],
  work: ["verb", "component", "state"],
  part: ["component", "size", "quantity", "use"],
  finding: ["component", "condition"],
};

/** Every item with its kind and machine, in the document's order. @param {any} ticket */
export function allItems(ticket) {
  const out = [];
  for (const machine of ticket.equipment)
    for (const [kind, list] of LISTS) for (const item of machine[list]) out.push({ kind, tag: machine.tag, item });
  return out;
}

/** @param {any} ticket @param {string} id */
export const findItem = (ticket, id) => allItems(ticket).find((x) => x.item.id === id) ?? null;

/** Items that ask a person to look, in order of speech within each machine. @param {any} ticket */
export const checks = (ticket) => allItems(ticket).filter((x) => x.item.check);

/** The other ways to read an item: what its check offers, without what it says already. @param {any} item */
export const others = (item) =>
  (item.check?.alternatives ?? []).filter((/** @type {any} */ a) => a.value === null || a.value !== item.value || (a.ucum ?? item.ucum) !== item.ucum);

/** The ticket as it will look once the server has taken the edits. @param {any} ticket @param {Edit[]} edits */
export function withEdits(ticket, edits) {
  if (!edits.length) return ticket;
  const gone = new Set(edits.filter((e) => e.op === "back").map((e) => e.after));
  const there = new Set(edits.map((e) => e.id));
  const copy = structuredClone(ticket);
  for (const edit of edits) {
    if (gone.has(edit.id)) continue;
    if (edit.op === "back") {
      if (!there.has(edit.after)) backOne(copy, edit);
    } else applyOne(copy, edit);
  }
  return copy;
}

/** An item as it is now, to be put back by `backOne`. @param {any} ticket @param {string | null} id @returns {Was | null} */
export function asItIs(ticket, id) {
  const found = id ? findItem(ticket, id) : null;
  if (!found) return null;
  const list = machineOf(ticket, found.tag)[LIST_OF[found.kind]];
  return { item: structuredClone(found.item), tag: found.tag, index: list.indexOf(found.item) };
}

/** Show a change as taken back before the server has answered. @param {any} ticket @param {Edit} edit */
function backOne(ticket, edit) {
  const list = LIST_OF[edit.kind];
  if (!list || !edit.item || edit.was === undefined) return;
  const now = findItem(ticket, edit.item);
  if (now) {
    const machine = machineOf(ticket, now.tag);
    machine[list] = machine[list].filter((/** @type {any} */ x) => x.id !== edit.item);
  }
  if (edit.was) machineOf(ticket, edit.was.tag)[list].splice(edit.was.index, 0, edit.was.item);
}

/** @param {any} ticket @param {Edit} edit */
function applyOne(ticket, edit) {
  if (edit.kind === "machine" || edit.kind === "dictation") return;
  const list = LIST_OF[edit.kind];
  if (edit.op === "add") {
    const { tag = null, ...fields } = edit.after;
    if (findItem(ticket, edit.item)) return;
    machineOf(ticket, tag)[list].push({ ...blank(edit.kind), ...fields, id: edit.item });
    return;
  }
  const found = findItem(ticket, edit.item);
  if (!found) return;
  const { item, tag } = found;
  const machine = machineOf(ticket, tag);
  if (edit.op === "set") {
    item[edit.field] = edit.after;
    if (SETTLES[edit.kind]?.includes(edit.field)) item.check = null;
  } else if (edit.op === "accept") item.check = null;
  else if (edit.op === "remove" || edit.op === "move") {
    machine[list] = machine[list].filter((x) => x.id !== item.id);
    if (edit.op === "move") machineOf(ticket, edit.after)[list].push(item);
  }
}

/** @param {any} ticket @param {string | null} tag */
function machineOf(ticket, tag) {
  let machine = ticket.equipment.find((m) => m.tag === tag);
  if (!machine) {
    machine = { tag, summary: "", readings: [], work: [], parts: [], findings: [], computed: [], cautions: [], missing: [], photos: [] };
    ticket.equipment.push(machine);
  }
  return machine;
}

/** @param {string} kind */
function blank(kind) {
  const common = { heard: { dictation: null, start: null, end: null, from: 0, to: 0 }, confidence: 1, check: null, rule: "" };
  if (kind === "reading")
    return { ...common, component: null, number: null, legs: null, stage: null, circuit: null, position: null,
      basis: "measured", moment: null, value: null, unit: null, ucum: null, text: null, said: "" };
  if (kind === "work") return { ...common, component: null, number: null, detail: null, quantity: null };
  if (kind === "part") return { ...common, description: "", size: null, quantity: 1 };
  return { ...common, number: null };
}

/** Where an item was heard, piece by piece: more than one where it goes on in the next dictation. @param {any} heard */
export function pieces(heard) {
  const out = [];
  for (let piece = heard; piece; piece = piece.continued) out.push(piece);
  return out;
}

// ---------------------------------------------------------------- wording

/** @param {string | null | undefined} slug */
export const plain = (slug) => (slug ?? "").split("-").map((w) => (w === "co" ? "CO" : w)).join(" ");

/** @param {number} value */
export function number(value) {
  const text = String(Number(value.toPrecision(12)));
  const [whole, rest] = text.split(".");
  const grouped = whole.replace("-", "").length > 4 ? whole.replace(/\B(?=(\d{3})+$)/g, ",") : whole;
  return rest === undefined ? grouped : `${grouped}.${rest}`;
}

/** @param {any} item a reading, computed value or alternative */
export function valueText(item) {
  if (item.value === null || item.value === undefined) return item.text || "not readable";
  let unit = item.unit ?? "";
  if (item.difference && unit.includes("°")) unit += " difference";
  return unit === "%" ? `${number(item.value)}%` : `${number(item.value)} ${unit}`.trim();
}

/** An alternative as a person reads it, its unit with it. @param {any} item @param {any} alt @param {any[]} units of words.json */
export function alternativeText(item, alt, units) {
  if (alt.value === null) return alt.text;
  const same = !alt.ucum || alt.ucum === item.ucum;
  return valueText({ value: alt.value, unit: same ? item.unit : (units.find((u) => u.ucum === alt.ucum)?.unit ?? alt.ucum) });
}

/** @param {string | null} slug @param {string | null} n */
export function componentName(slug, n) {
  const name = plain(slug);
  if (!n) return name;
  return /^(left|right|top|bottom|middle|front|rear)$/.test(n) ? `${n} ${name}`.trim() : `${name} ${n}`.trim();
}

/** @param {string} kind @param {any} item */
export function itemName(kind, item) {
  if (kind === "reading")
    return [plain(item.point), componentName(item.component, item.number), item.legs, item.stage && `${item.stage} stage`,
      item.circuit && `circuit ${item.circuit}`, plain(item.position), { rated: "rated", set: "setting" }[item.basis]]
      .filter(Boolean).join(", ");
  if (kind === "work") {
    const count = item.quantity !== null && item.quantity !== 1 ? ` × ${number(item.quantity)}` : "";
    return `${plain(item.verb)} ${componentName(item.component, item.number)}`.trim() + count;
  }
  if (kind === "part") return plain(item.component);
  if (kind === "photo") return item.caption || item.name;
  return `${componentName(item.component, item.number)}: ${plain(item.condition)}`;
}

/** What stands at the right of an item's name. @param {string} kind @param {any} item */
export function itemValue(kind, item) {
  if (kind === "reading") return valueText(item);
  if (kind === "work") return plain(item.state);
  if (kind === "part") return `${number(item.quantity)} ${plain(item.use)}`;
  return "";
}

/** @param {string | null} tag */
export const machineName = (tag) => tag ?? "No particular machine";
