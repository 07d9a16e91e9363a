/**
 * Forms that speak to the API: `<form data-api="PUT /sites/123">`. Field values go by their names; `data-as`
 * says what they are: number, list (commas), numbers, text or nothing. A name with a dot goes one level down.
 */

import { call, newId } from "./api.js";
import { say } from "./dom.js";

/** @param {string} text @param {string | undefined} as */
function typed(text, as) {
  const bare = text.trim();
  if (as === "number") return bare === "" ? null : Number(bare.replace(",", "."));
  if (as === "list") return bare === "" ? [] : bare.split(",").map((x) => x.trim()).filter(Boolean);
  if (as === "numbers") return bare === "" ? [] : bare.split(",").map((x) => Number(x.trim()));
  if (as === "optional") return bare === "" ? null : bare;
  return bare;
}

/** @param {HTMLFormElement} form */
export function values(form) {
  /** @type {Record<string, any>} */
  const out = {};
  for (const field of /** @type {any[]} */ ([...form.elements])) {
    if (!field.name || field.name === "csrf") continue;
    const value = field.type === "checkbox" ? field.checked : typed(field.value, field.dataset.as);
    if (field.dataset.drop === "empty" && (value === null || value === "" || (Array.isArray(value) && !value.length))) continue;
    const [first, second] = field.name.split(".");
    if (second) (out[first] ??= {})[second] = value;
    else out[first] = value;
  }
  return out;
}

for (const form of /** @type {HTMLFormElement[]} */ ([...document.querySelectorAll("form[data-api]")])) {
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    const [method, path] = String(form.dataset.api).split(" ");
    const body = values(form);
    // Parts of the address that the person types: "/sites/{new}/equipment/{tag}".
    const address = path.replace(/\{(\w+)\}/g, (_, name) => {
      if (name === "new") return newId();
      const given = body[name];
      delete body[name];
      return encodeURIComponent(given);
    });
    const button = /** @type {HTMLButtonElement | null} */ (form.querySelector("button:not([type=button])"));
    if (button) button.disabled = true;
    try {
      const answer = await call(method, address, method === "DELETE" ? undefined : body);
      form.dispatchEvent(new CustomEvent("answered", { detail: answer, bubbles: true }));
      if (form.dataset.then === "reload") location.reload();
      else say(form.dataset.said ?? "Saved.");
    } catch (error) {
      say(/** @type {Error} */ (error).message, "problem");
    } finally {
      if (button) button.disabled = false;
    }
  });
}
