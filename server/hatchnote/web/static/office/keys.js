/**
 * Single keys for what is done often. They rest while a field is being typed in, and can be switched off
 * altogether (WCAG 2.2, 2.1.4: character key shortcuts).
 */

const OFF = "hatchnote-office:keys-off";
/** @type {Map<string, {what: string | null, run: (event: KeyboardEvent) => void, keys?: string}>} */
const bound = new Map();

export const keysAreOff = () => localStorage.getItem(OFF) === "1";

/**
 * @param {string} key as KeyboardEvent.key @param {string | null} what null for one told of with another
 * @param {(event: KeyboardEvent) => void} run @param {string} [keys] how the list calls it, and others with it
 */
export function bind(key, what, run, keys) {
  bound.set(key, { what, run, keys });
}

/** @param {EventTarget | null} target */
function typing(target) {
  if (!(target instanceof HTMLElement)) return false;
  return target.isContentEditable || /^(INPUT|TEXTAREA|SELECT)$/.test(target.tagName);
}

document.addEventListener("keydown", (event) => {
  if (event.ctrlKey || event.metaKey || event.altKey || keysAreOff() || typing(event.target)) return;
  if (document.querySelector("dialog[open]")) return;
  // Enter and Space belong to the button or link that has the focus.
  const focused = document.activeElement;
  if ((event.key === "Enter" || event.key === " ") && focused && /^(BUTTON|A|SUMMARY|AUDIO)$/.test(focused.tagName)) return;
  const action = bound.get(event.key);
  if (!action) return;
  event.preventDefault();
  action.run(event);
});

/** @param {string} key */
const shown = (key) => ({ " ": "Space", ArrowDown: "↓", ArrowUp: "↑" })[key] ?? key;

export function showKeys() {
  const dialog = /** @type {HTMLDialogElement} */ (document.getElementById("keys"));
  const rows = [...bound].filter(([, { what }]) => what).map(([key, { what, keys }]) => {
    const row = document.createElement("tr");
    const k = document.createElement("th");
    k.scope = "row";
    const kbd = document.createElement("kbd");
    kbd.textContent = keys ?? shown(key);
    k.append(kbd);
    const w = document.createElement("td");
    w.textContent = what;
    row.append(k, w);
    return row;
  });
  dialog.querySelector("tbody")?.replaceChildren(...rows);
  const box = /** @type {HTMLInputElement} */ (dialog.querySelector("input[type=checkbox]"));
  box.checked = !keysAreOff();
  box.onchange = () => (box.checked ? localStorage.removeItem(OFF) : localStorage.setItem(OFF, "1"));
  dialog.showModal();
}

bind("?", "Show these keys", showKeys);
document.getElementById("show-keys")?.addEventListener("click", showKeys);
