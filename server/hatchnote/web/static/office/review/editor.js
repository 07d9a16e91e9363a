/** The form for one item: every field a person may change, what was heard above it, kept while it is open. */

import { h } from "../dom.js";
import { keepForm } from "./keep.js";
import { plain } from "./ticket.js";

const STATES = ["done", "needed", "recommended", "declined", "not-done"];
const USES = ["installed", "to-order", "removed"];
const TITLES = { reading: "reading", work: "work", part: "part", finding: "finding", photo: "photo" };

/** @typedef {{name: string, label: string, type?: "number" | "choice" | "flag", list?: string, options?: [string, string][], optional?: boolean}} Field */

/** @param {string} kind @param {any} words @returns {Field[]} */
function fields(kind, words) {
  const slugs = (/** @type {string[]} */ list) => /** @type {[string, string][]} */ (list.map((s) => [s, plain(s)]));
  const component = { name: "component", label: "Component", type: /** @type {const} */ ("choice"), options: slugs(words.components), optional: true };
  const which = { name: "number", label: "Number or side", optional: true };
  if (kind === "reading")
    return [
      { name: "point", label: "What was measured", type: "choice", options: slugs(words.points.map((/** @type {any} */ p) => p.slug)) },
      { name: "value", label: "Value", type: "number", optional: true },
      { name: "ucum", label: "Unit", type: "choice", options: words.units.map((/** @type {any} */ u) => [u.ucum, u.unit]), optional: true },
      { name: "text", label: "Text instead of a number", optional: true },
      component, which,
      { name: "legs", label: "Legs", optional: true },
      { name: "circuit", label: "Circuit", optional: true },
      { name: "position", label: "Position", optional: true },
      { name: "moment", label: "Moment", type: "choice", options: [["as-found", "as found"], ["as-left", "as left"]], optional: true },
      { name: "basis", label: "Basis", type: "choice", options: [["measured", "measured"], ["rated", "rated"], ["set", "setting"]] },
      { name: "stage", label: "Stage", type: "choice", options: [["low", "low"], ["high", "high"]], optional: true },
    ];
  if (kind === "work")
    return [
      { name: "verb", label: "Verb", type: "choice", options: slugs(words.verbs) },
      component, which,
      { name: "state", label: "State", type: "choice", options: slugs(STATES) },
      { name: "quantity", label: "Quantity", type: "number", optional: true },
      { name: "detail", label: "Detail", optional: true },
    ];
  if (kind === "part")
    return [
      { ...component, optional: false },
      { name: "description", label: "Description" },
      { name: "size", label: "Size", optional: true },
      { name: "quantity", label: "Quantity", type: "number" },
      { name: "use", label: "Use", type: "choice", options: slugs(USES) },
    ];
  if (kind === "finding")
    return [{ ...component, optional: false }, which, { name: "condition", label: "Condition", type: "choice", options: slugs(words.conditions) }];
  return [{ name: "caption", label: "Caption", optional: true }];
}

/**
 * Open the form. Resolves with the changed fields, {tag} among them, or null when nothing is to change.
 * @param {{ticket: string, kind: string, item: any | null, tag: string | null, tags: (string | null)[], words: any,
 *   restored?: Record<string, string>}} what
 * @returns {Promise<Record<string, any> | null>}
 */
