// What waits, what is on its way, what arrived, what failed and why.
import { button, h, icon } from "../dom.js";
import { isOthers } from "../outbox-rows.js";
import { size } from "../storage-room.js";
import { segmentsOf } from "../sound-store.js";
import { clock, count, timeOfDay } from "../words.js";

const NAMES = { visit: "New visit", recording: "Recording", photo: "Photo", note: "Typed note", edits: "Corrections", status: "Looked through" };
const GROUPS = [
  ["failed", "Not sent: needs you", "warn"],
  ["sending", "On its way", "up"],
  ["waiting", "Waiting", "offline"],
  ["sent", "At the office", "done"],
];

export function sending(app) {
  const stop = [];
  return {
    name: "sending",
    title: () => "Sending",
    back: () => "",
    enter() {
      const onProgress = () => app.router.repaint();
      app.outbox.addEventListener("progress", onProgress);
      stop.push(() => app.outbox.removeEventListener("progress", onProgress));
    },
    leave: () => stop.forEach((f) => f()),
    async body() {
      const rows = (await app.outbox.rows()).sort((a, b) => (a.created < b.created ? 1 : -1));
      const others = rows.filter((r) => r.state === "waiting" && isOthers(r, app.api.me?.id));
      const own = rows.filter((r) => !others.includes(r));
      const groups = await Promise.all(GROUPS.map(([state, title, picture]) => group(app, own.filter((r) => r.state === state), title, picture)));
      for (const name of new Set(others.map((r) => r.owner.name))) {
        groups.unshift(await group(app, others.filter((r) => r.owner.name === name), `Goes out when ${name} signs in here`, "offline"));
      }
      return [
        app.reached === false && h("p", { class: "note" }, "The server does not answer. Everything is kept here and goes out by itself when it does; nothing needs you."),
        rows.length ? groups : h("p", { class: "empty" }, "Nothing has been recorded here that is not at the office."),
      ];
    },
    dock: () => [button("Try now", { picture: "up", kind: "main wide", onclick: () => app.outbox.tryNow() })],
  };
}

async function group(app, rows, title, picture) {
  if (!rows.length) return null;
  return h("section", {}, h("h2", {}, icon(picture), `${title} (${rows.length})`), h("ul", { class: "rows" }, await Promise.all(rows.slice(0, 200).map((r) => line(app, r)))));
}

async function line(app, row) {
  const { what, bytes } = await describe(app.db, row);
  const sent = app.outbox.progress.get(row.id) ?? 0;
  return h(
    "li",
    {},
    h("span", {}, h("strong", {}, what), h("span", {}, [timeOfDay(row.created), bytes ? size(bytes) : ""].filter(Boolean).join(", "))),
    row.state === "sending" && bytes > 0 && h("progress", { max: String(bytes), value: String(Math.min(sent, bytes)), "aria-label": `${what}: sent` }),
    row.error && row.state !== "sent" && h("span", { class: "why" }, row.state === "waiting" && row.tries ? `${row.error} Tried ${count(row.tries, "time")}.` : row.error),
    row.state === "failed" && button("Try again", { key: `again-${row.id}`, onclick: () => app.outbox.retry(row.id) }),
  );
}

async function describe(db, row) {
  if (row.kind === "photo") {
    const photo = await db.get("photos", row.id);
    return { what: photo?.caption ?? NAMES.photo, bytes: photo?.bytes ?? 0 };
  }
  if (row.kind === "recording") {
    const segments = await segmentsOf(db, row.id);
    const seconds = segments.at(-1)?.seconds ?? 0;
    return { what: `${NAMES.recording} of ${clock(seconds)}`, bytes: segments.reduce((n, s) => n + s.bytes, 0) };
  }
  return { what: NAMES[row.kind], bytes: 0 };
}
