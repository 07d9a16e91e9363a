/** Elements from values. Text always goes in as text nodes: nothing a person said becomes markup. */

/**
 * @param {string} tag
 * @param {Record<string, unknown>} [props] `class`, `on<event>` handlers, `data-*`, aria and plain attributes;
 *   false, null and undefined leave an attribute out, true sets it empty
 * @param {...(Node|string|number|null|false|undefined|Array<any>)} children
 * @returns {HTMLElement}
 */
export function h(tag, props = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(props)) {
    if (value === false || value === null || value === undefined) continue;
    if (name.startsWith("on")) element.addEventListener(name.slice(2), /** @type {any} */ (value));
    else if (name === "value") /** @type {any} */ (element).value = value;
    else element.setAttribute(name, value === true ? "" : String(value));
  }
  element.append(...children.flat(Infinity).filter((c) => c !== null && c !== false && c !== undefined).map(asNode));
  return element;
}

/** @param {any} child */
function asNode(child) {
  return child instanceof Node ? child : document.createTextNode(String(child));
}

/** @param {Element} element @param {...any} children */
export function fill(element, ...children) {
  element.replaceChildren(...children.flat(Infinity).filter((c) => c !== null && c !== false && c !== undefined));
}

/** Say something to everyone, screen readers included. @param {string} text @param {"note"|"problem"} [tone] */
export function say(text, tone = "note") {
  const place = document.getElementById("said");
  if (!place) return;
  place.className = tone;
  place.textContent = text;
}
