// Where the app begins: opens what is kept, closes what a killed page left open, starts sending, shows a page.
import { Api } from "./api.js";
import { open } from "./db.js";
import { Hands } from "./hands.js";
import { counts } from "./outbox-rows.js";
import { Outbox } from "./outbox.js";
import { Player } from "./play.js";
import { Recorder } from "./recorder.js";
import { prune } from "./prune.js";
import { recover } from "./recover.js";
import { Router } from "./router.js";
import { Settings } from "./settings.js";
import { alarm } from "./signals.js";
import { Speaker } from "./speak.js";
import { askToKeep } from "./storage-room.js";
import { obstacles } from "./supported.js";
import { Tickets } from "./tickets.js";
import { Update } from "./update.js";
import { connectionPage } from "./views/connection.js";
import { count } from "./words.js";

async function begin() {
  if (obstacles().includes("insecure")) {
    // Nothing can be recorded or kept at such an address; say why and how to mend it.
    document.getElementById("main").replaceChildren(...connectionPage(["insecure"]));
    return;
  }
  let recorder = null;
  const db = await open({
    mayClose: () => atRest(recorder),
    onClosed: () => alarm("A newer version of this app is open in another window; load this one again.", { action: "Load again", onaction: () => location.reload() }),
    onBlocked: () => alarm("An older version of this app is recording in another window; this one begins when it has stopped."),
  }).catch((error) => {
    console.error(error);
    document.getElementById("main").replaceChildren(...connectionPage(["storage"]));
    throw error;
  });
  const api = new Api();
  const outbox = new Outbox(db, api);
  recorder = new Recorder(db);
  const app = {
    db,
    api,
    outbox,
    recorder,
    tickets: new Tickets(db, api, outbox),
    player: new Player(db),
    speaker: new Speaker(),
    hands: new Hands(),
    settings: new Settings(),
    reached: null, // true or false after the last try to reach the server
    update: new Update(() => mayChange(recorder, outbox)),
  };
  app.router = new Router(app);
  app.settings.apply();

  const closed = await recover(db);
  if (closed.length) {
    alarm(`${count(closed.length, "recording")} was cut off; all that was spoken is kept and will be sent.`.replace(/^(\d\d+|[2-9]) (.*) was/, "$1 $2 were"));
  }
  app.speaker.addEventListener("no-voice", () => alarm("No voice answered, so nothing can be read aloud; the phone’s own settings may offer one."));
  recorder.addEventListener("slice", () => outbox.kick({ evenIfFailing: false }));
  recorder.addEventListener("closed", () => outbox.kick());
  outbox.addEventListener("change", () => app.update.look());
  outbox.addEventListener("waiting", () => app.update.askForBackgroundSync());
  outbox.addEventListener("sent", (event) => afterSending(app, event.detail));
  api.addEventListener("reached", (event) => {
    if (app.reached === event.detail) return;
    app.reached = event.detail;
    app.router.bar();
  });
  addEventListener("beforeunload", (event) => recorder.busy && event.preventDefault());

  await rememberPerson(app);
  await app.router.start();
  app.update.start();
  askToKeep();
  prune(db).catch((error) => console.warn("Old rows stay for now:", error.message));
  await api.whoAmI().catch(() => {});
  outbox.start();
  globalThis.hatchnote = app; // for tests and for a look from the console
  document.documentElement.dataset.ready = "";
}

/** Who is this? Until the server answers, and without an answer, the last known person works on from what is kept. */
async function rememberPerson({ api, db, router }) {
  api.me = (await db.get("kv", "me")) ?? null;
  api.addEventListener("me", () => db.put("kv", api.me, "me"));
  api.addEventListener("signed-out", () => router.signedOut());
}

/** Resolves when nothing is being recorded. */
async function atRest(recorder) {
  while (recorder?.busy) await new Promise((r) => recorder.addEventListener("change", r, { once: true }));
}

async function mayChange(recorder, outbox) {
  if (recorder.busy) return "recording";
  const { waiting, sending, failed } = counts(await outbox.rows());
  return waiting + sending + failed ? "unsent" : null;
}

/** What arrived may have changed the ticket: fetch it. */
async function afterSending(app, row) {
  const visit = await app.tickets.visit(row.kind === "visit" ? row.id : row.visit);
  if (visit?.ticket_id) app.tickets.refreshTicket(visit.ticket_id).catch(() => {});
  if (row.kind === "visit") app.tickets.refreshVisits().catch(() => {});
}

begin();
