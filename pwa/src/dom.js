// Making elements, and replacing a part of the page without losing the focus.

/** h("button", {class: "big", onclick: f, "aria-label": "Stop"}, "Stop"): false, null and undefined are left out. */
export function h(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (value === false || value === null || value === undefined) continue;
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else if (name === "props") Object.assign(element, value);
    else element.setAttribute(name, value === true ? "" : value);
  }
  element.append(...children.flat(Infinity).filter((c) => c !== false && c !== null && c !== undefined && c !== ""));
  return element;
}

const SVG = "http://www.w3.org/2000/svg";

/** A picture from our own sheet; the word beside it carries the meaning. */
export function icon(name) {
  const svg = document.createElementNS(SVG, "svg");
  svg.setAttribute("class", "icon");
  svg.setAttribute("aria-hidden", "true");
  const use = document.createElementNS(SVG, "use");
  use.setAttribute("href", `icons/sheet.svg#${name}`);
  svg.append(use);
  return svg;
}

/** A button with picture and word. `key` lets the focus survive a repaint. */
export function button(word, { picture, kind = "", key = word, onclick, ...more }) {
  return h("button", { type: "button", class: `button ${kind}`, "data-key": key, onclick, ...more }, picture && icon(picture), h("span", {}, word));
}

/** Put new children into `root`; the element with the focus gets it back in its new form. */
export function repaint(root, children) {
  const key = root.contains(document.activeElement) ? document.activeElement.dataset.key : null;
  root.replaceChildren(...children.flat(Infinity).filter(Boolean));
  if (key) root.querySelector(`[data-key="${CSS.escape(key)}"]`)?.focus({ preventScroll: true });
}

/**
 * The same for the controls under the thumb, which stay as they are when they would look the same: a button that is
 * replaced under a finger loses the tap. What their handlers need they must ask for when they run.
 */
export function repaintIfNew(root, children) {
  const fresh = children.flat(Infinity).filter(Boolean);
  const same = fresh.length === root.children.length && fresh.every((e, i) => e.isEqualNode(root.children[i]));
  if (!same) repaint(root, fresh);
}

/**
 * Do `ask` again and again, each time only after the last has ended and a pause has passed that is at least as long as
 * it took: on a slow line questions would pile up, and the few connections a browser has would be theirs, not the
 * sound's. Returns the function that ends it.
 */
export function askRepeatedly(ask, pause_ms, first_ms = pause_ms) {
  let timer = null;
  let over = false;
  const round = async () => {
    const began = performance.now();
    await ask().catch((error) => console.warn("Asked in vain:", error.message));
    if (!over) timer = setTimeout(round, Math.max(pause_ms, performance.now() - began));
  };
  timer = setTimeout(round, first_ms);
  return () => {
    over = true;
    clearTimeout(timer);
  };
}

/** A modal dialog that removes itself when closed. `build(close)` returns its children. */
export function dialog(title, build, { kind = "" } = {}) {
  return new Promise((resolve) => {
    const box = h("dialog", { class: `dialog ${kind}`, "aria-labelledby": "dialog-title" });
    const close = (answer) => {
      box.returned = answer;
      box.close();
    };
    box.append(h("h2", { id: "dialog-title", tabindex: "-1" }, title), ...build(close).flat(Infinity).filter(Boolean));
    box.addEventListener("close", () => {
      box.remove();
      resolve(box.returned ?? null);
    });
    document.body.append(box);
    box.showModal();
    box.querySelector("h2").focus();
  });
}
