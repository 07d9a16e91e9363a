// One visit: its machines with what is to check and what is missing, what is still being listened to, and Record.
import { checksOf, find } from "../edits.js";
import { askRepeatedly, button, dialog, h, icon } from "../dom.js";
import { uuidv7 } from "../ids.js";
import { paint, photosOf } from "../photos.js";
import { announce } from "../signals.js";
import { capital, count, machineName, spokenMachine, timeOfDay, clock } from "../words.js";
import { startRecording } from "./start-recording.js";
import { photoTaker } from "./take-photos.js";

const POLL_MS = 1500;
/** Of recordings being read, as many are asked for at a time; they are read in the order they were made. */
const ASKED_AT_ONCE = 3;
const REFRESH_MS = 20_000;

export function visit(app, id) {
  const taker = photoTaker(app, () => ({ visit: id }));
  const heard = new Map(); // recording id -> the server's last word on it
  const canvases = new Map(); // photo id -> its painted canvas, kept over repaints
  const stop = [() => taker.close()];
  let row = null;

  async function poll() {
    if (document.visibilityState === "hidden" || !row?.ticket_id) return;
    const mine = (await app.db.getAllFromIndex("recordings", "visit", id)).filter((r) => r.state === "sent" && !r.settled);
    mine.sort((a, b) => (a.started_at < b.started_at ? -1 : 1));
    for (const r of mine.slice(0, ASKED_AT_ONCE)) {
      const answer = await app.api.call("GET", `/recordings/${r.id}`).catch(() => null);
      if (!answer) continue;
      heard.set(r.id, answer);
      if (answer.status === "done" || answer.status === "set-aside") {
        await app.db.put("recordings", { ...r, settled: answer.status, error: answer.error ?? null });
        await app.tickets.refreshTicket(row.ticket_id).catch(() => {});
        if (answer.status === "done") announce("The draft is there.");
      }
    }
    if (mine.length) app.router.repaint();
  }

  return {
    name: "visit",
    back: () => "",
    title: () => row?.site?.name ?? row?.site_name ?? "Visit",
    async enter() {
      row = await app.tickets.visit(id);
      const fresh = () => row?.ticket_id && app.tickets.refreshTicket(row.ticket_id).catch(() => {});
      fresh();
      const again = async () => {
        const known = row;
        row = (await app.tickets.visit(id)) ?? (await app.tickets.fetchVisit(id).catch(() => null));
        if (row && !known) fresh();
        await poll();
      };
      const ends = [askRepeatedly(again, POLL_MS, 0), askRepeatedly(async () => fresh(), REFRESH_MS)];
      const onAction = (e) => {
        if (e.detail === "record") startRecording(app, id);
        if (e.detail === "photo") taker.open("camera");
        if (e.detail === "next-machine") readAloud();
      };
      app.hands.addEventListener("action", onAction);
      stop.push(...ends, () => app.hands.removeEventListener("action", onAction), () => app.speaker.stop());
    },
    leave: () => stop.forEach((f) => f()),
    async body() {
      row = await app.tickets.visit(id);
      if (!row) return [h("p", { class: "empty" }, "This visit is not on this phone. Go back; with a network the list is fetched again.")];
      const ticket = await app.tickets.ticket(row.ticket_id);
      const recordings = await app.db.getAllFromIndex("recordings", "visit", id);
      const photos = await photosOf(app.db, id);
      return [
        ticket?.document.status === "returned" && h("p", { class: "flag" }, icon("warn"), ticket.note ? `The office sent this back: ${ticket.note}` : "The office sent this back: look at what is to check."),
        ticket?.conflicts.length > 0 && h("p", { class: "flag" }, icon("warn"), `${count(ticket.conflicts.length, "correction")} of yours met a different one by the office. Open the machine and choose.`),
        (ticket?.conflicts ?? []).filter((c) => !find(ticket.document, c.kind, c.item)).map((c) => gone(c)),
        underWay(app, recordings, heard),
        warnings(ticket?.document).map((w) => h("p", { class: "flag" }, icon("warn"), w)),
        machines(id, row, ticket?.document),
        photos.length > 0 && h("section", {}, h("h2", {}, count(photos.length, "photo")), h("ul", { class: "photos" }, photos.map((p) => picture(p, canvases)))),
      ];
    },
    dock: async () => {
      const busy = app.speaker.speaking;
      return [
        h(
          "div",
          { class: "dock-record" },
          h("button", { type: "button", class: "record", "data-key": "record", onclick: () => startRecording(app, id) }, icon("mic"), h("span", {}, "Record")),
          button("Photo", { picture: "camera", onclick: () => taker.open("camera") }),
          button("More", { picture: "more", onclick: () => more() }),
        ),
        busy && button("Stop reading", { picture: "stop", onclick: () => app.speaker.stop() }),
      ];
    },
  };

  /** A correction of something that the office took out meanwhile. */
  function gone(conflict) {
    return h(
      "div",
      { class: "note" },
      h("p", {}, `${conflict.who ?? "The office"} took out what you corrected to “${conflict.after ?? ""}”. If it belongs in, say it again.`),
      button("Understood", { key: `gone-${conflict.id}`, onclick: () => app.tickets.settle(conflict, id, null) }),
    );
  }

  async function readAloud() {
    const ticket = await app.tickets.ticket(row?.ticket_id);
    if (!ticket || app.recorder.busy) return;
    app.speaker.say(ticket.document.equipment.flatMap((m) => spokenMachine(m, checksOf(m))));
  }

  async function more() {
    const choice = await dialog("More", (close) => [
      h(
        "div",
        { class: "choices" },
        button("Read aloud", { picture: "speak", onclick: () => close("read") }),
        button("Photos from the library", { picture: "photos", onclick: () => (taker.open("library"), close()) }),
        button("Type a note", { picture: "keys", onclick: () => close("note") }),
        row?.ticket_id && button("All looked through", { picture: "done", onclick: () => close("checked") }),
        button("To the other visits", { picture: "back", onclick: () => close("visits") }),
        button("Close", { onclick: () => close() }),
      ),
    ]);
    if (choice === "read") await readAloud();
    if (choice === "note") await typeNote(app, id);
    if (choice === "visits") return app.router.go("");
    if (choice === "checked") {
      await app.tickets.setStatus(row.ticket_id, id, "checked");
      announce("Marked as looked through; the office takes it from here.");
    }
    app.router.repaint();
  }
}

