// One machine of the draft: what is doubtful first, then what is missing, then everything said of it.
import { acceptance, checksOf, correction, looksRight, makeEdit, removal, settle, wanted, wordsAround } from "../edits.js";
import { button, dialog, h, icon } from "../dom.js";
import { announce, buzz } from "../signals.js";
import { capital, count, itemName, machineName, number, readingName, spokenMachine, stateWord, valueText, word } from "../words.js";
import { hasSound, openKeypad } from "./keypad.js";
import { startRecording } from "./start-recording.js";
import { photoTaker } from "./take-photos.js";
import { typeNote } from "./visit.js";

export function machine(app, visitId, tagText) {
  const tag = tagText || null;
  let ticketId = null;
  let siteId = null;
  let view = null; // the last {document, conflicts}
  const taker = photoTaker(app, () => ({ visit: visitId, tag }));
  const stop = [() => taker.close()];
  const here = () => view?.document.equipment.find((m) => m.tag === tag) ?? null;
  const send = (edits) => app.tickets.edit(ticketId, visitId, edits);

  async function openReading(reading) {
    const change = await openKeypad(app, reading, { document: view.document, machine: here(), site_id: siteId });
    if (change === null) return;
    if (change === "remove") {
      await send([removal(ticketId, "reading", reading)]);
      announce(`${readingName(reading)} taken out.`);
    } else if (change === "accept") {
      await send([acceptance(ticketId, "reading", reading)]);
    } else {
      await send(correction(ticketId, "reading", reading, change));
      announce(`${readingName(reading)}: ${change.text ?? change.value}.`);
    }
    buzz();
  }

  async function openItem(kind, item) {
    const answer = await dialog(itemName(kind, item), (close) => [
      item.check && h("p", { class: "flag" }, icon("warn"), item.check.why),
      item.said && h("p", { class: "heard" }, `Heard: “${item.said}”`),
      h(
        "div",
        { class: "choices" },
        hasSound(item) && button("Play it", { picture: "play", onclick: () => app.player.play(item.heard) }),
        kind === "work" && ["done", "needed", "recommended", "declined", "not-done"].filter((s) => s !== item.state).map((s) => button(stateWord(s), { onclick: () => close({ state: s }) })),
        item.check && button("It is right", { kind: "main", picture: "done", onclick: () => close("accept") }),
        button("Take it out", { onclick: () => close("remove") }),
        button("Back", { onclick: () => close() }),
      ),
    ]);
    if (answer === "accept") await send([acceptance(ticketId, kind, item)]);
    else if (answer === "remove") await send([removal(ticketId, kind, item)]);
    else if (answer) await send(correction(ticketId, kind, item, answer));
  }

  return {
    name: "machine",
    back: () => `visit/${visitId}`,
    title: () => machineName(tag),
    async enter() {
      const row = (await app.tickets.visit(visitId)) ?? (await app.tickets.fetchVisit(visitId).catch(() => null));
      ticketId = row?.ticket_id ?? null;
      siteId = row?.site?.id ?? row?.site_id ?? null;
      if (ticketId) app.tickets.refreshTicket(ticketId).catch(() => {});
      const onAction = (e) => {
        if (e.detail === "record") startRecording(app, visitId, { tag });
        if (e.detail === "photo") taker.open("camera");
        if (e.detail === "next-machine") next();
      };
      app.hands.addEventListener("action", onAction);
      stop.push(() => app.hands.removeEventListener("action", onAction), () => app.speaker.stop(), () => app.player.stop());
      if (app.settings.get("readAloud") === "on") {
        view = await app.tickets.ticket(ticketId);
        readAloud();
      }
    },
    leave: () => stop.forEach((f) => f()),
    async body() {
      view = await app.tickets.ticket(ticketId);
      const m = here();
      if (!m) return [h("p", { class: "empty" }, "Nothing has been said of this machine yet. Press Record and say its name first.")];
      const checks = checksOf(m);
      const doubtful = new Set(checks.map((c) => c.item.id));
      const settled = m.readings.filter((r) => !doubtful.has(r.id));
      return [
        m.conflicts?.length > 0 && h("p", { class: "flag" }, icon("warn"), "The office changed this machine meanwhile."),
        section(count(checks.length, "thing") + " to check", checks, ({ kind, item }) => checkRow(kind, item)),
        section("Missing before you leave", m.missing, (x) => h("li", { class: "gap" }, icon("gap"), h("span", {}, h("strong", {}, capital(x.what)), h("span", {}, x.why)))),
        section("Readings", settled, (r) => readingRow(r)),
        section("Mind", m.cautions, (c) => h("li", { class: "mind" }, icon("warn"), h("span", {}, c.text))),
        section("Work", rest(m.work, doubtful), (w) => itemRow("work", w, stateWord(w.state))),
        section("Parts", rest(m.parts, doubtful), (p) => itemRow("part", p, { installed: "Fitted", "to-order": "To order", removed: "Taken out" }[p.use])),
        section("Found", rest(m.findings, doubtful), (f) => itemRow("finding", f, "")),
        section("Worked out", m.computed, (c) => h("li", { class: `worked ${c.judgement}` }, h("span", {}, h("strong", {}, capital(word(c.name))), h("span", {}, judgement(c))), h("span", { class: "value" }, c.value === null ? "—" : number(c.value), " ", h("small", {}, c.unit)))),
        section("Photos", m.photos.filter((p) => !p.left_out), photoRow),
        m.summary && h("section", {}, h("h2", {}, "For the customer"), h("p", {}, m.summary)),
      ];
    },
    dock() {
      const m = here();
      const checks = m ? checksOf(m).length : 0;
      const conflicts = m ? checksOf(m).some(({ item }) => item.conflicts?.length) : false;
      return [
        app.speaker.speaking ? button("Stop reading", { picture: "stop", onclick: () => app.speaker.stop() }) : null,
        m &&
          !conflicts &&
          button(m.looked_at ? "Looked at" : checks ? `Looks right, ${checks === 1 ? "the check" : `all ${checks} checks`} too` : "Looks right", {
            picture: "done",
            kind: "main wide",
            key: "right",
            disabled: Boolean(m.looked_at),
            onclick: () => right(),
          }),
        h(
          "div",
          { class: "dock-row thirds" },
          button("Add by voice", { picture: "mic", onclick: () => startRecording(app, visitId, { tag, purpose: "addition" }) }),
          button("Next machine", { picture: "next", onclick: () => next() }),
          button("More", { picture: "more", onclick: () => more() }),
        ),
      ];
    },
  };

  async function right() {
    await send(looksRight(ticketId, here()));
    buzz([60, 60, 60]);
    announce(`${machineName(tag)} looked at.`);
  }

  function next() {
    const tags = (view?.document.equipment ?? []).map((m) => m.tag ?? "");
    const at = tags.indexOf(tag ?? "");
    if (at >= 0 && at < tags.length - 1) app.router.go(`visit/${visitId}/machine/${encodeURIComponent(tags[at + 1])}`);
    else app.router.go(`visit/${visitId}`);
  }

  function readAloud() {
    const m = here();
    if (m && !app.recorder.busy) app.speaker.say(spokenMachine(m, checksOf(m)));
  }

  async function more() {
    const choice = await dialog(machineName(tag), (close) => [
      h(
        "div",
        { class: "choices" },
        button("Read aloud", { picture: "speak", onclick: () => close("read") }),
        button("Photo", { picture: "camera", onclick: () => (taker.open("camera"), close()) }),
        button("Photos from the library", { picture: "photos", onclick: () => (taker.open("library"), close()) }),
        button("Type an addition", { picture: "keys", onclick: () => close("type") }),
        button("To the other machines", { picture: "back", onclick: () => close("machines") }),
        button("Close", { onclick: () => close() }),
      ),
    ]);
    if (choice === "read") readAloud();
    if (choice === "type") await typeNote(app, visitId, tag);
    if (choice === "machines") return app.router.go(`visit/${visitId}`);
    app.router.repaint();
  }

  // ---------------------------------------------------------------- rows

  function readingRow(r) {
    return h(
      "li",
      {},
      h(
        "button",
        { type: "button", class: "reading", "data-key": r.id, onclick: () => openReading(r) },
        h("span", { class: "name" }, readingName(r), r.waiting && h("small", {}, "changed by you, not at the office yet")),
        h("span", { class: "value" }, valueText(r), " ", !r.text && h("small", {}, r.unit ?? "")),
      ),
    );
  }

  function itemRow(kind, item, note) {
    return h("li", {}, h("button", { type: "button", class: "reading", "data-key": item.id, onclick: () => openItem(kind, item) }, h("span", { class: "name" }, itemName(kind, item)), note && h("span", { class: "note-word" }, note)));
  }

  function checkRow(kind, item) {
    return h(
      "li",
      { class: "check" },
      h(
        "button",
        { type: "button", class: "reading", "data-key": item.id, onclick: () => (kind === "reading" ? openReading(item) : openItem(kind, item)) },
        icon("warn"),
        h("span", { class: "name" }, itemName(kind, item), item.check && h("span", { class: "why" }, capital(item.check.why))),
        kind === "reading" && h("span", { class: "value" }, valueText(item), " ", !item.text && h("small", {}, item.unit ?? "")),
      ),
      (item.conflicts ?? []).map((c) => conflictRow(c)),
    );
  }

  function conflictRow(c) {
    const what = c.gone ? "took this out" : `changed ${c.field ? `the ${word(c.field)}` : "this entry"}`;
    const choose = (whose) => app.tickets.settle(c, visitId, settle(c, whose));
    return h(
      "div",
      { class: "conflict" },
      h("p", {}, `${c.who ?? "The office"} ${what} while you were away. Which holds?`),
      h(
        "div",
        { class: "dock-row" },
        button(`Yours: ${show(wanted(c))}`, { key: `mine-${c.id}`, onclick: () => choose("mine") }),
        button(`Theirs: ${c.gone ? "taken out" : show(c.theirs)}`, { key: `theirs-${c.id}`, onclick: () => choose("theirs") }),
      ),
    );
  }

  function photoRow(p) {
    const offer = !p.caption && p.dictation && p.at_s !== null ? wordsAround(view.document, p.dictation, p.at_s) : "";
    return h(
      "li",
      { class: "photo-row" },
      h("img", { src: `/api/v1/photos/${p.id}/thumbnail`, alt: p.caption ?? "Photo without a caption", loading: "lazy", width: "96", height: "96" }),
      h("span", {}, p.caption ?? (offer ? `Said then: “${offer}”` : "No caption")),
      offer && button("Use as caption", { key: `caption-${p.id}`, onclick: () => send([makeEdit(ticketId, { op: "set", kind: "photo", item: p.id, field: "caption", before: p.caption, after: offer })]) }),
    );
  }
}

const rest = (list, without) => list.filter((i) => !without.has(i.id));
const show = (value) => (value === null || value === undefined ? "taken out" : typeof value === "number" ? number(value) : String(value));

function section(title, list, row) {
  return list.length ? h("section", {}, h("h2", {}, title), h("ul", { class: "rows" }, list.map(row))) : null;
}

function judgement(c) {
  const is = { within: "as expected", outside: "outside what is expected", unknown: "" }[c.judgement];
  return [is, c.expected ?? ""].filter(Boolean).join(", ");
}

