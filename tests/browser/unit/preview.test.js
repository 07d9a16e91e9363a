import { follows, preview, sameIn, textWith } from "/src/preview.js";
import { equal, ok, test } from "./harness.js";

const words = (text) => text.split(" ").map((w) => ({ text: w }));
const TEXT = "RTU 3. Suction pressure 118, suction line temperature 55.";
const reading = (id, point, value, unit, said) => {
  const from = TEXT.indexOf(said, TEXT.indexOf(point.replaceAll("-", " ").slice(1)));
  return { id, point, value, unit, said, heard: { dictation: "d", from, to: from + said.length } };
};
const pressure = reading("p", "suction-pressure", 118, "psig", "118");
const line = reading("t", "suction-line-temperature", 55, "°F", "55");
const superheat = { id: "c", name: "superheat", unit: "°F", value: 15.2, from: ["p", "t"], source: "definition" };
const machine = { tag: "RTU-3", readings: [pressure, line], computed: [superheat, { ...superheat, id: "r", source: "as read" }, { ...superheat, id: "n", value: null }] };
const place = { document: { dictations: [{ id: "d", words: words(TEXT) }] }, machine, site_id: null };
const answer = (value, readings) => ({
  computed: [{ ...superheat, value, from: ["x", "y"], judgement: "within" }],
  facts: [{ readings: readings.map(([id, point, v]) => ({ id, point, value: v })) }],
});
const GOOD = answer(12.1, [["x", "suction-pressure", 125], ["y", "suction-line-temperature", 55]]);

test("only what is worked out from the reading follows from it", () => {
  equal(follows(machine, pressure).map((c) => c.id), ["c"]);
  equal(follows(machine, { id: "other" }), []);
});

test("the text is what was said with the new value in its place", () => {
  equal(textWith(place.document, machine.readings, pressure, 125), "RTU 3. Suction pressure 125 psig, suction line temperature 55 °F.");
});

test("words that are not found where they were said give no text", () => {
  const moved = { ...pressure, heard: { ...pressure.heard, from: 3, to: 6 } };
  equal(textWith(place.document, [moved, line], moved, 125), null);
  equal(textWith({ dictations: [] }, machine.readings, pressure, 125), null);
});

test("an answer counts only when it went by the same readings", () => {
  equal(sameIn(GOOD, superheat, machine.readings, pressure, 125)?.value, 12.1);
  equal(sameIn(answer(9, [["x", "suction-pressure", 25], ["y", "suction-line-temperature", 55]]), superheat, machine.readings, pressure, 125), null);
  equal(sameIn(answer(null, []), superheat, machine.readings, pressure, 125), null);
  equal(sameIn({ computed: [], facts: [] }, superheat, machine.readings, pressure, 125), null);
});

test("without an answer the preview says so by null", async () => {
  const asked = [];
  const api = { call: async (...given) => (asked.push(given), GOOD) };
  equal((await preview(api, place, pressure, 125)).map((r) => [r.name, r.before, r.after?.value]), [["superheat", 15.2, 12.1]]);
  ok(asked[0][2].json.text.includes("125 psig") && asked[0][2].json.equipment[0] === "RTU-3", "what was asked");
  const dead = { call: async () => Promise.reject(new Error("no network")) };
  equal((await preview(dead, place, pressure, 125)).map((r) => r.after), [null]);
});
