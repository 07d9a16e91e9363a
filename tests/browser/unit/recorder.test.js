import { NoRoom, Recorder, SLICE_MS } from "/src/recorder.js";
import { recover } from "/src/recover.js";
import { lockName, readBytes, segmentsOf } from "/src/sound-store.js";
import { sha256 } from "/src/ids.js";
import { equal, freshDb, ok, rejects, sleep, test, until } from "./harness.js";

async function begun(db) {
  const recorder = new Recorder(db);
  const recording = await recorder.start({ visit: "v" });
  return { recorder, recording };
}

async function seconds(blobs) {
  const context = new AudioContext();
  const sound = await context.decodeAudioData(await new Blob(blobs).arrayBuffer());
  await context.close();
  return sound.duration;
}

test("slices reach the disk while recording, none longer than two seconds", async () => {
  const db = await freshDb();
  const { recorder, recording } = await begun(db);
  ok(SLICE_MS <= 2000, "slice length");
  const [segment] = await until(async () => ((await segmentsOf(db, recording.id))[0]?.slices >= 2 ? segmentsOf(db, recording.id) : null), "two slices");
  equal(segment.state, "open");
  ok((await seconds(await readBytes(db, segment.id))) > segment.slices - 1, "what is on disk decodes while recording goes on");
  const closed = await recorder.stop();
  equal([closed.state, closed.recovered, recorder.state], ["closed", false, "idle"]);
  const [done] = await segmentsOf(db, recording.id);
  const parts = await readBytes(db, done.id);
  equal(done.sha256, await sha256(await new Blob(parts).arrayBuffer()));
  const settings = (await db.get("recordings", recording.id)).settings;
  ok("sampleRate" in settings, "the microphone's own settings are kept");
});

test("pausing stops the clock and the sound, and going on continues the segment", async () => {
  const db = await freshDb();
  const { recorder, recording } = await begun(db);
  await sleep(1500);
  recorder.pause();
  const at = recorder.seconds;
  await sleep(1200);
  equal(recorder.seconds, at);
  equal(recorder.state, "paused");
  recorder.resume();
  await sleep(1000);
  await recorder.stop();
  const segments = await segmentsOf(db, recording.id);
  equal(segments.length, 1);
  const length = await seconds(await readBytes(db, segments[0].id));
  ok(length > 1.8 && length < 3.4, `${length} s of sound from 2.5 s of recording and 1.2 s of pause`);
});

test("marks stand on the time line of what was recorded", async () => {
  const db = await freshDb();
  const { recorder, recording } = await begun(db);
  await sleep(700);
  await recorder.mark("photo", { photo_id: "p" });
  await recorder.stop();
  const { marks } = await db.get("recordings", recording.id);
  equal(marks[0].kind, "photo");
  ok(marks[0].at_s > 0.5 && marks[0].at_s < 2, `at ${marks[0].at_s} s`);
});

test("a microphone that ends makes a new segment by itself", async () => {
  const db = await freshDb();
  const streams = [];
  const real = navigator.mediaDevices.getUserMedia.bind(navigator.mediaDevices);
  navigator.mediaDevices.getUserMedia = async (wish) => {
    const stream = await real(wish);
    streams.push(stream);
    return stream;
  };
  const { recorder, recording } = await begun(db);
  await sleep(1500);
  // As a phone call does it: the track dies, and nobody asked for it.
  const [track] = streams[0].getTracks();
  track.stop();
  track.dispatchEvent(new Event("ended"));
  await until(() => streams.length === 2 && recorder.state === "recording", "a second stream");
  await sleep(1500);
  await recorder.stop();
  const segments = await segmentsOf(db, recording.id);
  equal(segments.map((s) => s.seq), [0, 1]);
  for (const s of segments) ok((await seconds(await readBytes(db, s.id))) > 0.5, `segment ${s.seq} decodes by itself`);
});

test("a refused microphone leaves nothing behind", async () => {
  const db = await freshDb();
  navigator.mediaDevices.getUserMedia = async () => {
    throw new DOMException("no", "NotAllowedError");
  };
  const recorder = new Recorder(db);
  await rejects(recorder.start({ visit: "v" }), (e) => e.name === "NotAllowedError");
  equal([recorder.state, await db.count("recordings"), await db.count("outbox")], ["idle", 0, 0]);
});

test("without room recording does not begin and says so", async () => {
  const db = await freshDb();
  navigator.storage.estimate = async () => ({ usage: 999_000, quota: 1_000_000 });
  const error = await rejects(new Recorder(db).start({ visit: "v" }), (e) => e instanceof NoRoom);
  ok(/1 kB is left/.test(error.message), error.message);
});

test("an open recording is closed by recovery only when no page is making it", async () => {
  const db = await freshDb();
  const { recorder, recording } = await begun(db);
  await until(async () => (await segmentsOf(db, recording.id))[0]?.slices, "a slice");
  equal(await recover(db), []);
  await recorder.stop();
  await db.put("recordings", { ...(await db.get("recordings", recording.id)), state: "open" });
  ok(!(await navigator.locks.query()).held.some((l) => l.name === lockName(recording.id)), "the lock is free");
  const closed = await recover(db);
  equal(closed.map((r) => [r.id, r.recovered, r.state]), [[recording.id, true, "closed"]]);
});

test("silence from the first second is said", async () => {
  const db = await freshDb();
  const context = new AudioContext();
  const silent = context.createMediaStreamDestination();
  const nothing = new ConstantSourceNode(context, { offset: 0 });
  nothing.connect(silent);
  nothing.start();
  let asked = 0;
  navigator.mediaDevices.getUserMedia = async () => (asked++, silent.stream.clone());
  const { recorder } = await begun(db);
  const warnings = new Set();
  recorder.addEventListener("change", () => warnings.add(recorder.warning));
  await until(() => warnings.has("silent"), "the warning").catch((e) => {
    throw new Error(`${e.message}; warnings were ${[...warnings]}`);
  });
  await until(() => asked === 2, "asking for the microphone again");
  equal(recorder.warning, "silent");
  await recorder.stop();
});
