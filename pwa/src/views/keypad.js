// The big keypad for one reading: plays its seconds, offers the other ways to hear it, keeps what was heard in sight.
import { button, dialog, h, icon } from "../dom.js";
import { number, readingName, valueText } from "../words.js";

const ROWS = ["1", "2", "3", "4", "5", "6", "7", "8", "9", ".", "0", "⌫"];
const NAMES = { ".": "point", "⌫": "Take back the last digit" };

/** False for what was typed: there is nothing to play. */
export const hasSound = (item) => Boolean(item.heard?.dictation) && (item.heard.start ?? null) !== null;

/** Press a key on what is typed so far; pure. */
export function press(typed, key) {
  if (key === "⌫") return typed.slice(0, -1);
  if (key === "−") return typed.startsWith("-") ? typed.slice(1) : `-${typed}`;
  if (key === ".") return typed.includes(".") ? typed : `${typed || "0"}.`;
  return typed.length < 9 ? typed + key : typed;
}

/** The number typed, or null while it is none yet. */
export function typedNumber(typed) {
  return /^-?\d+(\.\d*)?$/.test(typed) ? Number(typed) : null;
}

/** Resolves with {value…} or {text} to set, "accept", "remove", or null for no change. */
export async function openKeypad(app, reading, machine) {
  app.speaker.stop();
  if (hasSound(reading)) app.player.play(reading.heard).catch(() => {});
  const answer = await dialog(readingName(reading), (close) => (reading.text ? textForm : numberForm)(app, reading, machine, close), { kind: "keypad" });
  app.player.stop();
  return answer;
}

function heard(app, reading, machine) {
  const line = h("p", { class: "heard" }, reading.said ? `Heard on ${machine}: “${reading.said}”` : machine);
  const play = button("Play it", {
    picture: "play",
    onclick: async () => {
      if (!(await app.player.play(reading.heard))) line.textContent = "The sound is at the office; it plays when there is a network.";
    },
  });
  return [
    line,
    reading.check && h("p", { class: "flag" }, icon("warn"), h("span", {}, reading.check.why)),
    hasSound(reading) && h("div", { class: "dock-row" }, play),
  ];
}

function alternatives(reading, close) {
  const list = reading.check?.alternatives ?? [];
  const buttons = list.map((a) => button(a.text, { key: `alt-${a.text}`, kind: "alternative", onclick: () => close(changeTo(reading, a)) }));
  if (reading.check) buttons.unshift(button(`${valueText(reading)} ${reading.text ? "" : (reading.unit ?? "")}`.trim(), { key: "as-heard", kind: "alternative", picture: "done", onclick: () => close("accept") }));
  return buttons.length ? h("div", { class: "alternatives", role: "group", "aria-label": "Which is it?" }, buttons) : null;
}

/** An alternative as the fields to set. */
export function changeTo(reading, alternative) {
  if (alternative.value === null) return { value: null, text: alternative.text };
  const unit = alternative.ucum && alternative.ucum !== reading.ucum ? { ucum: alternative.ucum } : {};
  return { value: alternative.value, ...unit, ...(reading.text ? { text: null } : {}) };
}

function numberForm(app, reading, machine, close) {
  let typed = "";
  const shown = h("output", { class: "typed", "aria-live": "polite" });
  const use = button("", { kind: "main wide", key: "use", onclick: () => close({ value: typedNumber(typed) }) });
  const paint = () => {
    const value = typedNumber(typed);
    shown.textContent = typed || valueText(reading);
    shown.classList.toggle("old", !typed);
    use.disabled = value === null;
    use.querySelector("span").textContent = value === null ? "Type the value" : `Use ${number(value)} ${reading.unit ?? ""}`.trim();
  };
  const key = (k) => h("button", { type: "button", class: "key", "aria-label": NAMES[k] ?? k, onclick: () => ((typed = press(typed, k)), paint()) }, k);
  paint();
  return [
    heard(app, reading, machine),
    alternatives(reading, close),
    h("div", { class: "typed-row" }, h("button", { type: "button", class: "key", "aria-label": "Minus", onclick: () => ((typed = press(typed, "−")), paint()) }, "±"), shown, h("span", { class: "unit" }, reading.unit ?? "")),
    h("div", { class: "keys" }, ROWS.map(key)),
    h("div", { class: "dock-row" }, button("Back", { onclick: () => close() }), button("Take it out", { onclick: () => close("remove") })),
    use,
  ];
}

function textForm(app, reading, machine, close) {
  const field = h("input", { id: "text", type: "text", value: reading.text, autocomplete: "off", autocapitalize: "characters" });
  return [
    heard(app, reading, machine),
    alternatives(reading, close),
    h(
      "form",
      { class: "form", onsubmit: (e) => (e.preventDefault(), field.value.trim() && close({ text: field.value.trim() })) },
      h("label", { for: "text" }, "Reads"),
      field,
      h("div", { class: "dock-row" }, button("Back", { onclick: () => close() }), button("Take it out", { onclick: () => close("remove") })),
      h("button", { class: "button main wide", type: "submit" }, "Use this"),
    ),
  ];
}
