// How each kind of thing in the outbox is sent. Every function may be run again at any time with one result: ids
// are made on the phone and the server's PUTs are idempotent.
import { ApiError } from "./api.js";
import { isFull, write } from "./db.js";
import { closeRecording, lockName, markSent, readBytes, segmentsOf, slicesOf } from "./sound-store.js";
import { UPLOAD_LOST, upload } from "./upload.js";

const POLL_MS = 500;

export const senders = { visit, recording, photo, note, edits, status };

async function visit(db, api, row) {
  const { site_id, site_name, date, technician_id } = await db.get("visits", row.id);
  const site = site_id ? { site_id } : { site_name };
  const saved = await api.call("PUT", `/visits/${row.id}`, { json: { ...site, date, ...(technician_id && { technician_id }) } });
  await write(db, ["visits"], async (visits) => {
    const now = await visits.get(row.id);
    await visits.put({ ...now, ...saved, local: false });
  });
}

/** The ticket that belongs to a visit: the server gives it the visit's own id, so it is known before it exists. */
async function ticketOf(db, visitId) {
  return (await db.get("visits", visitId))?.ticket_id ?? visitId;
}

// ---------------------------------------------------------------------- recordings

async function recording(db, api, row, options) {
  try {
    await sendRecording(db, api, row, options);
  } catch (error) {
    // Answered with a refusal: the server may know less than it did, and is told everything anew.
    if (error.status) announced.delete(row.id);
    throw error;
  }
  announced.delete(row.id);
}

async function sendRecording(db, api, row, { pieces, onProgress, signal }) {
  await closeIfAbandoned(db, row.id);
  const ticket_id = await ticketOf(db, row.visit);
  const announce = () => announceRecording(db, api, row.id, ticket_id);
  if (!(await announce())) return; // nothing was said
  const sent = new Map();
  for (let seq = 0; ; ) {
    const segment = await nextSegment(db, row.id, seq, signal);
    if (!segment) break;
    seq = segment.seq + 1;
    if (segment.proved) continue;
    await sendSegment(db, api, segment, announce, {
      pieces,
      signal,
      onSent: (bytes) => {
        sent.set(segment.id, bytes);
        onProgress([...sent.values()].reduce((a, b) => a + b, 0));
      },
    });
  }
  await announce();
  await markSent(db, row.id);
}

/** A recording that is open with no page making it: the page was killed, or there was no room to close it. */
async function closeIfAbandoned(db, id) {
  const { state } = (await db.get("recordings", id)) ?? {};
  if (state !== "open" || !navigator.locks) return;
  await navigator.locks.request(lockName(id), { ifAvailable: true }, (lock) => lock && closeRecording(db, id, { recovered: true }));
}

/** What the server last took of each recording: on a slow line a request that says nothing new costs seconds. */
const announced = new Map();

/** Tell the server what the recording consists of so far. False when there is no such recording. */
async function announceRecording(db, api, id, ticket_id) {
  const rec = await db.get("recordings", id);
  if (!rec) return false;
  // A segment that never got a byte (the microphone died at once) is nothing to wait for.
  const segments = (await segmentsOf(db, id)).filter((s) => s.bytes > 0);
  const json = {
    ticket_id,
    started_at: rec.started_at,
    segments: segments.map(({ id, seq, bytes, sha256, mime }) => ({ id, seq, bytes: sha256 ? bytes : null, sha256, mime })),
    marks: rec.marks,
    finished: rec.state !== "open",
    settings: { ...rec.settings, purpose: rec.purpose, tag: rec.tag, recovered: rec.recovered },
  };
  const text = JSON.stringify(json);
  if (announced.get(id) === text) return true;
  await api.call("PUT", `/recordings/${id}`, { json });
  announced.set(id, text);
  return true;
}

/** The segment with this number once it has a byte; waits while the recording is being made, null after the last. */
async function nextSegment(db, recordingId, seq, signal) {
  for (;;) {
    const found = (await segmentsOf(db, recordingId)).find((s) => s.seq >= seq && (s.bytes > 0 || s.state === "open"));
    if (found?.bytes > 0) return found;
    const rec = await db.get("recordings", recordingId);
    if (rec?.state !== "open") return null;
    await pause(signal);
  }
}

async function sendSegment(db, api, segment, announce, options) {
  const growing = segment.state === "open" || segment.upload?.growing;
  // The server learns of a segment, and of its digest, by PUT before the last byte arrives.
  await announce();
  const file = {
    size: growing ? null : segment.bytes,
    address: segment.upload?.address ?? null,
    metadata: {
      kind: "segment",
      id: segment.id,
      recording: segment.recording,
      seq: segment.seq,
      filetype: segment.mime,
      filename: `${segment.seq}${/mp4/.test(segment.mime) ? ".m4a" : ".webm"}`,
      ...(segment.sha256 && { sha256: segment.sha256 }),
    },
    async read(from, to) {
      for (;;) {
        const now = await db.get("segments", segment.id);
        const until = Math.min(to, now.bytes);
        const done = now.state === "closed" && until === now.bytes;
        if (until > from || done) {
          if (done && growing) await announce();
          return { parts: await readBytes(db, segment.id, from, until), done };
        }
        await pause(options.signal);
      }
    },
  };
  const note = (address) => changeUpload(db, "segments", segment.id, { address, growing });
  await proved(db, api, "segments", segment.id, {
    bytesHere: (await db.count("slices", slicesOf(segment.id))) > 0,
    run: () => upload(api, file, { ...options, onAddress: note }),
    forget: () => write(db, ["slices"], (slices) => slices.delete(slicesOf(segment.id))),
  });
}

