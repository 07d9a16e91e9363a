// At every start: recordings that a killed page left open are closed and offered for sending.
import { closeRecording, lockName } from "./sound-store.js";

/** Close what no living page is recording. Returns the rows closed, oldest first. */
export async function recover(db) {
  const open = (await db.getAll("recordings")).filter((r) => r.state === "open");
  const closed = [];
  for (const { id } of open) {
    const row = await ifNobodyRecords(id, () => closeRecording(db, id, { recovered: true }));
    if (row) closed.push(row);
  }
  return closed;
}

function ifNobodyRecords(id, work) {
  // Without Web Locks there is no way to ask another tab; such browsers are old enough to have one tab in front.
  if (!navigator.locks) return work();
  return navigator.locks.request(lockName(id), { ifAvailable: true }, (lock) => (lock ? work() : null));
}
