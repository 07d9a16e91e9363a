// The database on the phone. Sound and photos are written with durability "strict", which asks for a flush to
// disk, and as ArrayBuffers, because some browsers mishandled Blobs in IndexedDB.
//
// Saved means the transaction completed (`tx.done`), not that a request succeeded. Nothing but database calls may
// be awaited inside a transaction: it would close.
import { openDB } from "../vendor/idb/idb.js";

export const NAME = "hatchnote";
const VERSION = 1;

/** Open the database. `onClosed` is told when the browser closed it or a newer page needs it. */
export function open({ name = NAME, onClosed = () => {} } = {}) {
  return openDB(name, VERSION, {
    upgrade(db) {
      db.createObjectStore("recordings", { keyPath: "id" }).createIndex("visit", "visit");
      db.createObjectStore("segments", { keyPath: "id" }).createIndex("recording", "recording");
      db.createObjectStore("slices", { keyPath: ["segment", "n"] }).createIndex("start", ["segment", "start"]);
      db.createObjectStore("photos", { keyPath: "id" }).createIndex("visit", "visit");
      db.createObjectStore("blobs", { keyPath: "id" });
      db.createObjectStore("outbox", { keyPath: "id" });
      db.createObjectStore("edits", { keyPath: "id" }).createIndex("ticket", "ticket");
      db.createObjectStore("notes", { keyPath: "id" });
      db.createObjectStore("tickets", { keyPath: "id" });
      db.createObjectStore("visits", { keyPath: "id" });
      db.createObjectStore("kv");
    },
    blocking(_current, _blocked, event) {
      event.target.close();
      onClosed("newer");
    },
    terminated: () => onClosed("terminated"),
  });
}

/** Run `work(store...)` in one strict transaction; resolves when it is on disk. */
export async function write(db, names, work) {
  const tx = db.transaction(names, "readwrite", { durability: "strict" });
  let result;
  try {
    result = await work(...names.map((n) => quiet(tx.objectStore(n))));
  } catch (error) {
    // The request's own error arrives first; the abort of the transaction says why.
    try {
      tx.abort();
    } catch {
      // already aborted by the browser
    }
    await tx.done.catch(() => {});
    throw tx.error ?? error;
  }
  await tx.done;
  return result;
}

/** A request that nobody awaits must not report its failure a second time: the transaction tells it. */
function quiet(store) {
  return new Proxy(store, {
    get(target, name) {
      const member = target[name];
      if (typeof member !== "function") return member;
      return (...given) => {
        const answer = member.apply(target, given);
        answer?.catch?.(() => {});
        return answer;
      };
    },
  });
}

export function isFull(error) {
  return error?.name === "QuotaExceededError" || error?.inner?.name === "QuotaExceededError";
}
