// Why this phone cannot record here, in plain words, with what to do.
import { h } from "../dom.js";

const PAGES = {
  insecure: {
    title: "This address cannot use the microphone",
    text: [
      `The address ${globalThis.location?.origin} is not encrypted, or its certificate is not trusted. Browsers then switch off the microphone, the camera store and working without a network.`,
      "Nothing has been recorded or lost.",
    ],
    todo: [
      "Ask the office for the address that begins with https:// and scan its QR code again.",
      "In the office: run “hatchnote serve --lan”. It explains the ways to a trusted address and which suits you.",
      "On the computer that runs the server itself, http://localhost works as it is.",
    ],
  },
  microphone: {
    title: "This browser gives no microphone",
    text: ["The page is trusted, but the browser offers no microphone to it."],
    todo: ["Open this address in the phone’s own browser, not inside another app.", "Update the browser, then load this page again."],
  },
  recorder: {
    title: "This browser cannot record",
    text: ["It is too old to record sound."],
    todo: ["Update the phone’s system or browser. Photos and reading drafts work meanwhile."],
  },
  storage: {
    title: "This browser keeps nothing",
    text: ["It refuses to store anything, as private windows do."],
    todo: ["Open this address in a normal window."],
  },
  refused: {
    title: "The microphone is switched off for this page",
    text: ["Recording needs it. The browser was told to refuse, or the phone’s settings do."],
    todo: [
      "Tap the sign beside the address, then Permissions or Website settings, then allow the microphone.",
      "On the phone: Settings, the browser’s entry, allow the microphone.",
      "Come back and press Record again.",
    ],
  },
  missing: {
    title: "No microphone was found",
    text: ["The phone says that it has none, or another app holds it."],
    todo: ["End calls and other recording apps.", "Plug the headset out and in again, then press Record."],
  },
};

/** Elements for the obstacles given (slugs of supported.js, or "refused", "missing"). */
export function connectionPage(slugs) {
  return slugs.flatMap((slug) => {
    const { title, text, todo } = PAGES[slug];
    return [
      h("h1", { class: "page-title" }, title),
      ...text.map((t) => h("p", {}, t)),
      h("h2", {}, "What to do"),
      h("ol", { class: "steps" }, todo.map((t) => h("li", {}, t))),
    ];
  });
}

/** Which page fits an error of getUserMedia. */
export function obstacleOf(error) {
  if (error.name === "NotAllowedError" || error.name === "SecurityError") return "refused";
  if (["NotFoundError", "NotReadableError", "OverconstrainedError", "AbortError"].includes(error.name)) return "missing";
  return null;
}
