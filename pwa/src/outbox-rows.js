// What a row of the outbox is. Kinds: visit, recording, photo, note, edits, status. A visit goes before what
// belongs to it.
import { uuidv7 } from "./ids.js";

/**
 * id: what is sent (for edits: "edits:" + ticket). state: waiting | sending | sent | failed.
 * tries and next_at (ms) steer the backing off; error is the sentence shown. owner: {id, name} of who made it, or
 * null when nobody was signed in: then it goes with whoever signs in.
 */
export function outboxRow(kind, id, more = {}) {
  return {
    id,
    kind,
    state: "waiting",
    created: new Date().toISOString(),
    tries: 0,
    next_at: 0,
    error: null,
    owner: null,
    sent_at: null,
    stamp: uuidv7(),
    ...more,
  };
}

/** Seconds to wait after `tries` failures: 1, 2, 4 … at most 60, and a random part so that phones do not march in step. */
export function backoff(tries, random = Math.random()) {
  return Math.min(60, 2 ** Math.min(tries - 1, 6)) * (0.75 + random / 2);
}

/** More than `backoff` ever gives, in ms: a waiting time beyond it comes of a clock that was put back. */
export const LONGEST_WAIT_MS = 90_000;

/** Is the moment here? `when` and `now` in ms. */
export const isTime = (when, now) => when <= now || when > now + LONGEST_WAIT_MS;

/** True for what somebody else made on this phone: it is sent in his name or not at all. */
export const isOthers = (row, who) => Boolean(row.owner) && row.owner.id !== who;

/**
 * Rows that may be sent now by the person `who` (an id), in order. What belongs to a visit waits until the visit itself has arrived; the word
 * that all was looked through waits until everything else of the visit has.
 */
export function due(rows, now, who = null) {
  const unsent = rows.filter((r) => r.state === "waiting");
  const visitsOpen = new Set(rows.filter((r) => r.kind === "visit" && r.state !== "sent").map((r) => r.id));
  const others = new Set(rows.filter((r) => r.kind !== "status" && r.state !== "sent").map((r) => r.visit));
  const held = (r) => (r.kind !== "visit" && visitsOpen.has(r.visit)) || (r.kind === "status" && others.has(r.visit));
  return unsent
    .filter((r) => isTime(r.next_at, now) && !held(r) && !isOthers(r, who))
    .sort((a, b) => rank(a) - rank(b) || (a.created < b.created ? -1 : a.created > b.created ? 1 : 0));
}

function rank(row) {
  return row.kind === "visit" ? 0 : 1;
}

/** Sentence counts for the status line: how many wait, are on their way, failed. */
export function counts(rows) {
  const out = { waiting: 0, sending: 0, failed: 0, sent: 0 };
  for (const r of rows) out[r.state] += 1;
  return out;
}
