import { NoRoom, Recorder, SLICE_MS } from "/src/recorder.js";
import { open, write } from "/src/db.js";
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

/** getUserMedia that keeps its streams for the test to reach. */
function watchedMicrophone(change = (stream) => stream) {
  const streams = [];
  const real = navigator.mediaDevices.getUserMedia.bind(navigator.mediaDevices);
  navigator.mediaDevices.getUserMedia = async (wish) => {
    const stream = change(await real(wish), streams.length);
    streams.push(stream);
    return stream;
  };
  return streams;
}

test("a store that is cut while recording is opened again and nothing is missing", async () => {
  const db = await freshDb();
  const { recorder, recording } = await begun(db);
  await until(async () => (await segmentsOf(db, recording.id))[0]?.slices, "a slice");
  await db.again((connection) => connection.close());
  const before = (await segmentsOf(db, recording.id))[0].slices;
  await until(async () => (await segmentsOf(db, recording.id))[0].slices > before + 1, "slices after the cut");
  equal(recorder.warning, null);
  const closed = await recorder.stop();
  const segments = await segmentsOf(db, recording.id);
  equal([closed.state, segments.length, segments[0].lost_slices], ["closed", 1, 0]);
});

test("a store that was cleared while recording is said, and speech from then on is kept", async () => {
  const db = await freshDb();
  const { recorder, recording } = await begun(db);
  await until(async () => (await segmentsOf(db, recording.id))[0]?.slices, "a slice");
  const warnings = new Set();
  recorder.addEventListener("change", () => warnings.add(recorder.warning));
  await write(db, ["recordings", "segments", "slices", "outbox"], (...stores) => Promise.all(stores.map((s) => s.clear())));
  await until(async () => (await segmentsOf(db, recording.id))[0]?.slices >= 2, "slices of a new segment");
  ok(warnings.has("cleared"), `warnings were ${[...warnings]}`);
  const closed = await recorder.stop();
  const [segment] = await segmentsOf(db, recording.id);
  equal([closed.state, segment.seq], ["closed", 1]);
  ok((await seconds(await readBytes(db, segment.id))) > 0.5, "it decodes by itself");
  equal((await db.get("outbox", recording.id)).state, "waiting");
});

test("a call that mutes the microphone is said at once, and its end too", async () => {
  const db = await freshDb();
  // Chromium cannot be made to mute a fake microphone: the track's own flag and event are played.
  let muted = false;
  const streams = watchedMicrophone((stream) => {
    Object.defineProperty(stream.getAudioTracks()[0], "muted", { get: () => muted });
    return stream;
  });
  const { recorder } = await begun(db);
  muted = true;
  streams[0].getAudioTracks()[0].dispatchEvent(new Event("mute"));
  await until(() => recorder.warning === "muted", "the warning");
  muted = false;
  streams[0].getAudioTracks()[0].dispatchEvent(new Event("unmute"));
  await until(() => recorder.warning === null, "the end of the warning");
  equal(streams.length, 1, "one segment: the microphone was not asked for anew");
  await recorder.stop();
});

test("a start that fails leaves neither the microphone open nor a row behind", async () => {
  const db = await freshDb();
  const streams = watchedMicrophone();
  const Real = globalThis.MediaRecorder;
  globalThis.MediaRecorder = class {
    static isTypeSupported = () => true;
    constructor() {
      throw new DOMException("no", "NotSupportedError");
    }
  };
  const recorder = new Recorder(db);
  await rejects(recorder.start({ visit: "v" }), (e) => e.name === "NotSupportedError");
  globalThis.MediaRecorder = Real;
  equal(streams[0].getTracks().map((t) => t.readyState), ["ended"]);
  equal([recorder.state, await db.count("recordings"), await db.count("outbox")], ["idle", 0, 0]);
  await recorder.start({ visit: "v" });
  await recorder.stop();
});

test("a pause over a microphone that dies goes on in a new segment", async () => {
  const db = await freshDb();
  const streams = watchedMicrophone();
  const { recorder, recording } = await begun(db);
  await until(async () => (await segmentsOf(db, recording.id))[0]?.slices, "a slice");
  recorder.pause();
  const [track] = streams[0].getTracks();
  track.stop();
  track.dispatchEvent(new Event("ended"));
  recorder.resume();
  await until(async () => (await segmentsOf(db, recording.id))[1]?.slices, "a slice of the second segment");
  equal(recorder.state, "recording");
  await recorder.stop();
  equal((await segmentsOf(db, recording.id)).map((s) => [s.seq, s.state]), [[0, "closed"], [1, "closed"]]);
});

test("two windows may record at once, each its own", async () => {
  const db = await freshDb();
  const first = await begun(db);
  const second = await begun(db);
  await sleep(1500);
  const closed = [await first.recorder.stop(), await second.recorder.stop()];
  equal(closed.map((r) => r.state), ["closed", "closed"]);
  equal((await Promise.all(closed.map((r) => segmentsOf(db, r.id)))).map((s) => s.length), [1, 1]);
});

/** The page's visibility as the browser would tell it; a headless page is always in front. */
function turn(visibility) {
  Object.defineProperty(document, "visibilityState", { value: visibility, configurable: true });
  document.dispatchEvent(new Event("visibilitychange"));
}

test("going to the background saves at once and says that recording may stop", async () => {
  const db = await freshDb();
  const { recorder, recording } = await begun(db);
  await until(async () => (await segmentsOf(db, recording.id))[0]?.slices, "a slice");
  const before = (await segmentsOf(db, recording.id))[0].slices;
  await sleep(300);
  let saved = 0;
  const at = performance.now();
  recorder.addEventListener("slice", () => (saved ||= performance.now() - at));
  turn("hidden");
  equal(recorder.warning, "hidden");
  await until(() => saved, "the slice");
  turn("visible");
  equal(recorder.warning, null);
  await recorder.stop();
  const [segment] = await segmentsOf(db, recording.id);
  ok(segment.slices > before && segment.lost_slices === 0, `${segment.slices} slices`);
});

test("a store that fails once at the beginning of a segment does not keep the rest from being written", async () => {
  const name = `test-${crypto.randomUUID()}`;
  const db = await open({ name });
  const look = await open({ name }); // so that looking does not meet the failure
  const real = db.again.bind(db);
  let failures = 0;
  const recorder = new Recorder(db);
  db.again = (work) => {
    // The recording's row is there; the next thing written is the segment's.
    if (recorder.recording && !failures) {
      failures++;
      return Promise.reject(new DOMException("once", "AbortError"));
    }
    return real(work);
  };
  const recording = await recorder.start({ visit: "v" });
  await until(async () => (await segmentsOf(look, recording.id))[0]?.slices >= 2, "slices on disk");
  equal(failures, 1);
  await recorder.stop();
  const [segment] = await segmentsOf(look, recording.id);
  equal([segment.state, segment.lost_slices], ["closed", 0]);
  ok((await seconds(await readBytes(look, segment.id))) > 1, "from its first slice on");
});
