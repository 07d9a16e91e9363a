// While the microphone is open: one page, big areas, nothing that destroys. Stop fills the foot of the screen.
import { askRepeatedly, button, h, icon, repaint } from "../dom.js";
import { alarm, announce, buzz, tone } from "../signals.js";
import { clock } from "../words.js";
import { photoTaker } from "./take-photos.js";

const WARNINGS = {
  quiet: "I hear almost nothing. Is the microphone covered?",
  silent: "No sound arrives. The microphone was asked for again; speak to test it.",
  muted: "The phone has muted the microphone. Is a call going on?",
  lost: "The microphone stopped. What was said is kept; asking for it again.",
  full: "The phone is full. Recording stopped; all up to here is kept.",
  unsaved: "The phone does not save at the moment; the last seconds are held and tried again.",
  cleared: "The phone cleared what this page had stored, and what was said before with it. From here on it is kept again.",
  hidden: "Recording may stop while another app is in front.",
};
const WORDS_MS = 2500;

export function recording(app, visitId) {
  const { recorder } = app;
  const taker = photoTaker(app, () => ({
    visit: visitId,
    tag: recorder.recording?.tag ?? null,
    recording: recorder.recording?.id ?? null,
    at_s: recorder.recording ? Math.round(recorder.seconds * 100) / 100 : null,
  }));
  const time = h("p", { class: "time", role: "timer", "aria-label": "Recorded time" }, "0:00");
  const level = h("meter", { class: "level", min: "-60", max: "0", low: "-45", value: "-60", "aria-label": "Sound level" });
  const warning = h("div", { class: "warning", role: "alert" });
  const words = h("p", { class: "words", "aria-live": "off" });
  const stop = [];
  let shown;
  let parting = false;

  function look() {
    time.textContent = clock(recorder.seconds);
    const now = recorder.warning ?? (recorder.screenStaysOn ? null : "screen");
    if (shown === now) return;
    shown = now;
    const text = now === "screen" ? "Keep the screen on: this phone does not do it by itself." : WARNINGS[now];
    repaint(warning, text ? [h("p", {}, icon("warn"), h("span", {}, text))] : []);
    if (["quiet", "silent", "muted", "lost", "unsaved", "cleared"].includes(now)) {
      tone(false);
      buzz([300, 100, 300]);
    }
  }

  async function fetchWords() {
    if (!recorder.recording || document.visibilityState === "hidden" || app.reached === false) return;
    const answer = await app.api.call("GET", `/recordings/${recorder.recording.id}`, { limit: 5000 }).catch(() => null);
    if (answer?.words_so_far) words.textContent = lastWords(answer.words_so_far);
  }

  async function leave() {
    if (parting) return;
    parting = true;
    app.router.go(`visit/${visitId}`);
  }

  return {
    name: "recording",
    title: () => ({ paused: "Paused", stopping: "Keeping…" })[recorder.state] ?? "Recording",
    async enter() {
      if (!recorder.busy) return leave();
      const onLevel = (event) => (level.value = Math.max(-60, event.detail));
      const onClosed = (event) => {
        const { lost, recording: row } = event.detail;
        const full = recorder.warning === "full";
        if (full) alarm(`${WARNINGS.full}${lost ? " The last second did not fit." : ""} Free some room, then record again.`);
        else if (row?.state === "open") alarm("The phone did not let this recording be closed; what was written is kept and sent after the page is loaded again.");
        else if (!row) alarm("Nothing was recorded: no sound came from the microphone.");
        else tone(true);
        announce(row ? "Recording kept." : "Nothing was recorded.");
        leave();
      };
      const onAction = (event) => act(event.detail);
      recorder.addEventListener("level", onLevel);
      recorder.addEventListener("closed", onClosed);
      app.hands.addEventListener("action", onAction);
      const clocks = setInterval(look, 200);
      stop.push(
        () => recorder.removeEventListener("level", onLevel),
        () => recorder.removeEventListener("closed", onClosed),
        () => app.hands.removeEventListener("action", onAction),
        () => clearInterval(clocks),
        askRepeatedly(fetchWords, WORDS_MS),
        () => taker.close(),
      );
    },
    leave: () => stop.forEach((f) => f()),
    body() {
      const paused = recorder.state === "paused";
      return [
        h("div", { class: "capture" }, time, level, warning, words),
        h(
          "div",
          { class: "dock-row thirds" },
          button(paused ? "Go on" : "Pause", { picture: paused ? "mic" : "pause", key: "pause", onclick: () => (paused ? recorder.resume() : recorder.pause()) }),
          button("Photo", { picture: "camera", onclick: () => act("photo") }),
          button("Next machine", { picture: "next", onclick: () => act("next-machine") }),
        ),
      ];
    },
    // Alone at the foot: it stays in view however large the text is.
    dock: () => [h("button", { type: "button", class: "stop", "data-key": "stop", disabled: recorder.state === "stopping", onclick: () => recorder.stop() }, icon("stop"), h("span", {}, "Stop"))],
  };

  async function act(action) {
    if (action === "record") await recorder.stop();
    if (action === "photo") taker.open("camera");
    if (action === "next-machine" && recorder.recording) {
      await recorder.mark("next-machine");
      buzz();
      announce("Next machine: say which.");
      repaint(words, [h("strong", {}, "Next machine: say which.")]);
    }
  }
}

function lastWords(said) {
  const text = typeof said === "string" ? said : said.map((w) => w.text ?? w).join(" ");
  return text.length > 220 ? `…${text.slice(text.indexOf(" ", text.length - 220))}` : text;
}
