// Today: the visits of this technician, also without a network; a new one can be begun anywhere.
import { button, dialog, h, icon } from "../dom.js";
import { uuidv7 } from "../ids.js";
import { alarm } from "../signals.js";
import { checksOf } from "../edits.js";
import { capital, count, today } from "../words.js";

/** From here on times in the record would mislead whoever reads them. */
const WRONG_CLOCK_S = 300;

export function wrongClock(ahead_s) {
  const minutes = Math.round(Math.abs(ahead_s) / 60);
  const span = minutes < 120 ? `${minutes} minutes` : minutes < 2880 ? `${Math.round(minutes / 60)} hours` : `${Math.round(minutes / 1440)} days`;
  return `This phone’s clock is ${span} ${ahead_s > 0 ? "ahead" : "behind"}: set it, for the record takes its times.`;
}

export function visits(app) {
  const stop = [];
  return {
    name: "visits",
    title: () => "Today",
    async enter() {
      app.tickets.refreshVisits().catch(() => {});
      const seen = () => document.visibilityState === "visible" && app.tickets.refreshVisits().catch(() => {});
      document.addEventListener("visibilitychange", seen);
      stop.push(() => document.removeEventListener("visibilitychange", seen));
    },
    leave: () => stop.forEach((f) => f()),
    async body() {
      const list = await app.tickets.visits();
      const update = app.update.available && !app.update.held;
      return [
        update &&
          h("section", { class: "note", "aria-label": "New version" }, h("p", {}, "A new version of this app is ready."), button("Take the new version", { onclick: () => app.update.take() })),
        Math.abs(app.api.ahead_s) > WRONG_CLOCK_S && h("p", { class: "flag" }, icon("warn"), wrongClock(app.api.ahead_s)),
        list.length
          ? h("ul", { class: "cards" }, await Promise.all(list.map((v) => card(app, v))))
          : h("p", { class: "empty" }, "No visit is planned for today. Begin one with the name of the site; the office sees it as soon as there is a network."),
      ];
    },
    dock: () => [
      h("div", { class: "dock-row" }, button("New visit", { picture: "plus", kind: "main", onclick: () => newVisit(app) }), h("a", { class: "button", href: "#/phone", "data-key": "phone" }, icon("phone"), h("span", {}, "This phone"))),
    ],
  };
}

async function card(app, visit) {
  const ticket = await app.tickets.ticket(visit.ticket_id);
  const machines = ticket?.document.equipment ?? [];
  const checks = machines.reduce((n, m) => n + checksOf(m).length, 0);
  const missing = machines.reduce((n, m) => n + m.missing.length, 0);
  const said = machines.some((m) => m.readings.length + m.work.length + m.parts.length + m.findings.length);
  const facts = ticket
    ? [checks ? `${checks} to check` : "", missing ? `${missing} missing` : "", !checks && !missing ? (said ? capital(ticket.document.status) : "Nothing said yet") : ""]
    : [visit.equipment?.length ? count(visit.equipment.length, "machine") : visit.local ? "Nothing said yet" : "The draft is not here yet"];
  return h(
    "li",
    {},
    h(
      "a",
      { class: "card", href: `#/visit/${visit.id}`, "data-key": visit.id },
      h("strong", {}, visit.site?.name ?? visit.site_name ?? "A site without a name"),
      h("span", { class: checks || missing ? "flag" : "" }, checks + missing > 0 && icon("warn"), facts.filter(Boolean).join(" · ")),
      visit.local && h("span", {}, "Not at the office yet"),
    ),
  );
}

async function newVisit(app) {
  const name = await dialog("New visit", (close) => {
    const field = h("input", { id: "site", type: "text", autocomplete: "off", enterkeyhint: "go", required: true });
    const form = h(
      "form",
      { class: "form", onsubmit: (e) => (e.preventDefault(), field.value.trim() && close(field.value.trim())) },
      h("label", { for: "site" }, "Which site?"),
      field,
      h("div", { class: "dock-row" }, button("Back", { onclick: () => close() }), h("button", { class: "button main", type: "submit" }, "Begin")),
    );
    return [form];
  });
  if (!name) return;
  const id = uuidv7();
  const visit = { id, ticket_id: id, site_name: name, date: today() };
  try {
    await app.tickets.addVisit(visit);
    app.router.go(`visit/${visit.id}`);
  } catch (error) {
    alarm(`The visit could not be kept on this phone: ${error.message}`);
  }
}
