// The plain words shown and spoken for what the ticket holds. Slugs are the trade's own words joined by hyphens.

const SPECIAL = { co: "CO", "variable-frequency-drive": "drive", "supply-fan-motor": "supply fan motor" };
const SPOKEN_UNITS = {
  "in. w.c.": "inches",
  psig: "psig",
  "°F": "degrees",
  V: "volts",
  A: "amps",
  kΩ: "kilohms",
  Ω: "ohms",
  MΩ: "megohms",
  µF: "microfarads",
  µA: "microamps",
  rpm: "r p m",
  Hz: "hertz",
  "%": "percent",
  "lb": "pounds",
  "oz": "ounces",
};
const STATES = {
  done: "Done",
  needed: "Needed",
  recommended: "Recommended",
  declined: "Declined by the customer",
  "not-done": "Not done",
};

export const word = (slug) => SPECIAL[slug] ?? (slug ?? "").replaceAll("-", " ");
export const stateWord = (slug) => STATES[slug] ?? word(slug);
export const capital = (text) => (text ? text[0].toUpperCase() + text.slice(1) : text);
export const machineName = (tag) => tag ?? "No particular machine";

/** "Compressor 1 current, L1-L2, as found". */
export function readingName(r) {
  const what = [r.component ? word(r.component) : "", r.number ?? "", word(r.point)].filter(Boolean).join(" ");
  const more = [
    r.circuit ? `circuit ${r.circuit}` : "",
    r.stage ? `${r.stage} stage` : "",
    word(r.position),
    r.legs ?? "",
    r.basis && r.basis !== "measured" ? word(r.basis) : "",
    r.moment ? word(r.moment) : "",
  ].filter(Boolean);
  return capital([what, ...more].join(", "));
}

/** "3.4", "11.20" as said stays a number: no more digits than it has. */
export function valueText(r) {
  if (r.text) return r.text;
  return r.value === null || r.value === undefined ? "—" : number(r.value);
}

export function number(value) {
  return Number.isInteger(value) ? String(value) : String(Math.round(value * 1e4) / 1e4);
}

export function itemName(kind, item) {
  if (kind === "reading") return readingName(item);
  const on = [word(item.component), item.number ?? ""].filter(Boolean).join(" ");
  if (kind === "work") return capital([word(item.verb), on, item.detail ?? ""].filter(Boolean).join(" "));
  if (kind === "part") return capital([item.quantity > 1 ? `${number(item.quantity)} ×` : "", item.description || on, item.size ?? ""].filter(Boolean).join(" "));
  return capital(`${on}: ${word(item.condition)}`);
}

// ------------------------------------------------------------------ spoken

export function spokenReading(r) {
  const value = r.text ?? (r.value === null ? "no value" : number(r.value).replace("-", "minus "));
  const unit = r.text ? "" : (SPOKEN_UNITS[r.unit] ?? r.unit ?? "");
  return `${readingName(r)}: ${value} ${unit}`.trim() + ".";
}

/** What is read back for one machine, one sentence an entry (long ones stall some voices): checks and gaps first. */
export function spokenMachine(machine, checks) {
  const out = [`${machineName(machine.tag)}.`];
  if (checks.length) {
    out.push(checks.length === 1 ? "One thing to check." : `${checks.length} things to check.`);
    for (const { kind, item } of checks) {
      const what = kind === "reading" ? spokenReading(item) : `${itemName(kind, item)}.`;
      out.push(`${what} ${item.check ? item.check.why : "The office wrote something else."}`);
    }
  }
  if (machine.missing.length) {
    out.push("Still missing:");
    for (const m of machine.missing) out.push(`${capital(m.what)}.`);
  }
  const settled = machine.readings.filter((r) => !r.check);
  if (settled.length) out.push("Readings.");
  for (const r of settled) out.push(spokenReading(r));
  if (machine.cautions.length) for (const c of machine.cautions) out.push(`Mind: ${c.text}`);
  return out;
}

// ------------------------------------------------------------------ time

export function clock(seconds) {
  const s = Math.floor(seconds);
  return `${Math.floor(s / 60)}:${String(s % 60).padStart(2, "0")}`;
}

export function today(now = new Date()) {
  const local = new Date(now.getTime() - now.getTimezoneOffset() * 60_000);
  return local.toISOString().slice(0, 10);
}

export function timeOfDay(iso) {
  return new Date(iso).toLocaleTimeString([], { hour: "numeric", minute: "2-digit" });
}

export const count = (n, one, many = `${one}s`) => `${n} ${n === 1 ? one : many}`;
