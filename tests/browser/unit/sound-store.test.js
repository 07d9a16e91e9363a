import { write } from "/src/db.js";
import { addSlice, closeRecording, closeSegment, createRecording, createSegment, readBytes } from "/src/sound-store.js";
import { sha256 } from "/src/ids.js";
import { equal, freshDb, ok, rejects, test } from "./harness.js";

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
