// Photos: the original bytes are kept until the server proves it holds them; a small picture stays for looking at.
import { write } from "./db.js";
import { sha256, uuidv7 } from "./ids.js";
import { outboxRow } from "./outbox-rows.js";

const THUMB = 320;

/**
 * Keep photos from the camera or the library. `where`: {visit, tag, owner, recording, at_s}; the last two when one is
 * being recorded. `onKept(row)` is told of each once it is on disk; throws QuotaExceededError when there is no room
 * for the next.
 */
export async function addPhotos(db, files, where, onKept) {
  for (const file of files) {
    const bytes = await file.arrayBuffer();
    const row = {
      id: uuidv7(),
      visit: where.visit,
      tag: where.tag ?? null,
      recording: where.recording ?? null,
      at_s: where.at_s ?? null,
      caption: null,
      taken_at: new Date(file.lastModified || Date.now()).toISOString(),
      name: file.name,
      type: file.type,
      bytes: bytes.byteLength,
      sha256: await sha256(bytes),
      thumb: await thumbnail(file),
      upload: null,
      proved: false,
    };
    await write(db, ["photos", "blobs", "outbox"], (photos, blobs, outbox) => {
      blobs.put({ id: row.id, bytes });
      outbox.put(outboxRow("photo", row.id, { visit: row.visit, owner: where.owner ?? null }));
      return photos.put(row);
    });
    await onKept(row);
  }
}

/** A small JPEG as an ArrayBuffer, or null for a kind this browser cannot show (HEIC in most). */
async function thumbnail(file) {
  try {
    const full = await createImageBitmap(file, { imageOrientation: "from-image" });
    const scale = Math.min(1, THUMB / Math.max(full.width, full.height));
    const canvas = document.createElement("canvas");
    canvas.width = Math.max(1, Math.round(full.width * scale));
    canvas.height = Math.max(1, Math.round(full.height * scale));
    canvas.getContext("2d").drawImage(full, 0, 0, canvas.width, canvas.height);
    full.close();
    const blob = await new Promise((done) => canvas.toBlob(done, "image/jpeg", 0.7));
    return await blob.arrayBuffer();
  } catch {
    return null;
  }
}

/** Paint a kept small picture on a canvas: needs no blob: address, so the strict policy holds. */
export async function paint(canvas, thumb) {
  const picture = await createImageBitmap(new Blob([thumb], { type: "image/jpeg" }));
  canvas.width = picture.width;
  canvas.height = picture.height;
  canvas.getContext("2d").drawImage(picture, 0, 0);
  picture.close();
}

export function photosOf(db, visit) {
  return db.getAllFromIndex("photos", "visit", visit);
}