export function edit(what) {
  const { kind, item, words } = what;
  const dialog = /** @type {HTMLDialogElement} */ (document.getElementById("editor"));
  const list = fields(kind, words);
  const now = (/** @type {string} */ name) => what.restored?.[name] ?? text(item?.[name]);
  const machine = h("select", { name: "tag", "data-field": "tag" },
    what.tags.map((t) => h("option", { value: t ?? "", selected: (what.restored?.tag ?? what.tag ?? "") === (t ?? "") }, t ?? "No particular machine")));
  const form = /** @type {HTMLFormElement} */ (h("form", { method: "dialog", novalidate: true },
    h("h2", { id: "editor-title" }, item ? `Change this ${TITLES[kind]}` : `Add a ${TITLES[kind]}`),
    item?.said ? h("p", { class: "heard" }, "Heard: ", h("q", {}, item.said)) : null,
    h("div", { class: "fields" }, list.map((f) => label(f, now(f.name))), h("label", {}, h("span", {}, "Machine"), machine)),
    h("p", { class: "problem", role: "alert" }),
    h("div", { class: "buttons" },
      h("button", { class: "primary", value: "save" }, "Save"),
      h("button", { type: "button", "data-cancel": true }, "Cancel"))));
  dialog.replaceChildren(form);
  const first = /** @type {HTMLElement | null} */ (form.querySelector('[name="value"], [name="verb"], [name="component"], [name="caption"]'));
  form.querySelector('[name="point"]')?.addEventListener("change", (event) => {
    const point = words.points.find((/** @type {any} */ p) => p.slug === /** @type {any} */ (event.target).value);
    const unit = /** @type {HTMLSelectElement} */ (form.querySelector('[name="ucum"]'));
    if (point?.ucum && !item) unit.value = point.ucum;
  });
  form.addEventListener("input", () => keepForm(what.ticket, { item: item?.id ?? `new:${kind}`, values: raw(form) }));

  return new Promise((resolve) => {
    const done = (/** @type {Record<string, any> | null} */ value) => {
      keepForm(what.ticket, null);
      dialog.close();
      resolve(value);
    };
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      const read = parse(form, list, words);
      const problem = complaint(kind, read, list);
      /** @type {HTMLElement} */ (form.querySelector(".problem")).textContent = problem ?? "";
      if (problem) return;
      const changed = Object.fromEntries(Object.entries(read).filter(([k, v]) => !item || v !== (k === "tag" ? what.tag : k === "difference" ? Boolean(item[k]) : (item[k] ?? null))));
      done(Object.keys(changed).length ? changed : null);
    });
    form.querySelector("[data-cancel]")?.addEventListener("click", () => done(null));
    dialog.oncancel = (event) => {
      event.preventDefault();
      done(null);
    };
    dialog.showModal();
    first?.focus();
    if (first instanceof HTMLInputElement) first.select();
  });
}

/** @param {Field} f @param {string} value */
function label(f, value) {
  const props = { name: f.name, "data-field": f.name };
  const control =
    f.type === "choice"
      ? h("select", props,
          f.optional ? h("option", { value: "" }, "–") : null,
          value && !f.options?.some(([v]) => v === value) ? h("option", { value, selected: true }, value) : null,
          f.options?.map(([v, t]) => h("option", { value: v, selected: v === value }, t)))
      : h("input", { ...props, type: "text", value, inputmode: f.type === "number" ? "decimal" : null, autocomplete: "off" });
  return h("label", {}, h("span", {}, f.label), control);
}

const text = (/** @type {any} */ v) => (v === null || v === undefined ? "" : String(v));

/** @param {HTMLFormElement} form @returns {Record<string, string>} */
const raw = (form) => Object.fromEntries([...new FormData(form)].map(([k, v]) => [k, String(v)]));

/** @param {HTMLFormElement} form @param {Field[]} list @param {any} words */
function parse(form, list, words) {
  const given = raw(form);
  /** @type {Record<string, any>} */
  const out = {};
  for (const f of list) {
    const bare = (given[f.name] ?? "").trim();
    if (f.type === "number") out[f.name] = bare === "" ? null : Number(bare.replace(/,(?=\d{3}\b)/g, "").replace(",", "."));
    else out[f.name] = bare === "" && f.optional ? null : bare;
  }
  if ("ucum" in out) out.unit = words.units.find((/** @type {any} */ u) => u.ucum === out.ucum)?.unit ?? (out.ucum || null);
  if ("point" in out) out.difference = Boolean(words.points.find((/** @type {any} */ p) => p.slug === out.point)?.difference);
  out.tag = given.tag === "" ? null : given.tag;
  return out;
}

/** @param {string} kind @param {Record<string, any>} read @param {Field[]} list */
function complaint(kind, read, list) {
  for (const f of list) if (f.type === "number" && Number.isNaN(read[f.name])) return `${f.label} is no number; write it like 3.5.`;
  if (kind === "reading" && read.value === null && !read.text) return "A reading needs a value or a text.";
  if (kind === "part" && read.quantity === null) return "A part needs its quantity.";
  return null;
}
