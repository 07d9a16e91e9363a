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
  const { recorder } = app;
  let kept = 0;
  try {
    await addPhotos(app.db, files, { ...place, owner: app.api.owner }, async (row) => {
      kept += 1;
      if (place.recording && recorder.recording?.id === place.recording) await recorder.mark("photo", { photo_id: row.id, at_s: place.at_s });
    });
    buzz();
    announce(`${count(kept, "photo")} kept.`);
  } catch (error) {
    if (!isFull(error)) alarm(`The photo was not kept: ${error.message}`);
    else if (kept) alarm(`Only ${kept} of ${files.length} photos fitted on the phone; send what is waiting, then take the others again.`);
    else alarm("There is no room for this photo on the phone; send what is waiting, then take it again.");
  }
  app.outbox.kick();
  app.router.repaint();
}
