/**
 * The ticket as the server has it, the edits on the way, and what both make together. One request at a time; an
 * edit leaves the kept list only when the server has answered for it.
 */

import { ApiError, NoAnswer, call, newId } from "../api.js";
import { keep, kept } from "./keep.js";
import { withEdits } from "./ticket.js";

const AGAIN_MS = 4000;
const LOOK_MS = 8000;
/** The server takes 500 edits at once. */
const MOST = 400;
/** What the server is told of an edit. @param {import("./ticket.js").Edit} edit */
const wire = ({ was: _, ...edit }) => edit;

/** Answers that say nothing about the edits themselves: signed out, wrong token, too many requests. */
const LATER = new Set([401, 403, 408, 429]);

export class Sync extends EventTarget {
  /** @param {string} id */
  constructor(id) {
    super();
    this.id = id;
    /** @type {any} */
    this.base = null;
    /** @type {import("./ticket.js").Edit[]} */
    this.pending = kept(id);
    /** @type {any[]} */
    this.conflicts = [];
    /** The sending that is going on. @type {Promise<void> | null} */
    this.sending = null;
    this.oneByOne = false;
    this.offline = false;
    /** Why the edits wait, where it is not the line. */
    this.waits = "";
    /** The one try again that is set. @type {number | undefined} */
    this.again = undefined;
  }

  /** The ticket to show. */
  get shown() {
    return withEdits(this.base, this.pending);
  }

  /** Raises ApiError or NoAnswer; may be called again then. */
  async load() {
    this.base = await call("GET", `/tickets/${this.id}`);
    this.#told();
    void this.#send();
    setInterval(() => void this.#look(), LOOK_MS);
    addEventListener("online", () => void this.#send());
    // Who comes back to the page sees at once what others did meanwhile.
    addEventListener("focus", () => void this.#look());
  }

  /** Make edits: kept at once, shown at once, sent at once.
   *  @param {Omit<import("./ticket.js").Edit, "id" | "at">[]} edits @returns {import("./ticket.js").Edit[]} with their ids */
  edit(...edits) {
    const at = new Date().toISOString();
    const made = edits.map((e) => ({ id: newId(), at, ...e }));
    this.pending = [...this.pending, ...made];
    keep(this.id, this.pending);
    this.#told();
    void this.#send();
    return made;
  }

  /** Settle a conflict: mine again on top of theirs, or theirs. @param {any} conflict @param {boolean} mine */
  settle(conflict, mine) {
    this.conflicts = this.conflicts.filter((c) => c !== conflict);
    const { id: _, at: __, was: ___, ...edit } = conflict.mine;
    if (!mine) this.#told();
    // What could not be taken back is set to what it was before.
    else if (edit.op === "back") this.edit({ ...edit, op: conflict.field === "tag" ? "move" : "set", field: conflict.field, before: conflict.theirs, after: conflict.yours });
    else this.edit({ ...edit, before: conflict.theirs });
  }

  /** @param {string} to @param {string} [note] */
  async setStatus(to, note) {
    await this.#settled();
    await call("POST", `/tickets/${this.id}/status`, { to, base_revision: this.base.revision, ...(note ? { note } : {}) });
    this.#take(await call("GET", `/tickets/${this.id}`));
    this.#told();
  }

  /** An answer that was overtaken by a newer one changes nothing. @param {any} ticket @returns {boolean} whether it is news */
  #take(ticket) {
    if (ticket.revision <= this.base.revision) return false;
    this.base = ticket;
    return true;
  }

  async #settled() {
    await this.#send();
    if (this.pending.length) throw new NoAnswer("Some changes are not on the server yet; wait until they are, then try again.");
  }

  /** Whoever asks while a sending goes on waits for that one: it takes along what was added meanwhile. */
  #send() {
    if (!this.pending.length || !this.base) return this.sending ?? Promise.resolve();
    this.sending ??= this.#sendAll().finally(() => {
      this.sending = null;
      if (!this.pending.length) this.oneByOne = false;
    });
    return this.sending;
  }

  async #sendAll() {
    while (this.pending.length) {
      const batch = this.pending.slice(0, this.oneByOne ? 1 : MOST);
      let answer;
      try {
        answer = await call("POST", `/tickets/${this.id}/edits`, { base_revision: this.base.revision, edits: batch.map(wire) });
      } catch (error) {
        if (error instanceof ApiError && error.status === 409 && error.body.conflicts) {
          this.#done(batch, error.body.ticket, error.body.conflicts);
          continue;
        }
        if (error instanceof ApiError && error.status < 500 && !LATER.has(error.status)) {
          // One of them the server will never take: find it alone, and give it back to the person.
          if (batch.length > 1) this.oneByOne = true;
          else {
            this.#done(batch, this.base, []);
            this.dispatchEvent(new CustomEvent("refused", { detail: { sentence: error.message, edits: batch } }));
          }
          continue;
        }
        this.offline = true;
        this.waits = error instanceof ApiError && error.status === 401 ? "sign in again in another tab" : "";
        this.#told();
        clearTimeout(this.again);
        this.again = setTimeout(() => void this.#send(), AGAIN_MS);
        return;
      }
      this.#done(batch, answer.ticket, []);
    }
  }

  /** @param {import("./ticket.js").Edit[]} batch @param {any} ticket @param {any[]} conflicts */
  #done(batch, ticket, conflicts) {
    const ids = new Set(batch.map((e) => e.id));
    this.conflicts = [...this.conflicts, ...conflicts.map((c) => ({ ...c, mine: batch.find((e) => e.id === c.edit) }))];
    this.pending = this.pending.filter((e) => !ids.has(e.id));
    keep(this.id, this.pending, ids);
    this.#take(ticket);
    this.offline = false;
    this.waits = "";
    this.#told();
  }

  /** See whether somebody else changed the ticket. */
  async #look() {
    if (this.sending || this.pending.length || document.hidden) return;
    try {
      const now = await call("GET", `/tickets/${this.id}`, undefined, { "If-None-Match": `"${this.base.revision}"` });
      const back = this.offline;
      this.offline = false;
      // An edit made while this answer was on its way may have brought a newer ticket already.
      if (now && !this.sending && !this.pending.length && this.#take(now)) {
        this.#told();
        this.dispatchEvent(new Event("others"));
      } else if (back) this.#told();
    } catch (error) {
      if (!(error instanceof NoAnswer)) return;
      this.offline = true;
    }
  }

  #told() {
    this.dispatchEvent(new Event("change"));
  }
}