// ---------------------------------------------------------------------- photos

async function photo(db, api, row, { pieces, onProgress, signal }) {
  const meta = await db.get("photos", row.id);
  const blob = await db.get("blobs", row.id);
  if (!meta || meta.proved) return;
  const ticket = await ticketOf(db, row.visit);
  const optional = { recording: meta.recording, at_s: meta.at_s, caption: meta.caption, tag: meta.tag };
  const file = {
    size: meta.bytes,
    address: meta.upload?.address ?? null,
    metadata: {
      kind: "photo",
      id: meta.id,
      ticket,
      taken_at: meta.taken_at,
      sha256: meta.sha256,
      filename: meta.name,
      filetype: meta.type,
      ...Object.fromEntries(Object.entries(optional).filter(([, v]) => v !== null && v !== undefined && v !== "")),
    },
    read: async (from, to) => ({ parts: [blob.bytes.slice(from, to)], done: to >= meta.bytes }),
  };
  const note = (address) => changeUpload(db, "photos", row.id, { address });
  await proved(db, api, "photos", row.id, {
    bytesHere: Boolean(blob),
    run: () => upload(api, file, { pieces, signal, onSent: onProgress, onAddress: note }),
    forget: () => write(db, ["blobs"], (blobs) => blobs.delete(row.id)),
  });
}

// ---------------------------------------------------------------------- proof

/**
 * Run an upload and accept it only on proof: the server's digest of the whole equals ours. The last answer carries
 * it; when that answer was lost, the receipt does. A different digest means starting this file again.
 * `bytesHere` false: they went after an earlier proof that a full phone could not note; then only the receipt counts.
 * `forget` removes the bytes and is called only after proof.
 */
async function proved(db, api, store, id, { bytesHere, run, forget }) {
  let said = {};
  try {
    if (bytesHere) said = await run();
  } catch (error) {
    if (error.code === UPLOAD_LOST) await changeUpload(db, store, id, null);
    throw error;
  }
  const own = await db.get(store, id);
  if (!said.whole || !said.sha256) said = await api.call("GET", `/receipts/${id}`);
  if (said?.sha256 !== own.sha256) {
    await changeUpload(db, store, id, null);
    throw new ApiError("The server holds different bytes than this phone; the file is sent again.", { status: 460 });
  }
  const note = () => write(db, [store], async (rows) => rows.put({ ...(await rows.get(id)), proved: true, upload: null }));
  try {
    await note();
    await forget();
  } catch (error) {
    if (!isFull(error)) throw error;
    // No room to note the proof: removing what is proved makes it.
    await forget();
    await note();
  }
}

/** Remember where an upload stands. A full phone that cannot only makes the next try longer. */
async function changeUpload(db, store, id, upload) {
  try {
    await write(db, [store], async (rows) => rows.put({ ...(await rows.get(id)), upload }));
  } catch (error) {
    if (!isFull(error)) throw error;
  }
}

// ---------------------------------------------------------------------- notes, edits, status

async function note(db, api, row) {
  const { id, text, at } = await db.get("notes", row.id);
  await api.call("PUT", `/notes/${id}`, { json: { ticket_id: await ticketOf(db, row.visit), text, at } });
  await write(db, ["notes"], (notes) => notes.delete(id));
}

/** Send every waiting correction of a ticket. What the office changed meanwhile comes back as a conflict to show. */
async function edits(db, api, row) {
  const ticketId = row.ticket;
  const own = (await db.getAllFromIndex("edits", "ticket", ticketId)).filter((e) => e.state === "waiting");
  if (!own.length) return;
  own.sort((a, b) => (a.id < b.id ? -1 : 1));
  const base = await db.get("tickets", ticketId);
  const json = { base_revision: base.revision, edits: own.map(({ id, at, op, kind, item, field, before, after }) => ({ id, at, op, kind, item, field, before, after })) };
  let answer;
  let conflicts = [];
  try {
    answer = await api.call("POST", `/tickets/${ticketId}/edits`, { json });
  } catch (error) {
    if (error.status !== 409 || !error.data?.conflicts) throw error;
    answer = error.data;
    conflicts = error.data.conflicts;
  }
  const conflictOf = new Map(conflicts.map((c) => [c.edit, c]));
  await write(db, ["edits", "tickets"], (rows, tickets) => {
    for (const edit of own) {
      const c = conflictOf.get(edit.id);
      if (c) rows.put({ ...edit, state: "conflict", field: c.field, theirs: c.theirs, who: c.who, gone: c.gone });
      else rows.delete(edit.id);
    }
    const revision = answer.revision ?? answer.ticket.revision;
    tickets.put({ ...base, document: answer.ticket, revision, etag: null });
  });
}

async function status(db, api, row) {
  try {
    await api.call("POST", `/tickets/${row.ticket}/status`, { json: { to: row.to, note: row.note ?? null } });
  } catch (error) {
    // Here 409 says that the ticket's state forbids it: trying again unchanged is of no use.
    if (error.status === 409) throw new ApiError(error.message, { ...error, status: 422 });
    throw error;
  }
}

function pause(signal) {
  if (signal?.aborted) return Promise.reject(new ApiError("stopped"));
  return new Promise((r) => setTimeout(r, POLL_MS));
}
