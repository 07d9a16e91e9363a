// The recorder. Sound goes to disk in slices of about a second; whatever happens to the page, at most the slice
// being made is missing afterwards (recover.js closes what was left open).
//
// A microphone that stops, falls silent or is taken away makes a new segment: a new stream, a new MediaRecorder,
// a new header. Events: "change" (state or a warning changed), "level" (detail: dB), "closed" (detail: the row).
import { isFull } from "./db.js";
import { uuidv7 } from "./ids.js";
import { Listener, Meter } from "./meter.js";
import { openMicrophone } from "./microphone.js";
import { NoPlace, addMark, addSlice, closeRecording, createRecording, createSegment, lockName } from "./sound-store.js";
import { LEAST, room, size } from "./storage-room.js";
import { recorderType } from "./supported.js";
import { Wake } from "./wake.js";

export const SLICE_MS = 1000;
const BITS = 32_000;
const TICK_MS = 250;
const STALLED_MS = 3 * SLICE_MS + 500;
const DEAD_S = 5;
const QUIET_S = 8;
/** Seconds between asking for the microphone again while it stays dead or refused. */
const ASK_AGAIN_S = 15;
/** The same while the phone itself says that it mutes: a call lasts, and each asking makes a segment. */
const ASK_AGAIN_MUTED_S = 60;
/** How long a recorder is given to hand over its last slice; one that has died never does. */
const LAST_SLICE_MS = 10_000;
const LAST_SLICE_OF_DEAD_MS = 1500;

export class NoRoom extends Error {}

export class Recorder extends EventTarget {
  state = "idle"; // idle | starting | recording | paused | stopping
  warning = null; // null | quiet | silent | muted | lost | full | unsaved | cleared | hidden
  recording = null;

  #db;
  #wake = new Wake();
  #listener = new Listener();
  #meter = null;
  #segment = null; // {row: Promise, recorder, stream, n, stopped: Promise}
  #unsaved = []; // slices not yet on disk, oldest first
  #flushing = null;
  #seconds = 0;
  #since = null;
  #lastSlice = 0;
  #soundTo = 0; // recorded seconds up to which sound has arrived
  #askedAt = -Infinity;
  #mutedAt = null;
  #renewing = null;
  #timer = null;
  #release = () => {};
  #owner = null;
  #seq = 0;

