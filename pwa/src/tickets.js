// Visits, tickets and corrections as this phone knows them: read from disk at once, refreshed when the server answers.
import { write } from "./db.js";
import { overlay } from "./edits.js";
import { outboxRow } from "./outbox-rows.js";
import { today } from "./words.js";

/** Days that an old visit stays readable without a network. */
const KEEP_DAYS = 14;

export class Tickets extends EventTarget {
  #db;
  #api;
  #outbox;
  #fetching = new Map(); // ticket id -> {now: promise, again: promise or null}

  constructor(db, api, outbox) {
    super();
    this.#db = db;
    this.#api = api;
    this.#outbox = outbox;
  }

  // ---------------------------------------------------------------- visits

  async visits(date = today()) {
    const all = await this.#db.getAll("visits");
    const mine = (v) => !v.owner || v.owner.id === this.#api.me?.id;
    return all.filter((v) => (v.date === date || v.local) && mine(v)).sort((a, b) => (a.id < b.id ? -1 : 1));
  }

  visit(id) {
    return this.#db.get("visits", id);
  }

  /** A visit of another day, or one that the office has just made. */
  async fetchVisit(id) {
    const visit = await this.#api.call("GET", `/visits/${id}`);
    await write(this.#db, ["visits"], (visits) => visits.put({ ...visit, local: false, owner: this.#api.owner }));
    this.#tell();
    return visit;
  }

  async addVisit(visit) {
    await write(this.#db, ["visits", "outbox"], (visits, outbox) => {
      outbox.put(outboxRow("visit", visit.id, { owner: this.#api.owner }));
      return visits.put({ equipment: [], ...visit, local: true, owner: this.#api.owner });
    });
    this.#tell();
    this.#outbox.kick();
  }

  /** Fetch today's visits. Errors are the caller's to show or ignore; what is on disk stays. */
  async refreshVisits(date = today()) {
    const fresh = await this.#api.call("GET", `/visits?date=${date}`);
    const owner = this.#api.owner;
    const oldest = new Date(Date.now() - KEEP_DAYS * 86_400_000).toISOString().slice(0, 10);
    await write(this.#db, ["visits"], async (visits) => {
      for (const v of fresh) await visits.put({ ...v, local: false, owner });
      const ids = new Set(fresh.map((v) => v.id));
      for (const v of await visits.getAll()) {
        const gone = v.date === date && !ids.has(v.id) && v.owner?.id === owner?.id;
        if (!v.local && (gone || v.date < oldest)) await visits.delete(v.id);
      }
    });
    this.#tell();
    this.#fetchDrafts(fresh);
    return fresh;
  }

  /** So that today's drafts are here when the network is not. */
  async #fetchDrafts(visits) {
    for (const { ticket_id } of visits) {
      if (!ticket_id) continue;
      try {
        await this.refreshTicket(ticket_id);
      } catch (error) {
        if (!error.status) return; // no answer: the next refresh comes by itself
      }
    }
  }

  // ---------------------------------------------------------------- tickets

  /** The ticket as it should be shown: {document, revision, conflicts, waiting} or null when never received. */
  async ticket(id) {
    const row = id && (await this.#db.get("tickets", id));
    if (!row) return null;
    const edits = (await this.#db.getAllFromIndex("edits", "ticket", id)).sort((a, b) => (a.id < b.id ? -1 : 1));
    const conflicts = edits.filter((e) => e.state === "conflict");
    const document = overlay(row.document, edits);
    const right = new Set((row.about?.looks_right ?? []).map((m) => m.tag));
    for (const m of document.equipment) m.looked_at ||= right.has(m.tag);
    const waiting = edits.length - conflicts.length;
    return { document, revision: row.revision, note: row.about?.note ?? null, conflicts, waiting };
  }

  /** True when something new came. Asked for while it is on its way, it is fetched once more, and not at the same time. */
  refreshTicket(id) {
    const under = this.#fetching.get(id);
    if (under) {
      under.again ??= under.now.catch(() => {}).then(() => this.refreshTicket(id));
      return under.again;
    }
    const now = this.#fetchTicket(id).finally(() => this.#fetching.delete(id));
    this.#fetching.set(id, { now, again: null });
    return now;
  }

  async #fetchTicket(id) {
    const known = await this.#db.get("tickets", id);
    const document = await this.#api.call("GET", `/tickets/${id}`, { etag: known?.etag });
    if (!document) return false;
    const about = await this.#api.call("GET", `/tickets/${id}/about`);
    await write(this.#db, ["tickets"], async (tickets) => {
      // An answer may be overtaken by that of a correction sent meanwhile.
      if ((await tickets.get(id))?.revision > document.revision) return;
      await tickets.put({ id, document, about, revision: document.revision, etag: document.etag ?? null, at: new Date().toISOString() });
    });
    this.#tell();
    return true;
  }

  /** Keep corrections and queue them; `visit` tells the outbox what must arrive first. */
  async edit(ticket, visit, edits) {
    if (!edits.length) return;
    await write(this.#db, ["edits", "outbox"], (rows, outbox) => {
      for (const e of edits) rows.put(e);
      return outbox.put(outboxRow("edits", `edits:${ticket}`, { ticket, visit, owner: this.#api.owner }));
    });
    this.#tell();
    this.#outbox.kick();
  }

  /** Remove a conflict once settled; `again` is the new correction where the person keeps his own. */
  async settle(conflict, visit, again) {
    await write(this.#db, ["edits"], (rows) => rows.delete(conflict.id));
    if (again) await this.edit(conflict.ticket, visit, [again]);
    else this.#tell();
  }

  async setStatus(ticket, visit, to) {
    await write(this.#db, ["outbox"], (outbox) => outbox.put(outboxRow("status", `status:${ticket}`, { ticket, visit, to, owner: this.#api.owner })));
    this.#outbox.kick();
  }

  async addNote(visit, id, text) {
    const at = new Date().toISOString();
    await write(this.#db, ["notes", "outbox"], (notes, outbox) => {
      outbox.put(outboxRow("note", id, { visit, owner: this.#api.owner }));
      return notes.put({ id, visit, text, at });
    });
    this.#outbox.kick();
  }

  #tell() {
    this.dispatchEvent(new Event("change"));
  }
}
