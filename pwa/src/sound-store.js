// Recordings on disk: a recording is an ordered list of segments (one per recorder, each with its own header),
// a segment an ordered list of slices. Slices carry a number, their place in the segment and a SHA-256, because a
// missing middle slice plays without any error and only these reveal it.
import { write } from "./db.js";
import { sha256 } from "./ids.js";
import { outboxRow } from "./outbox-rows.js";

/** The name of the lock that says "this recording is being made in a living page". */
export const lockName = (id) => `hatchnote-recording-${id}`;

/** Begin a recording: its row, and its place in the outbox, in one transaction. `owner`: {id, name} of who speaks. */
export async function createRecording(db, { owner = null, ...recording }) {
  const row = { marks: [], state: "open", recovered: false, ...recording };
  await write(db, ["recordings", "outbox"], (recordings, outbox) => {
    outbox.put(outboxRow("recording", row.id, { visit: row.visit, created: row.started_at, owner }));
    return recordings.put(row);
  });
  return row;
}

export async function createSegment(db, segment) {
  const row = { bytes: 0, slices: 0, seconds: 0, sha256: null, state: "open", upload: null, proved: false, ...segment };
  await write(db, ["segments"], (segments) => segments.put(row));
  return row;
}

/** The segment is closed or gone: this slice, and all that follow it, have no place any more. */
export class NoPlace extends Error {
  constructor(message, { gone }) {
    super(message);
    this.gone = gone;
  }
}

/**
 * Store slice number `n` of a segment. Refuses a number out of order, so that a gap cannot arise unnoticed; the same
 * slice once more is no error, since a transaction may have been told as failed and yet be on disk.
 * `seconds` is the recorded time so far.
 */
export async function addSlice(db, segmentId, n, bytes, seconds) {
  const digest = await sha256(bytes);
  await write(db, ["segments", "slices"], async (segments, slices) => {
    const segment = await segments.get(segmentId);
    if (!segment) throw new NoPlace(`the segment ${segmentId} is gone`, { gone: true });
    if ((await slices.get([segmentId, n]))?.sha256 === digest) return;
    if (segment.state !== "open") throw new NoPlace(`the segment ${segmentId} is closed`, { gone: false });
    if (segment.slices !== n) throw new Error(`slice ${n} of ${segmentId} is out of order`);
    slices.add({ segment: segmentId, n, start: segment.bytes, size: bytes.byteLength, sha256: digest, bytes });
    segment.slices += 1;
    segment.bytes += bytes.byteLength;
    segment.seconds = seconds;
    await segments.put(segment);
  });
}

/** Bytes of a segment from offset `from` (to `to`, or to what is stored), as a list of ArrayBuffers. */
export function readBytes(db, segmentId, from = 0, to = Infinity) {
  return db.again(async (connection) => {
    const index = connection.transaction("slices").store.index("start");
    const before = IDBKeyRange.bound([segmentId, 0], [segmentId, from]);
    let cursor = await index.openCursor(before, "prev");
    if (!cursor) return [];
    const all = IDBKeyRange.bound(cursor.key, [segmentId, Infinity]);
    const parts = [];
    for (cursor = await index.openCursor(all); cursor; cursor = await cursor.continue()) {
      const { start, size, bytes } = cursor.value;
      if (start >= to) break;
      const part = bytes.slice(Math.max(0, from - start), Math.min(size, to - start));
      if (part.byteLength) parts.push(part);
    }
    return parts;
  });
}

export async function segmentsOf(db, recordingId) {
  const rows = await db.getAllFromIndex("segments", "recording", recordingId);
  return rows.sort((a, b) => a.seq - b.seq);
}

/**
 * Close a segment: check every slice's number and digest, and give the whole its SHA-256. What follows a damaged
 * slice cannot be decoded and is left out; the row then says so in `lost_slices`.
 */
export async function closeSegment(db, segmentId) {
  const segment = await db.get("segments", segmentId);
  if (!segment || segment.state === "closed") return segment;
  const slices = await db.getAll("slices", slicesOf(segmentId));
  const good = [];
  for (const slice of slices) {
    if (slice.n !== good.length || (await sha256(slice.bytes)) !== slice.sha256) break;
    good.push(slice.bytes);
  }
  const digest = await sha256(await new Blob(good).arrayBuffer());
  const closed = {
    ...segment,
    state: "closed",
    slices: good.length,
    bytes: good.reduce((sum, b) => sum + b.byteLength, 0),
    sha256: digest,
    lost_slices: slices.length - good.length,
  };
  // An upload may have noted its address meanwhile: take that from the row as it is now.
  const kept = await write(db, ["segments", "slices"], async (segments, kept) => {
    const now = await segments.get(segmentId);
    if (!now) return "gone";
    if ((await kept.count(slicesOf(segmentId))) !== slices.length) return "more";
    await segments.put({ ...closed, upload: now.upload, proved: now.proved });
    return "closed";
  });
  if (kept === "gone") return null;
  // A slice came while the digest was made: it belongs to the segment too.
  return kept === "more" ? closeSegment(db, segmentId) : closed;
}

/** Close a recording and its segments. A recording without a byte of sound is removed, since nothing was said. */
export async function closeRecording(db, id, { recovered = false, ended_at = new Date().toISOString() } = {}) {
  const recording = await db.get("recordings", id);
  if (!recording) return null;
  let bytes = 0;
  for (const segment of await segmentsOf(db, id)) bytes += (await closeSegment(db, segment.id))?.bytes ?? 0;
  if (bytes === 0) {
    await removeEmpty(db, id);
    return null;
  }
  const closed = { ...recording, state: "closed", recovered: recording.recovered || recovered, ended_at };
  await write(db, ["recordings"], async (recordings) => {
    const now = await recordings.get(id);
    await recordings.put({ ...closed, marks: now.marks });
  });
  return closed;
}

export async function addMark(db, recordingId, mark) {
  await write(db, ["recordings"], async (recordings) => {
    const row = await recordings.get(recordingId);
    if (!row) return;
    row.marks.push(mark);
    await recordings.put(row);
  });
}

/** All slices of a segment, as a key range. */
export const slicesOf = (segmentId) => IDBKeyRange.bound([segmentId, 0], [segmentId, Infinity]);

/** All of it is proved to be at the server and its sound is gone from here; the row stays, to follow its reading. */
export function markSent(db, id) {
  return write(db, ["recordings"], async (recordings) => recordings.put({ ...(await recordings.get(id)), state: "sent" }));
}

async function removeEmpty(db, id) {
  const segments = await segmentsOf(db, id);
  await write(db, ["recordings", "segments", "outbox"], (recordings, segs, outbox) => {
    for (const s of segments) segs.delete(s.id);
    outbox.delete(id);
    return recordings.delete(id);
  });
}

/** Sound of a recording still on this phone: one Blob a segment. */
export async function soundOf(db, recordingId) {
  const out = [];
  for (const s of await segmentsOf(db, recordingId)) {
    const parts = await readBytes(db, s.id);
    if (parts.length) out.push(new Blob(parts, { type: s.mime }));
  }
  return out;
}
