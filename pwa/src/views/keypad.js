// The big keypad for one reading: plays its seconds, offers the other ways to hear it, keeps what was heard in sight.
import { button, dialog, h, icon, repaint } from "../dom.js";
import { follows, preview } from "../preview.js";
import { capital, machineName, number, readingName, valueText, word } from "../words.js";

const ROWS = ["1", "2", "3", "4", "5", "6", "7", "8", "9", ".", "0", "⌫"];
/** On a low screen the keys come first. */
const mostShown = () => (innerHeight > 720 ? 2 : 1);
const ASK_AFTER_MS = 300;
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

/**
 * `place`: {document, machine, site_id} of the draft. Resolves with {value…} or {text} to set, "accept", "remove", or
 * null for no change.
 */
export async function openKeypad(app, reading, place) {
  const machine = machineName(place.machine.tag);
  app.speaker.stop();
  if (hasSound(reading)) app.player.play(reading.heard).catch(() => {});
  const answer = await dialog(readingName(reading), (close) => (reading.text ? textForm : numberForm)(app, reading, machine, close, place), { kind: "keypad" });
  app.player.stop();
  return answer;
}

function heard(app, reading, machine, close) {
  const line = h("p", { class: "heard" }, reading.said ? `Heard on ${machine}: “${reading.said}”` : machine);
  const play = button("Play it", {
    picture: "play",
    onclick: async () => {
      if (!(await app.player.play(reading.heard))) line.textContent = "The sound is at the office; it plays when there is a network.";
    },
  });
  return [
    // At the head, far from the keys and from "Use": it is the one thing here that takes away.
    h("div", { class: "heard-row" }, line, button("Take it out", { onclick: () => close("remove") })),
    reading.check && h("p", { class: "flag" }, icon("warn"), h("span", {}, capital(reading.check.why))),
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

/** What is worked out from this reading: as it stands, and as it would be with what is typed. */
function whatFollows(app, reading, place) {
  const list = follows(place.machine, reading).slice(0, mostShown());
  // Its lines have their room from the start: the keys must not move under the finger.
  const box = h("p", { class: list.length > 1 ? "follows two" : "follows", role: "status" });
  let timer = null;
  let asked = 0;
  const say = (lines) => repaint(box, lines.map((l) => h("span", {}, l)));
  const as = (value, unit) => `${number(value)} ${unit}`.trim();
  const name = (c) => capital(word(c.name));
  const now = () => say(list.map((c) => `Gives ${word(c.name)} ${as(c.value, c.unit)}`));
  async function ask(value) {
    const mine = ++asked;
    const results = await preview(app.api, place, reading, value);
    if (mine !== asked) return;
    say(
      results.slice(0, list.length).map((r) => {
        if (!r.after) return `${name(r)}: worked out when the server answers`;
        const is = { within: ", as expected", outside: ", not as expected" }[r.after.judgement] ?? "";
        return `${name(r)} ${as(r.before, "")} → ${as(r.after.value, r.unit)}${is}`;
      }),
    );
  }
  now();
  return {
    box: list.length > 0 && box,
    typed(value) {
      clearTimeout(timer);
      asked++;
      if (!list.length) return;
      if (value === null || value === reading.value) return now();
      timer = setTimeout(() => ask(value), ASK_AFTER_MS);
    },
  };
}

function numberForm(app, reading, machine, close, place) {
  let typed = "";
  const following = whatFollows(app, reading, place);
  const shown = h("output", { class: "typed", "aria-live": "polite" });
  const use = button("", { kind: "main", key: "use", onclick: () => close({ value: typedNumber(typed) }) });
  const paint = () => {
    const value = typedNumber(typed);
    shown.textContent = typed || valueText(reading);
    shown.classList.toggle("old", !typed);
    following.typed(value);
    use.disabled = value === null;
    use.querySelector("span").textContent = value === null ? "Type the value" : `Use ${number(value)} ${reading.unit ?? ""}`.trim();
  };
  const key = (k) => h("button", { type: "button", class: "key", "aria-label": NAMES[k] ?? k, onclick: () => ((typed = press(typed, k)), paint()) }, k);
  paint();
  return [
    heard(app, reading, machine, close),
    alternatives(reading, close),
    h("div", { class: "typed-row" }, h("button", { type: "button", class: "key", "aria-label": "Minus", onclick: () => ((typed = press(typed, "−")), paint()) }, "±"), shown, h("span", { class: "unit" }, reading.unit ?? "")),
    following.box,
    h("div", { class: "keys" }, ROWS.map(key)),
    h("div", { class: "dock-row foot" }, button("Back", { onclick: () => close() }), use),
  ];
}

function textForm(app, reading, machine, close) {
  const field = h("input", { id: "text", type: "text", value: reading.text, autocomplete: "off", autocapitalize: "characters" });
  return [
    heard(app, reading, machine, close),
    alternatives(reading, close),
    h(
      "form",
      { class: "form", onsubmit: (e) => (e.preventDefault(), field.value.trim() && close({ text: field.value.trim() })) },
      h("label", { for: "text" }, "Reads"),
      field,
        h("div", { class: "dock-row foot" }, button("Back", { onclick: () => close() }), h("button", { class: "button main", type: "submit" }, "Use this")),
    ),
  ];
}