  constructor(db) {
    super();
    this.#db = db;
    document.addEventListener("visibilitychange", () => this.#visibility());
    addEventListener("pagehide", () => this.#hurry());
    document.addEventListener("freeze", () => this.#hurry());
  }

  get busy() {
    return this.state !== "idle";
  }

  get screenStaysOn() {
    return this.#wake.held;
  }

  /** Seconds recorded so far, pauses left out. */
  get seconds() {
    return this.#seconds + (this.#since === null ? 0 : (performance.now() - this.#since) / 1000);
  }

  /** Begin. `owner`: {id, name} of who speaks. Throws NoRoom, or the browser's own error when the microphone is refused. */
  async start({ visit, tag = null, purpose = "dictation", owner = null }) {
    if (this.busy) throw new Error("already recording");
    this.#set("starting");
    let stream = null;
    try {
      const { free } = await room();
      if (free !== null && free < LEAST) {
        throw new NoRoom(
          `Only ${size(free)} is left on this phone, too little to record; delete something or send what is waiting.`,
        );
      }
      stream = await openMicrophone();
      const id = uuidv7();
      await this.#hold(id);
      this.recording = await createRecording(this.#db, {
        id,
        visit,
        tag,
        purpose,
        owner,
        started_at: new Date().toISOString(),
        settings: stream.getAudioTracks()[0].getSettings(),
      });
      Object.assign(this, { warning: null });
      this.#owner = owner;
      this.#seq = 0;
      this.#seconds = this.#soundTo = 0;
      this.#unsaved = [];
      this.#askedAt = -Infinity;
      this.#openSegment(stream);
      await this.#wake.on();
      this.#timer = setInterval(() => this.#tick(), TICK_MS);
      this.#set("recording");
    } catch (error) {
      // Nothing stays open: neither the microphone nor a row that waits for sound.
      this.#segment = null;
      for (const track of stream?.getTracks() ?? []) track.stop();
      await this.#meter?.close();
      this.#meter = null;
      if (this.recording) await closeRecording(this.#db, this.recording.id).catch(() => {});
      this.#release();
      this.recording = null;
      this.#set("idle");
      throw error;
    }
    return this.recording;
  }

  pause() {
    if (this.state !== "recording") return;
    this.#clockStop();
    if (this.#segment?.recorder.state === "recording") {
      this.#segment.recorder.requestData();
      this.#segment.recorder.pause();
    }
    this.#set("paused");
  }

  resume() {
    if (this.state !== "paused") return;
    this.#listener.reset();
    if (this.#segment?.recorder.state === "paused") {
      this.#segment.recorder.resume();
      this.#clockStart();
    } else {
      this.#renew("lost");
    }
    this.#lastSlice = performance.now();
    this.#set("recording");
  }

  /** Note a moment on the time line: kind "photo", "next-machine" or another word. */
  async mark(kind, more = {}) {
    const mark = { at_s: Math.round(this.seconds * 100) / 100, kind, ...more };
    await addMark(this.#db, this.recording.id, mark);
    return mark;
  }

  /** Stop, wait for the last slice, close. Resolves with the closed row, or null when there was no sound at all. */
  async stop() {
    if (this.state !== "recording" && this.state !== "paused") return null;
    this.#clockStop();
    this.#set("stopping");
    clearInterval(this.#timer);
    await this.#renewing?.catch(() => {});
    await this.#endSegment();
    for (let tries = 0; this.#unsaved.length && tries < 5; tries++) {
      await this.#flush();
      if (this.#unsaved.length) await new Promise((r) => setTimeout(r, 300));
    }
    const { id } = this.recording;
    const lost = this.#unsaved.length;
    this.#unsaved = [];
    let closed = null;
    try {
      closed = await closeRecording(this.#db, id);
    } catch {
      // No room even for the closing note, or no store: every slice is kept, and the next start closes it.
      closed = { ...this.recording, state: "open" };
    } finally {
      await this.#wake.off();
      this.#release();
      this.recording = null;
      this.#set("idle");
    }
    this.dispatchEvent(new CustomEvent("closed", { detail: { recording: closed, lost } }));
    return closed;
  }

  // ------------------------------------------------------------------ segments

  #openSegment(stream) {
    const type = recorderType();
    const recorder = new MediaRecorder(stream, { ...(type && { mimeType: type }), audioBitsPerSecond: BITS });
    const segment = { recorder, stream, n: 0 };
    const { id } = this.recording;
    const seq = this.#seq++;
    // The real type is known only after "start": "audio/mp4" may have become something longer.
    const started = new Promise((resolve) => recorder.addEventListener("start", resolve, { once: true }));
    const segmentId = uuidv7();
    segment.makeRow = () => started.then(() => createSegment(this.#db, { id: segmentId, recording: id, seq, mime: recorder.mimeType || type }));
    segment.row = segment.makeRow();
    segment.row.catch((error) => this.#saveFailed(error));
    segment.stopped = new Promise((resolve) => recorder.addEventListener("stop", resolve, { once: true }));
    recorder.addEventListener("dataavailable", (event) => this.#slice(segment, event.data));
    recorder.addEventListener("stop", () => this.#unexpected(segment, "lost"));
    recorder.addEventListener("error", () => this.#unexpected(segment, "lost"));
    const [track] = stream.getAudioTracks();
    track.addEventListener("ended", () => this.#unexpected(segment, "lost"));
    track.addEventListener("unmute", () => {
      // What is heard from now on counts: after a call a track may say "live" and "unmuted" with capture dead.
      if (this.#segment === segment) this.#listener.reset();
      if (this.warning === "muted") this.#warn(null);
    });
    this.#segment = segment;
    this.#listener.reset();
    this.#mutedAt = null;
    this.#meter = Meter.of(stream);
    this.#lastSlice = performance.now();
    recorder.start(SLICE_MS);
    this.#clockStart();
  }

  /** `dead`: its capture has stopped by itself, so that it may never say "stop". */
  async #endSegment({ dead = false } = {}) {
    const segment = this.#segment;
    if (!segment) return;
    this.#segment = null;
    if (segment.recorder.state !== "inactive") {
      segment.recorder.stop();
      await Promise.race([segment.stopped, new Promise((r) => setTimeout(r, dead ? LAST_SLICE_OF_DEAD_MS : LAST_SLICE_MS))]);
    }
    for (const track of segment.stream.getTracks()) track.stop();
    await this.#meter?.close();
    this.#meter = null;
    await this.#flush();
  }

  #unexpected(segment, why) {
    if (this.#segment === segment && (this.state === "recording" || this.state === "paused")) this.#renew(why);
  }

  /** Close this segment, ask for the microphone again and go on in a new one. */
  #renew(why) {
    if (this.#renewing) return;
    this.#askedAt = performance.now();
    this.#clockStop();
    // Time in which no sound arrived is not on the time line: marks would stand beside the wrong words.
    if (this.#seconds - this.#soundTo > STALLED_MS / 1000) this.#seconds = this.#soundTo;
    this.#warn(why);
    this.#renewing = (async () => {
      await this.#endSegment({ dead: true });
      if (this.state !== "recording") return;
      const stream = await openMicrophone();
      if (this.state !== "recording") {
        for (const track of stream.getTracks()) track.stop();
        return;
      }
      this.#openSegment(stream);
      if (!["silent", "cleared"].includes(why)) this.#warn(null);
    })()
      .catch(() => this.#warn("lost"))
      .finally(() => (this.#renewing = null));
  }

  // ------------------------------------------------------------------ slices

  #slice(segment, data) {
    this.#lastSlice = performance.now();
    if (!data.size) return;
    if (this.#segment === segment) this.#soundTo = this.seconds;
    this.#unsaved.push({ segment, n: segment.n++, data, seconds: this.seconds });
    this.#flush();
  }

  /** Write waiting slices in order. A failure keeps them in memory; the next slice tries again. */
  #flush() {
    this.#flushing ??= this.#writeAll().finally(() => (this.#flushing = null));
    return this.#flushing;
  }

  async #writeAll() {
    while (this.#unsaved.length) {
      const { segment, n, data, seconds } = this.#unsaved[0];
      let row;
      try {
        row = await segment.row;
      } catch (error) {
        // What failed once may succeed with the next slice; without its row the segment would never be written.
        segment.row = segment.makeRow();
        segment.row.catch(() => {});
        return this.#saveFailed(error);
      }
      try {
        await addSlice(this.#db, row.id, n, await data.arrayBuffer(), seconds);
      } catch (error) {
        if (!(error instanceof NoPlace)) return this.#saveFailed(error);
        // It came too late, or what it belongs to was cleared away; what follows must not wait behind it.
        this.#unsaved = this.#unsaved.filter((u) => u.segment !== segment);
        if (error.gone && this.#segment === segment) await this.#beginAgain();
        continue;
      }
      this.#unsaved.shift();
      if (this.warning === "unsaved") this.#warn(null);
      this.dispatchEvent(new CustomEvent("slice", { detail: { recording: this.recording?.id } }));
    }
  }

  /** Somebody or the browser cleared the store under a running recording: what is said from now on is kept. */
  async #beginAgain() {
    const marks = [];
    await createRecording(this.#db, { ...this.recording, marks, owner: this.#owner }).catch((error) => this.#saveFailed(error));
    this.#renew("cleared");
  }

  #saveFailed(error) {
    if (isFull(error)) {
      if (this.warning === "full") return;
      this.#warn("full");
      this.stop();
    } else {
      this.#warn("unsaved");
    }
  }

  // ------------------------------------------------------------------ watching

  #tick() {
    if (this.state !== "recording" || this.#renewing) return;
    const now = performance.now();
    const waited = (now - this.#askedAt) / 1000 > ASK_AGAIN_S;
    if (!this.#segment) {
      if (waited || this.warning !== "lost") this.#renew("lost");
      return;
    }
    const { muted } = this.#segment.stream.getAudioTracks()[0];
    this.#mutedAt = muted ? (this.#mutedAt ?? now) : null;
    if (muted) {
      this.#warn("muted");
      if (now - Math.max(this.#mutedAt, this.#askedAt) > ASK_AGAIN_MUTED_S * 1000) return this.#renew("muted");
    } else if (this.#meter?.running) {
      const db = this.#meter.level();
      this.dispatchEvent(new CustomEvent("level", { detail: db }));
      const { dead, quiet } = this.#listener.hear(db, now / 1000);
      if (dead >= DEAD_S && waited) return this.#renew("silent");
      if (dead >= DEAD_S) this.#warn("silent");
      else if (quiet >= QUIET_S) this.#warn("quiet");
      else if (quiet === 0 && ["silent", "quiet", "muted", "cleared"].includes(this.warning)) this.#warn(null);
    }
    // A hidden page's timers and blobs come late; that is no stall.
    if (now - this.#lastSlice > STALLED_MS && document.visibilityState === "visible") this.#renew("lost");
  }

  /** Get what the recorder holds onto disk at once: there may be no later event. */
  #hurry() {
    if (this.#segment?.recorder.state === "recording") this.#segment.recorder.requestData();
  }

  #visibility() {
    if (this.state !== "recording") return;
    if (document.visibilityState === "hidden") {
      this.#hurry();
      this.#warn("hidden");
    } else {
      this.#lastSlice = performance.now();
      this.#listener.reset();
      if (this.warning === "hidden") this.#warn(null);
      const track = this.#segment?.stream.getAudioTracks()[0];
      if (!track || track.readyState === "ended" || this.#segment.recorder.state === "inactive") this.#renew("lost");
    }
  }

  #clockStart() {
    this.#since = performance.now();
  }

  #clockStop() {
    this.#seconds = this.seconds;
    this.#since = null;
  }

  async #hold(id) {
    if (!navigator.locks) return;
    await new Promise((held) => {
      navigator.locks.request(lockName(id), () => {
        held();
        return new Promise((release) => (this.#release = release));
      });
    });
  }

  #warn(warning) {
    if (this.warning === warning) return;
    this.warning = warning;
    this.dispatchEvent(new Event("change"));
  }

  #set(state) {
    this.state = state;
    this.dispatchEvent(new Event("change"));
  }
}
