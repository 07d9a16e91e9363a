// At every start: what was proved to be at the office long ago goes, so that the app does not grow slower by the year.
import { write } from "./db.js";
import { madeAt } from "./ids.js";

const KEEP_DAYS = 14;

/** Remove rows of recordings, photos and drafts that are older than two weeks and wait for nothing. */
export async function prune(db, now = Date.now()) {
  const limit = new Date(now - KEEP_DAYS * 86_400_000).toISOString();
  await write(db, ["recordings", "segments", "photos", "tickets", "visits", "outbox", "edits"], async (...stores) => {
    const [recordings, segments, photos, tickets, visits, outbox, edits] = stores;
    const unsent = new Set((await outbox.getAll()).filter((r) => r.state !== "sent").flatMap((r) => [r.id, r.visit, r.ticket]));
    for (const r of await recordings.getAll()) {
      if (r.state !== "sent" || r.started_at > limit || unsent.has(r.id)) continue;
      for (const id of await segments.index("recording").getAllKeys(r.id)) segments.delete(id);
      recordings.delete(r.id);
    }
    for (const p of await photos.getAll()) {
      // By when it came to this phone: one from the library may be years old.
      if (p.proved && new Date(madeAt(p.id)).toISOString() < limit && !unsent.has(p.id)) photos.delete(p.id);
    }
    const listed = new Set((await visits.getAll()).map((v) => v.ticket_id));
    const corrected = new Set((await edits.getAll()).map((e) => e.ticket));
    for (const t of await tickets.getAll()) {
      if (t.at < limit && !listed.has(t.id) && !corrected.has(t.id) && !unsent.has(t.id)) tickets.delete(t.id);
    }
  });
}
