// The outbox: everything that still has to reach the server, sent by one page (or the service worker) at a time.
//
// Sending is tried at the start, when the network or the page comes back, after each recording, and on a timer that
// backs off. `navigator.onLine` is not asked: only an answer from our server counts.
import { isFull, write } from "./db.js";
import { LONGEST_WAIT_MS, backoff, due, isTime } from "./outbox-rows.js";
import { senders } from "./send.js";
import { Pieces } from "./upload.js";

const LANES = 3;
const LOCK = "hatchnote-outbox";
/** While something is on its way: how often rows whose waiting time is over are looked for. */
const LOOK_AGAIN_MS = 1000;
/** Sent rows stay visible for a day. */
const KEEP_SENT_MS = 24 * 3600 * 1000;

/**
 * Events: "change" (a row changed), "sent" (detail: the row), "progress" (detail: {id, bytes}), "waiting" (something
 * could not be sent now). What another page or the service worker sends is told here too.
 */
export class Outbox extends EventTarget {
  progress = new Map(); // id -> bytes sent of what is on its way
  paused = false; // true while signed out

  #db;
  #api;
  #running = new Map(); // id -> promise
  #pieces = new Pieces();
  #gate = 0; // ms; nobody starts before this time, because the server did not answer
  #misses = 0;
  #timer = null;
  #draining = null;
  #again = false;
  #wake = () => {};
  #stop = new AbortController();
  /** Changes of rows that a full phone did not take. Sending must go on then: it is what makes room. */
  #unwritten = new Map();
  #others = globalThis.BroadcastChannel ? new BroadcastChannel("hatchnote-outbox") : null;

  constructor(db, api) {
    super();
    this.#db = db;
    this.#api = api;
    api.addEventListener("signed-out", () => (this.paused = true));
    api.addEventListener("me", () => (this.paused = false));
    // Any answer ends a row of misses, not only a whole file: on a bad line those are rare, and the waits grew.
    api.addEventListener("reached", ({ detail }) => detail && (this.#misses = 0));
    this.#others?.addEventListener("message", ({ data }) =>
      this.dispatchEvent(data.sent ? new CustomEvent("sent", { detail: data.sent }) : new Event("change")),
    );
  }

  /** Begin to listen for reasons to send, and send. */
  start() {
    addEventListener("online", () => this.kick());
    globalThis.document?.addEventListener("visibilitychange", () => document.visibilityState === "visible" && this.kick());
    this.#api.addEventListener("me", () => this.kick());
    this.kick();
  }

  /** Something changed for the better, or is new: look at once, without waiting for a timer. */
  kick({ evenIfFailing = true } = {}) {
    if (evenIfFailing) this.#gate = 0;
    this.#again = true;
    this.#wake();
    clearTimeout(this.#timer);
    this.#draining ??= this.#drain().finally(() => {
      this.#draining = null;
      this.dispatchEvent(new Event("change"));
      this.#sleep();
    });
    return this.#draining;
  }

  async rows() {
    const rows = await this.#db.getAll("outbox");
    return this.#unwritten.size ? rows.map((r) => ({ ...r, ...this.#unwritten.get(r.id) })) : rows;
  }

  /** A person asks for it: what backs off does not wait any longer. */
  async tryNow() {
    for (const r of await this.rows()) if (r.state === "waiting" && r.next_at) await this.#update(r.id, { next_at: 0 });
    return this.kick();
  }

  /** Put a row back to "waiting" and send. */
  async retry(id) {
    await this.#update(id, { state: "waiting", tries: 0, next_at: 0, error: null });
    return this.kick();
  }

  /** Send until nothing is due. Resolves at once when another page does it. */
  async #drain() {
    if (!navigator.locks) return this.#loop();
    return navigator.locks.request(LOCK, { ifAvailable: true }, (lock) => lock && this.#loop());
  }

