import { clock, itemName, number, readingName, spokenMachine, spokenReading, valueText } from "/src/words.js";
import { press, typedNumber, changeTo } from "/src/views/keypad.js";
import { pick } from "/src/speak.js";
import { recorderType } from "/src/supported.js";
import { equal, ok, test } from "./harness.js";

test("a reading is named as one would say it", () => {
  equal(readingName({ point: "current", component: "compressor", number: "1", legs: "L1-L2", moment: "as-found", basis: "measured" }), "Compressor 1 current, L1-L2, as found");
  equal(readingName({ point: "co", position: "flue", basis: "measured" }), "CO, flue");
});

test("numbers are shown without noise of the machine", () => {
  equal([number(0.1 + 0.2), number(480), number(-5.5)], ["0.3", "480", "-5.5"]);
  equal(valueText({ value: null, text: "open" }), "open");
  equal(valueText({ value: 0, text: null }), "0");
});

test("units are spoken as words", () => {
  equal(spokenReading({ point: "manifold-pressure", value: 3.4, unit: "in. w.c.", text: null }), "Manifold pressure: 3.4 inches.");
  equal(spokenReading({ point: "outdoor-air-temperature", value: -5, unit: "°F", text: null }), "Outdoor air temperature: minus 5 degrees.");
});

test("reading back begins with what is doubtful and what is missing", () => {
  const r = { point: "voltage", value: 208, unit: "V", text: null, check: { why: "two hearings differ", alternatives: [] } };
  const said = spokenMachine({ tag: "RTU-1", readings: [r], missing: [{ what: "supply air temperature" }], cautions: [] }, [{ kind: "reading", item: r }]);
  equal(said, ["RTU-1.", "One thing to check.", "Voltage: 208 volts. two hearings differ", "Still missing:", "Supply air temperature."]);
});

test("work and findings are named with their object", () => {
  equal(itemName("work", { verb: "replace", component: "run-capacitor", number: null }), "Replace run capacitor");
  equal(itemName("finding", { component: "contactor", condition: "pitted" }), "Contactor: pitted");
});

test("the keypad writes numbers a person means", () => {
  const type = (keys) => [...keys].reduce(press, "");
  equal([type("3.4"), type(".5"), type("3..4"), type("12⌫3"), type("5−"), type("5−−")], ["3.4", "0.5", "3.4", "13", "-5", "5"]);
  equal([typedNumber("3."), typedNumber(""), typedNumber("-"), typedNumber("-0.5")], [3, null, null, -0.5]);
});

test("an alternative sets a unit only where it differs", () => {
  const r = { value: 38, ucum: "[psi]", text: null };
  equal(changeTo(r, { value: 118, ucum: "[psi]", text: "118 psig" }), { value: 118 });
  equal(changeTo(r, { value: null, ucum: null, text: "open" }), { value: null, text: "open" });
});

test("a clock counts minutes beyond the hour", () => {
  equal([clock(9.9), clock(65), clock(3700)], ["0:09", "1:05", "61:40"]);
});

test("a voice that works without a network is preferred", () => {
  const voices = [{ lang: "de-DE", localService: true }, { lang: "en-US", localService: false }, { lang: "en_GB", localService: true }];
  ok(pick(voices, "en-US") === voices[2], "local first");
  ok(pick([], "en-US") === null, "none");
});

test("the recorder's type is asked for in order", () => {
  equal(recorderType((t) => t.startsWith("audio/mp4")), "audio/mp4");
  equal(recorderType(() => true), "audio/webm;codecs=opus");
  equal(recorderType(() => false), "");
});
