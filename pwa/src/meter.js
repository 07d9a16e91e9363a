// The level of the sound that really arrives. A track's own flags are no proof of sound: after a call a track may
// be "live" with capture dead, so the samples are looked at.

const QUIET_DB = -55;

/** Peak of a block of samples in dB below full scale; -Infinity for digital zero. */
export function peakDb(samples) {
  let peak = 0;
  for (const s of samples) peak = Math.max(peak, Math.abs(s));
  return peak === 0 ? -Infinity : 20 * Math.log10(peak);
}

/** Turns a stream of levels into "sound", "quiet" or "dead" (digital zero), each with how long it has lasted in s. */
export class Listener {
  #since = { quiet: null, dead: null };

  /** One level in dB at time `t` (s). */
  hear(db, t) {
    this.#mark("dead", db === -Infinity, t);
    this.#mark("quiet", db < QUIET_DB, t);
    return { dead: this.#age("dead", t), quiet: this.#age("quiet", t) };
  }

  reset() {
    this.#since = { quiet: null, dead: null };
  }

  #mark(what, is, t) {
    if (!is) this.#since[what] = null;
    else this.#since[what] ??= t;
  }

  #age(what, t) {
    return this.#since[what] === null ? 0 : t - this.#since[what];
  }
}

/** Reads a MediaStream's level through an AnalyserNode. */
export class Meter {
  #context;
  #source;
  #analyser;
  #samples;

  /** A meter, or null where the browser gives no audio graph: recording goes on without a level. */
  static of(stream) {
    try {
      return new Meter(stream);
    } catch {
      return null;
    }
  }

  constructor(stream) {
    this.#context = new AudioContext();
    this.#source = this.#context.createMediaStreamSource(stream);
    this.#analyser = this.#context.createAnalyser();
    this.#analyser.fftSize = 2048;
    this.#samples = new Float32Array(this.#analyser.fftSize);
    this.#source.connect(this.#analyser);
  }

  /** False while the browser holds the audio graph back: then a level of zero means nothing. */
  get running() {
    return this.#context.state === "running";
  }

  level() {
    this.#analyser.getFloatTimeDomainData(this.#samples);
    return peakDb(this.#samples);
  }

  close() {
    this.#source.disconnect();
    return this.#context.close().catch(() => {});
  }
}