  async #loop() {
    await this.#tidy();
    for (;;) {
      this.#again = false;
      const now = Date.now();
      if (!this.paused && isTime(this.#gate, now)) {
        const rows = await this.rows();
        const free = (r) => !this.#running.has(r.id);
        // A recording being made keeps its own lane for as long as it lasts.
        const live = await this.#live();
        const busy = [...this.#running.keys()].filter((id) => !live.has(id)).length;
        const ready = due(rows, now, this.#api.me?.id).filter(free);
        let places = LANES - busy;
        for (const row of ready) {
          if (live.has(row.id)) this.#send(row);
          else if (places-- > 0) this.#send(row);
        }
      }
      if (this.#again) continue;
      if (!this.#running.size) return;
      const look = new Promise((r) => ((this.#wake = r), setTimeout(r, LOOK_AGAIN_MS)));
      await Promise.race([...this.#running.values(), look]);
    }
  }

  async #live() {
    const open = (await this.#db.getAll("recordings")).filter((r) => r.state === "open");
    return new Set(open.map((r) => r.id));
  }

  #send(row) {
    const job = this.#try(row).finally(() => {
      this.#running.delete(row.id);
      this.progress.delete(row.id);
    });
    this.#running.set(row.id, job);
  }

  async #try(row) {
    await this.#update(row.id, { state: "sending" });
    try {
      await senders[row.kind](this.#db, this.#api, row, {
        pieces: this.#pieces,
        signal: this.#stop.signal,
        onProgress: (bytes) => {
          this.progress.set(row.id, bytes);
          this.dispatchEvent(new CustomEvent("progress", { detail: { id: row.id, bytes } }));
        },
      });
      await this.#update(row.id, { state: "sent", sent_at: new Date().toISOString(), error: null }, row.stamp);
      this.dispatchEvent(new CustomEvent("sent", { detail: row }));
      this.#others?.postMessage({ sent: row });
    } catch (error) {
      await this.#failed(row, error);
    }
  }

  async #failed(row, error) {
    const tries = row.tries + 1;
    const wait = backoff(tries) * 1000;
    const again = { state: "waiting", tries, error: error.message, next_at: Date.now() + wait };
    if (isFull(error)) {
      await this.#update(row.id, { ...again, error: "The phone is full; sending goes on and makes room." });
    } else if (error.status === undefined) {
      // Our own mistake, not the line's: shown as failed, with its words for a report.
      await this.#update(row.id, { state: "failed", tries, error: `Something went wrong on this phone: ${error.message}` });
    } else if (error.status === 0) {
      this.#gate = Date.now() + backoff(++this.#misses) * 500;
      await this.#update(row.id, { ...again, next_at: 0 });
    } else if (error.passing || error.status === 401) {
      await this.#update(row.id, again);
    } else {
      await this.#update(row.id, { state: "failed", tries, error: error.message });
    }
  }

  /** Rows that a killed page left as "sending" wait again; old sent rows go. Runs under the lock. */
  async #tidy() {
    for (const row of await this.rows()) {
      if (row.state === "sending" && !this.#running.has(row.id)) await this.#update(row.id, { state: "waiting" });
      if (row.state === "sent" && Date.parse(row.sent_at) < Date.now() - KEEP_SENT_MS) await this.#db.delete("outbox", row.id);
    }
  }

  /** `stamp`: the row as it was sent; one that was stamped anew meanwhile has more to send and waits again. */
  async #update(id, change, stamp) {
    const pending = { ...this.#unwritten.get(id), ...change };
    await write(this.#db, ["outbox"], async (outbox) => {
      const row = await outbox.get(id);
      if (!row) return;
      if (stamp !== undefined && row.stamp !== stamp) await outbox.put({ ...row, state: "waiting", tries: 0, next_at: 0 });
      else await outbox.put({ ...row, ...pending });
    }).then(
      () => this.#unwritten.delete(id),
      (error) => {
        if (!isFull(error)) throw error;
        this.#unwritten.set(id, pending);
      },
    );
    this.dispatchEvent(new Event("change"));
    this.#others?.postMessage({});
  }

  async #sleep() {
    const waiting = (await this.rows()).filter((r) => r.state === "waiting");
    if (!waiting.length || this.paused) return;
    this.dispatchEvent(new Event("waiting"));
    const next = Math.max(this.#gate, Math.min(...waiting.map((r) => r.next_at)));
    clearTimeout(this.#timer);
    const wait = Math.min(LONGEST_WAIT_MS, Math.max(500, next - Date.now()));
    this.#timer = setTimeout(() => this.kick({ evenIfFailing: false }), wait);
  }
}
