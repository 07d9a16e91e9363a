import { open, write } from "/src/db.js";
import { prune } from "/src/prune.js";
import { NoPlace, addSlice, closeRecording, closeSegment, createRecording, createSegment, readBytes } from "/src/sound-store.js";
import { madeAt, sha256, uuidv7 } from "/src/ids.js";
import { equal, freshDb, ok, rejects, test, until } from "./harness.js";

const bytes = (...values) => new Uint8Array(values).buffer;
const joined = async (parts) => [...new Uint8Array(await new Blob(parts).arrayBuffer())];

async function recorded(db, ...slices) {
  await createRecording(db, { id: "r", visit: "v", started_at: "2026-01-01T00:00:00Z" });
  await createSegment(db, { id: "s", recording: "r", seq: 0, mime: "audio/webm" });
  for (const [n, s] of slices.entries()) await addSlice(db, "s", n, bytes(...s), n + 1);
}

test("slices come back in order from any offset", async () => {
  const db = await freshDb();
  await recorded(db, [1, 2, 3], [4], [5, 6]);
  equal(await joined(await readBytes(db, "s")), [1, 2, 3, 4, 5, 6]);
  equal(await joined(await readBytes(db, "s", 2)), [3, 4, 5, 6]);
  equal(await joined(await readBytes(db, "s", 1, 5)), [2, 3, 4, 5]);
  equal(await joined(await readBytes(db, "s", 3, 4)), [4]);
  equal(await joined(await readBytes(db, "s", 6)), []);
});

test("offsets with more than nine slices sort as numbers", async () => {
  const db = await freshDb();
  await recorded(db, ...Array.from({ length: 25 }, (_, i) => [i]));
  equal(await joined(await readBytes(db, "s", 8, 12)), [8, 9, 10, 11]);
});

test("a slice out of order is refused", async () => {
  const db = await freshDb();
  await recorded(db, [1]);
  await rejects(addSlice(db, "s", 2, bytes(3), 3), (e) => /out of order/.test(e.message));
  equal((await db.get("segments", "s")).slices, 1);
  equal(await db.count("slices"), 1);
});

test("creating a recording puts it into the outbox in the same step", async () => {
  const db = await freshDb();
  await recorded(db);
  equal((await db.get("outbox", "r")).kind, "recording");
});

test("closing gives the digest of the whole", async () => {
  const db = await freshDb();
  await recorded(db, [1, 2, 3], [4]);
  const segment = await closeSegment(db, "s");
  equal(segment.sha256, await sha256(bytes(1, 2, 3, 4)));
  equal([segment.bytes, segment.slices, segment.lost_slices], [4, 2, 0]);
});

test("what follows a damaged slice is left out and counted", async () => {
  const db = await freshDb();
  await recorded(db, [1, 2], [3, 4], [5, 6]);
  await write(db, ["slices"], async (slices) => {
    const row = await slices.get(["s", 1]);
    await slices.put({ ...row, bytes: bytes(9, 9) });
  });
  const segment = await closeSegment(db, "s");
  equal([segment.bytes, segment.slices, segment.lost_slices], [2, 1, 2]);
  equal(segment.sha256, await sha256(bytes(1, 2)));
});

test("a missing middle slice is noticed", async () => {
  const db = await freshDb();
  await recorded(db, [1], [2], [3]);
  await db.delete("slices", ["s", 1]);
  equal((await closeSegment(db, "s")).lost_slices, 1);
});

test("a recording without a byte leaves no trace", async () => {
  const db = await freshDb();
  await recorded(db);
  equal(await closeRecording(db, "r"), null);
  for (const store of ["recordings", "segments", "outbox"]) equal(await db.count(store), 0, store);
});

test("closing keeps marks that were set meanwhile", async () => {
  const db = await freshDb();
  await recorded(db, [1]);
  const closing = closeRecording(db, "r", { recovered: true });
  await write(db, ["recordings"], async (rows) => rows.put({ ...(await rows.get("r")), marks: [{ at_s: 1, kind: "photo" }] }));
  const row = await closing;
  const kept = await db.get("recordings", "r");
  ok(kept.state === "closed" && kept.recovered, "closed");
  equal(kept.marks.length, 1);
  equal(row.id, "r");
});

