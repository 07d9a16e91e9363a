/** Photos beside the readings: turn, caption, give to a machine, leave out. */

import { fill, h } from "../dom.js";
import { machineName } from "./ticket.js";

/** Taking a field out of the page must not count as leaving it. */
let drawing = false;

/** @param {HTMLElement} place @param {any[]} photos as `allItems` gives them @param {(string | null)[]} tags
 *  @param {boolean} mayEdit @param {Record<string, (...args: any[]) => void>} act */
export function showPhotos(place, photos, tags, mayEdit, act) {
  const typing = document.activeElement instanceof HTMLInputElement && place.contains(document.activeElement) ? document.activeElement : null;
  const half = typing && { key: typing.dataset.key, value: typing.value, from: typing.selectionStart, to: typing.selectionEnd };
  drawing = true;
  fill(place, photos.length ? photos.map((x) => photo(x, tags, mayEdit, act)) : h("p", { class: "quiet" }, "No photos."));
  drawing = false;
  // A caption that is being typed stays when the page is drawn anew for another reason.
  const now = half?.key ? /** @type {HTMLInputElement | null} */ (place.querySelector(`[data-key="${CSS.escape(half.key)}"]`)) : null;
  if (!half || !now) return;
  now.focus();
  now.value = half.value;
  now.setSelectionRange(half.from, half.to);
}

/** @param {any} item @param {HTMLInputElement} field @param {any} act */
function typed(item, field, act) {
  const text = field.value.trim() || null;
  if (!drawing && text !== (item.caption ?? null)) act.caption(item, text);
}

/** @param {any} x @param {(string | null)[]} tags @param {boolean} mayEdit @param {any} act */
function photo({ item, tag }, tags, mayEdit, act) {
  const name = item.caption || item.name;
  return h("figure", { class: item.left_out ? "photo left-out" : "photo", "data-photo": item.id },
    h("a", { href: `/api/v1/photos/${item.id}/image`, target: "_blank", rel: "noopener", "aria-label": `Open ${name} in full size` },
      h("img", { src: `/api/v1/photos/${item.id}/thumbnail`, alt: name, loading: "lazy", class: `turn-${item.rotation}` })),
    h("figcaption", {},
      item.at_s !== null && item.dictation
        ? h("button", { type: "button", class: "small", "data-key": `ph-p-${item.id}`, onclick: () => act.playAt(item) }, "What was being said")
        : null,
      mayEdit
        ? [
            h("label", {}, h("span", {}, "Caption"),
              h("input", { type: "text", value: item.caption ?? "", "data-key": `ph-c-${item.id}`, onblur: (/** @type {any} */ e) => typed(item, e.target, act), onkeydown: (/** @type {any} */ e) => e.key === "Enter" && typed(item, e.target, act) })),
            h("label", {}, h("span", {}, "Machine"),
              h("select", { "data-key": `ph-m-${item.id}`, onchange: (/** @type {any} */ e) => act.give(item, tag, e.target.value || null) },
                tags.map((t) => h("option", { value: t ?? "", selected: t === tag }, machineName(t))))),
            h("div", { class: "buttons" },
              h("button", { type: "button", class: "small", "data-key": `ph-t-${item.id}`, "aria-label": `Turn ${name}`, onclick: () => act.turn(item) }, "Turn"),
              h("button", { type: "button", class: "small", "data-key": `ph-l-${item.id}`, "aria-pressed": String(item.left_out), onclick: () => act.leaveOut(item) }, item.left_out ? "Put back" : "Leave out")),
          ]
        : [h("span", {}, name), h("span", { class: "tag" }, machineName(tag))]));
}
