import { addPhotos } from "/src/photos.js";
import { equal, freshDb, rejects, test } from "./harness.js";

const file = (name, text) => new File([text], name, { type: "image/jpeg", lastModified: 1_700_000_000_000 });

test("photos are kept one by one: what fails later takes none of the earlier with it", async () => {
  const db = await freshDb();
  const broken = Object.assign(file("b.jpg", "b"), { arrayBuffer: () => Promise.reject(new DOMException("gone", "NotReadableError")) });
  const told = [];
  const place = { visit: "v", owner: { id: "n", name: "Nell" }, recording: "r", at_s: 2.5 };
  await rejects(addPhotos(db, [file("a.jpg", "a"), broken], place, (row) => told.push(row.name)), (e) => e.name === "NotReadableError");
  const [row, ...more] = await db.getAll("photos");
  equal([told, more.length, row.recording, row.at_s, row.taken_at], [["a.jpg"], 0, "r", 2.5, "2023-11-14T22:13:20.000Z"]);
  equal((await db.getAll("outbox")).map((r) => [r.kind, r.id === row.id, r.owner.name]), [["photo", true, "Nell"]]);
});
