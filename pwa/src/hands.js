// Headset and volume buttons, where the browser passes them on. Browsers give media buttons only to a page that
// plays something, so a second of silence is looped while hands-free is on.
//
// Actions: "record" (start, or stop while recording), "photo", "next-machine", "read".

const KEYS = {
  MediaPlayPause: "record",
  MediaRecord: "record",
  MediaStop: "record",
  MediaTrackNext: "next-machine",
  MediaTrackPrevious: "photo",
  Camera: "photo",
  AudioVolumeUp: "record",
  VolumeUp: "record",
  AudioVolumeDown: "next-machine",
  VolumeDown: "next-machine",
};

const SESSION = [
  ["play", "record"],
  ["pause", "record"],
  ["stop", "record"],
  ["nexttrack", "next-machine"],
  ["previoustrack", "photo"],
  ["togglemicrophone", "record"],
];
const ONE_PRESS_MS = 400;

export class Hands extends EventTarget {
  #silence = null;
  #pressed = -Infinity;

  constructor() {
    super();
    addEventListener("keydown", (event) => {
      const action = this.on && KEYS[event.key];
      if (!action) return;
      event.preventDefault();
      this.#act(action);
    });
  }

  get on() {
    return this.#silence !== null;
  }

  /** Call from a tap: the browser lets sound begin only then. */
  async enable() {
    if (this.on) return;
    this.#silence = new Audio("silence.wav");
    this.#silence.loop = true;
    await this.#silence.play().catch(() => {});
    this.#listen(true);
  }

  disable() {
    this.#listen(false);
    this.#silence?.pause();
    this.#silence = null;
  }

  #listen(on) {
    const session = navigator.mediaSession;
    if (!session) return;
    session.metadata = on ? new MediaMetadata({ title: "hatchnote", artist: "Play: record or stop. Next: next machine. Back: photo." }) : null;
    for (const [action, meaning] of SESSION) {
      try {
        session.setActionHandler(action, on ? () => this.#act(meaning) : null);
      } catch {
        // an action this browser does not know
      }
    }
  }

  #act(action) {
    // One press reaches some pages twice, as a key and through the media session.
    const now = performance.now();
    if (now - this.#pressed < ONE_PRESS_MS) return;
    this.#pressed = now;
    this.dispatchEvent(new CustomEvent("action", { detail: action }));
    // The button paused the silence; without it playing the next press would go elsewhere.
    this.#silence?.play().catch(() => {});
  }
}