test("the same slice once more is no error and changes nothing", async () => {
  const db = await freshDb();
  await recorded(db, [1, 2], [3]);
  await addSlice(db, "s", 1, bytes(3), 2);
  const segment = await db.get("segments", "s");
  equal([segment.slices, segment.bytes], [2, 3]);
  await rejects(addSlice(db, "s", 1, bytes(4), 2), (e) => /out of order/.test(e.message));
});

test("a slice that comes after closing is refused, so that size and digest hold", async () => {
  const db = await freshDb();
  await recorded(db, [1, 2]);
  const closed = await closeSegment(db, "s");
  await rejects(addSlice(db, "s", 1, bytes(3), 2), (e) => e instanceof NoPlace && !e.gone);
  const now = await db.get("segments", "s");
  equal([now.bytes, now.sha256], [closed.bytes, closed.sha256]);
});

test("a store that was cleared is told from one that is closed", async () => {
  const db = await freshDb();
  await recorded(db, [1]);
  await db.delete("segments", "s");
  await rejects(addSlice(db, "s", 1, bytes(3), 2), (e) => e instanceof NoPlace && e.gone);
});

test("a connection that the phone cut opens itself again", async () => {
  const db = await freshDb();
  await recorded(db, [1, 2]);
  await db.again((connection) => connection.close());
  await addSlice(db, "s", 1, bytes(3), 2);
  await db.again((connection) => connection.close());
  equal(await joined(await readBytes(db, "s")), [1, 2, 3]);
  await db.again((connection) => connection.close());
  equal(await db.count("slices"), 2);
});

test("a page that needs a newer store waits until this one may close", async () => {
  const name = `test-${crypto.randomUUID()}`;
  let release;
  const told = [];
  const old = await open({ name, mayClose: () => new Promise((r) => (release = r)), onClosed: () => told.push("closed") });
  const newer = new Promise((resolve, reject) => {
    const request = indexedDB.open(name, 2);
    request.onblocked = () => told.push("blocked");
    request.onsuccess = () => resolve(request.result.close());
    request.onerror = () => reject(request.error);
  });
  await until(() => release && told.includes("blocked"), "the newer page to be held");
  await old.put("kv", 1, "still here");
  release();
  await newer;
  equal(told, ["blocked", "closed"]);
  await rejects(old.get("kv", "still here"), (e) => e.name === "InvalidStateError");
});

test("what was sent long ago goes; what waits stays", async () => {
  const db = await freshDb();
  const day = 86_400_000;
  const now = Date.now();
  const [old, young] = [uuidv7(now - 20 * day), uuidv7(now - day)];
  const at = (id) => new Date(madeAt(id)).toISOString();
  for (const [id, state] of [[old, "sent"], [young, "sent"], ["unsent", "closed"]]) {
    await db.put("recordings", { id, visit: "v", state, started_at: id === young ? at(young) : at(old) });
    await db.put("segments", { id: `s-${id}`, recording: id });
  }
  await db.put("outbox", { id: "unsent", kind: "recording", state: "waiting" });
  await db.put("photos", { id: old, visit: "v", proved: true });
  await db.put("photos", { id: young, visit: "v", proved: true, taken_at: "2001-01-01T00:00:00Z" });
  for (const id of ["t", "corrected"]) await db.put("tickets", { id, at: at(old) });
  await db.put("edits", { id: "e", ticket: "corrected" });
  await prune(db, now);
  equal((await db.getAll("recordings")).map((r) => r.id).sort(), [young, "unsent"].sort(), "recordings");
  equal((await db.getAll("segments")).map((s) => s.recording).sort(), [young, "unsent"].sort(), "segments");
  equal((await db.getAll("photos")).map((p) => p.id), [young], "photos");
  equal((await db.getAll("tickets")).map((t) => t.id), ["corrected"], "drafts");
});
