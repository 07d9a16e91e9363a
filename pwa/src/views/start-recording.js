// Pressing Record, from whatever page: begin, or say in a sentence why not.
import { isFull } from "../db.js";
import { dialog, button } from "../dom.js";
import { NoRoom } from "../recorder.js";
import { alarm, announce, buzz } from "../signals.js";
import { obstacles } from "../supported.js";
import { connectionPage, obstacleOf } from "./connection.js";

export async function startRecording(app, visit, { tag = null, purpose = "dictation" } = {}) {
  app.speaker.stop();
  app.player.stop();
  const inTheWay = obstacles();
  if (inTheWay.length) return explain(inTheWay);
  try {
    await app.recorder.start({ visit, tag, purpose, owner: app.api.owner });
  } catch (error) {
    const slug = obstacleOf(error);
    if (slug) return explain([slug]);
    if (isFull(error)) return alarm("There is no room left on this phone, too little to record; delete something or send what is waiting.");
    return alarm(error instanceof NoRoom ? error.message : `Recording did not start: ${error.message}`);
  }
  buzz(120);
  announce("Recording.");
  app.outbox.kick({ evenIfFailing: false });
  app.router.go(`visit/${visit}/recording`);
}

function explain(slugs) {
  return dialog("Recording is not possible", (close) => [
    connectionPage(slugs).map((e) => {
      if (e.tagName !== "H1") return e;
      const h3 = document.createElement("h3");
      h3.append(e.textContent);
      return h3;
    }),
    button("Close", { kind: "main", onclick: () => close() }),
  ]);
}