/** What a person should know of the listening, each once: sound cut short, words in another language. */
function warnings(document) {
  return [...new Set((document?.dictations ?? []).flatMap((d) => d.warnings ?? []))];
}

export async function typeNote(app, visitId, tag = null) {
  const text = await dialog(tag ? `Add to ${tag}` : "Type a note", (close) => {
    const field = h("textarea", { id: "note", rows: "4", required: true });
    return [
      h(
        "form",
        { class: "form", onsubmit: (e) => (e.preventDefault(), field.value.trim() && close(field.value.trim())) },
        h("label", { for: "note" }, "As you would say it"),
        field,
        h("div", { class: "dock-row" }, button("Back", { onclick: () => close() }), h("button", { class: "button main", type: "submit" }, "Keep")),
      ),
    ];
  });
  if (text) await app.tickets.addNote(visitId, uuidv7(), tag ? `${tag}. ${text}` : text);
}

function underWay(app, recordings, heard) {
  const open = recordings.filter((r) => r.settled !== "done").sort((a, b) => (a.started_at < b.started_at ? -1 : 1));
  if (!open.length) return null;
  return h(
    "section",
    { "aria-label": "Recordings under way" },
    h(
      "ul",
      { class: "rows" },
      open.map((r) => {
        const { text, part } = stand(app, r, heard.get(r.id));
        return h(
          "li",
          { class: r.settled === "set-aside" ? "flag" : "" },
          h("span", {}, `Recording of ${timeOfDay(r.started_at)}: ${text}`),
          part !== null && h("progress", { max: "1", value: String(part), "aria-label": text }),
        );
      }),
    ),
  );
}

/** Where a recording is on its way, in words, with the part done (0..1) where it is known. */
function stand(app, r, answer) {
  if (r.settled === "set-aside") return { text: `could not be read. ${r.error ?? "The office can listen to it."}`, part: null };
  if (r.state === "open") return { text: "was cut off; it is being closed.", part: null };
  if (r.state === "closed") {
    const sent = app.outbox.progress.get(r.id);
    return { text: sent ? "sending." : `kept on this phone${r.recovered ? ", cut off but whole" : ""}; waits for the network.`, part: null };
  }
  if (answer?.status === "listening") {
    const left = answer.eta_s ? `, about ${clock(answer.eta_s)} left` : "";
    return { text: `is being read${left}.`, part: answer.progress ?? 0 };
  }
  return { text: "is at the office and waits to be read.", part: null };
}

function machines(id, row, document) {
  const known = new Map((row.equipment ?? []).map((e) => [e.tag, null]));
  for (const m of document?.equipment ?? []) known.set(m.tag, m);
  if (!known.size) return h("p", { class: "empty" }, "Say which machine you are at, then what you measure and do. The draft appears here.");
  const nicknames = new Map((row.equipment ?? []).map((e) => [e.tag, e.nicknames ?? []]));
  return h(
    "section",
    {},
    h("h2", {}, "Machines"),
    h(
      "ul",
      { class: "cards" },
      [...known].map(([tag, m]) => h("li", {}, machineCard(id, tag, m, nicknames.get(tag) ?? []))),
    ),
  );
}

function machineCard(id, tag, m, nicknames) {
  const checks = m ? checksOf(m).length : 0;
  const gaps = m?.missing.length ?? 0;
  const said = m ? m.readings.length + m.work.length + m.parts.length + m.findings.length : 0;
  return h(
    "a",
    { class: "card", href: `#/visit/${id}/machine/${encodeURIComponent(tag ?? "")}`, "data-key": `m-${tag}` },
    h("strong", {}, machineName(tag)),
    nicknames.length > 0 && h("span", {}, capital(nicknames.join(", "))),
    checks > 0 && h("span", { class: "flag" }, icon("warn"), `${checks} to check`),
    gaps > 0 && h("span", { class: "flag" }, icon("gap"), `${gaps} missing`),
    h("span", {}, said ? count(said, "entry", "entries") : "Nothing said yet"),
  );
}

function picture(p, canvases) {
  const words = p.caption || `Photo of ${timeOfDay(p.taken_at)}`;
  const state = p.proved ? "at the office" : "kept here";
  let canvas = canvases.get(p.id);
  if (!canvas) {
    canvas = h("canvas", { role: "img", "aria-label": words });
    if (p.thumb) paint(canvas, p.thumb).catch(() => {});
    canvases.set(p.id, canvas);
  }
  return h("li", {}, canvas, h("span", {}, `${words}, ${state}`));
}
