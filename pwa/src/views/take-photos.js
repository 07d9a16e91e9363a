// The two ways to photos: the camera, or several at once from the library. Both inputs stand in the page, since some
// phones tell nothing about a choice made with an input that is not.
import { isFull } from "../db.js";
import { h } from "../dom.js";
import { addPhotos } from "../photos.js";
import { alarm, announce, buzz } from "../signals.js";
import { count } from "../words.js";

/** {open(source)}: source "camera" or "library". `where()` says what the photos belong to at that moment. */
export function photoTaker(app, where) {
  let started = null;
  const input = (source) => {
    const field = h("input", {
      type: "file",
      accept: "image/*",
      class: "unseen",
      tabindex: "-1",
      "aria-hidden": "true",
      "data-source": source,
      capture: source === "camera" ? "environment" : null,
      multiple: source === "library",
    });
    field.addEventListener("change", async () => {
      const files = [...field.files];
      field.value = "";
      await keep(app, files, started ?? where());
    });
    document.body.append(field);
    return field;
  };
  const fields = { camera: input("camera"), library: input("library") };
  return {
    open(source) {
      // The moment of the tap: choosing takes seconds, and the caption is what is being said now.
      started = where();
      fields[source].click();
    },
    close: () => Object.values(fields).forEach((f) => f.remove()),
  };
}

async function keep(app, files, place) {
  if (!files.length) return;
  try {
    const rows = await addPhotos(app.db, files, place);
    const { recorder } = app;
    if (place.recording && recorder.recording?.id === place.recording) {
      for (const row of rows) await recorder.mark("photo", { photo_id: row.id, at_s: place.at_s });
    }
    buzz();
    announce(`${count(rows.length, "photo")} kept.`);
  } catch (error) {
    alarm(isFull(error) ? "There is no room for this photo on the phone; send what is waiting, then take it again." : `The photo was not kept: ${error.message}`);
  }
  app.outbox.kick();
  app.router.repaint();
}
