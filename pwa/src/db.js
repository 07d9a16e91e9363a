// The database on the phone. Sound and photos are written with durability "strict", which asks for a flush to
// disk, and as ArrayBuffers, because some browsers mishandled Blobs in IndexedDB.
//
// Saved means the transaction completed (`tx.done`), not that a request succeeded. Nothing but database calls may
// be awaited inside a transaction: it would close.
import { openDB } from "../vendor/idb/idb.js";

export const NAME = "hatchnote";
const VERSION = 1;

/**
 * A connection that opens itself again: phones cut it while the page is in the background, and everything asked of
 * the old one would fail from then on, with a recording in memory. Methods are idb's; all answer promises.
 */
class Connection {
  #open;
  #current = null; // promise of the open database
  #retired = false;

  constructor(openOnce) {
    this.#open = openOnce;
  }

  get(...given) {
    return this.again((db) => db.get(...given));
  }
  getAll(...given) {
    return this.again((db) => db.getAll(...given));
  }
  getAllFromIndex(...given) {
    return this.again((db) => db.getAllFromIndex(...given));
  }
  count(...given) {
    return this.again((db) => db.count(...given));
  }
  put(...given) {
    return this.again((db) => db.put(...given));
  }
  delete(...given) {
    return this.again((db) => db.delete(...given));
  }

  /** Resolves once there is a connection; throws what the browser says when there can be none. */
  async ready() {
    await this.#connect();
    return this;
  }

  /** Run `work(idb database)`; once more on a new connection when this one turns out to be closed. */
  async again(work) {
    const used = this.#connect();
    try {
      return await work(await used);
    } catch (error) {
      if (error?.name !== "InvalidStateError" || this.#retired) throw error;
      if (this.#current === used) this.#current = null;
      return work(await this.#connect());
    }
  }

  async close() {
    this.#retired = true;
    (await this.#current)?.close();
  }

  /** A connection that could not be made is tried anew by whoever asks next. */
  #connect() {
    this.#current ??= this.#open().catch((error) => {
      this.#current = null;
      throw error;
    });
    return this.#current;
  }
}

/**
 * Open the database. `mayClose()` resolves when this page can do without it, for a newer page that has to change it;
 * `onClosed` is told then. `onBlocked` is told while an older page keeps this one from opening.
 */
export function open({ name = NAME, onClosed = () => {}, onBlocked = () => {}, mayClose = async () => {} } = {}) {
  const connection = new Connection(() =>
    openDB(name, VERSION, {
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
      blocked: () => onBlocked(),
      async blocking() {
        await mayClose();
        await connection.close();
        onClosed();
      },
    }),
  );
  return connection.ready();
}

/** Run `work(store...)` in one strict transaction; resolves when it is on disk. */
export function write(db, names, work) {
  return db.again(async (connection) => {
    const tx = connection.transaction(names, "readwrite", { durability: "strict" });
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
  });
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
