import { checksOf, correction, find, looksRight, makeEdit, overlay, settle, wanted, wordsAround } from "/src/edits.js";
import { equal, ok, test } from "./harness.js";

const reading = { id: "a", point: "manifold-pressure", value: 3.8, unit: "in. w.c.", ucum: "[in_i'H2O]", text: null, said: "three point eight", check: { why: "two hearings differ", alternatives: [] } };
const machine = (tag, ...readings) => ({ tag, summary: "", readings, work: [], parts: [], findings: [], computed: [], cautions: [], missing: [], photos: [] });
const ticket = () => ({ id: "t", equipment: [machine("RTU-1", { ...reading })], dictations: [{ id: "d", words: ["the", "flame", "sensor", "is", "white"].map((text, i) => ({ text, start: i * 2, end: i * 2 + 0.5, p: 1 })) }] });

test("a correction sets only what differs and accepts the check", () => {
  const made = correction("t", "reading", reading, { value: 3.4, unit: "in. w.c." });
  equal(made.map((e) => [e.op, e.field, e.before, e.after]), [["set", "value", 3.8, 3.4], ["accept", null, null, null]]);
});

test("laying edits over a ticket leaves the ticket and what was heard alone", () => {
  const before = ticket();
  const after = overlay(before, correction("t", "reading", reading, { value: 3.4 }));
  const r = find(after, "reading", "a").item;
  equal([r.value, r.check, r.said, r.waiting], [3.4, null, "three point eight", true]);
  equal(before, ticket());
});

test("moving takes an item to a machine that did not exist yet", () => {
  const after = overlay(ticket(), [makeEdit("t", { op: "move", kind: "reading", item: "a", after: "RTU-2" })]);
  equal(after.equipment.map((m) => [m.tag, m.readings.length]), [["RTU-1", 0], ["RTU-2", 1]]);
});

test("looks right settles the open checks one by one, then the machine", () => {
  const [m] = ticket().equipment;
  const made = looksRight("t", m);
  equal(made.map((e) => [e.op, e.kind, e.item, e.before]), [["accept", "reading", "a", { value: 3.8, text: null }], ["accept", "machine", "RTU-1", null]]);
  const [after] = overlay(ticket(), made).equipment;
  equal([checksOf(after).length, after.looked_at], [0, true]);
});

test("accepting what was changed meanwhile can be held on to by setting it", () => {
  const clash = { ...looksRight("t", ticket().equipment[0])[0], field: "value", theirs: 3.5 };
  const again = settle(clash, "mine");
  equal([wanted(clash), again.op, again.field, again.before, again.after], [3.8, "set", "value", 3.5, 3.8]);
});

test("an edit of something the office removed does no harm", () => {
  equal(overlay(ticket(), [makeEdit("t", { op: "set", kind: "reading", item: "gone", field: "value", after: 1 })]), ticket());
});

test("a conflict is shown on its item and changes no value", () => {
  const clash = { ...makeEdit("t", { op: "set", kind: "reading", item: "a", field: "value", before: 3.8, after: 3.4 }), state: "conflict", theirs: 3.5 };
  const after = overlay({ ...ticket(), equipment: [machine("RTU-1", { ...reading, check: null })] }, [clash]);
  equal(after.equipment[0].readings[0].value, 3.8);
  equal(checksOf(after.equipment[0]).length, 1);
});

test("keeping one's own is a new edit upon theirs; keeping theirs sends nothing", () => {
  const clash = { ...makeEdit("t", { op: "set", kind: "reading", item: "a", field: "value", before: 3.8, after: 3.4 }), theirs: 3.5 };
  const again = settle(clash, "mine");
  equal([again.before, again.after, again.id === clash.id], [3.5, 3.4, false]);
  equal(settle(clash, "theirs"), null);
});

test("a caption is offered from the words around the moment", () => {
  equal(wordsAround(ticket(), "d", 3, 1.5, 2), "flame sensor");
  equal(wordsAround(ticket(), "unknown", 3), "");
});
