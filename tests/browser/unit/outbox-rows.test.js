import { backoff, counts, due, outboxRow } from "/src/outbox-rows.js";
import { equal, ok, test } from "./harness.js";

test("waiting grows to a minute and never beyond a minute and a quarter", () => {
  const waits = [1, 2, 3, 4, 5, 6, 7, 20].map((tries) => backoff(tries, 0.5));
  equal(waits, [1, 2, 4, 8, 16, 32, 60, 60]);
  ok(backoff(1, 0) === 0.75 && backoff(20, 1) === 75, "the random part");
});

test("what belongs to a visit waits for the visit", () => {
  const rows = [
    outboxRow("recording", "r", { visit: "v", created: "1" }),
    outboxRow("visit", "v", { created: "2" }),
    outboxRow("photo", "p", { visit: "other", created: "3" }),
  ];
  equal(due(rows, 0).map((r) => r.id), ["v", "p"]);
  rows[1].state = "sent";
  equal(due(rows, 0).map((r) => r.id), ["r", "p"]);
});

test("that all was looked through is said last", () => {
  const rows = [outboxRow("status", "s", { visit: "v", created: "1" }), outboxRow("recording", "r", { visit: "v", created: "2" })];
  equal(due(rows, 0).map((r) => r.id), ["r"]);
  rows[1].state = "sent";
  equal(due(rows, 0).map((r) => r.id), ["s"]);
});

test("order is the order of making; what backs off is left alone until its time", () => {
  const rows = [outboxRow("photo", "b", { created: "2" }), outboxRow("photo", "a", { created: "1" }), outboxRow("photo", "c", { created: "0", next_at: 50 })];
  equal(due(rows, 49).map((r) => r.id), ["a", "b"]);
  equal(due(rows, 50).map((r) => r.id), ["c", "a", "b"]);
});

test("rows are counted by state", () => {
  equal(counts([{ state: "waiting" }, { state: "failed" }, { state: "waiting" }]), { waiting: 2, sending: 0, failed: 1, sent: 0 });
});

test("what somebody else made waits for him", () => {
  const nell = { id: "n", name: "Nell" };
  const rows = [outboxRow("photo", "a", { created: "1", owner: nell }), outboxRow("photo", "b", { created: "2" })];
  equal(due(rows, 0, "bob").map((r) => r.id), ["b"], "for Bob");
  equal(due(rows, 0, "n").map((r) => r.id), ["a", "b"], "for Nell");
  equal(due(rows, 0).map((r) => r.id), ["b"], "for nobody");
});

test("a clock that was put back does not hold anything up", () => {
  const rows = [outboxRow("photo", "a", { next_at: 10_000_000 })];
  equal(due(rows, 10_000_000 - 60_000).length, 0, "within the longest wait");
  equal(due(rows, 10_000_000 - 3_600_000).length, 1, "an hour back");
});
