// Reading aloud, playing and headset buttons. Chromium here has no voice: the browser's speech is replaced by one
// that the test steers. The media session is the browser's own; its handlers are caught when they are registered.
import { Hands } from "/src/hands.js";
import { Speaker } from "/src/speak.js";
import { equal, ok, test, until } from "./harness.js";

function steeredSpeech() {
  const spoken = [];
  const late = []; // cancelled utterances tell of it after a while, as browsers do
  const speech = {
    getVoices: () => [],
    speak: (u) => spoken.push(u),
    cancel: () => late.push(...spoken.slice(-1)),
  };
  Object.defineProperty(globalThis, "speechSynthesis", { value: speech, configurable: true });
  return { spoken, late, tell: (u, event) => u.dispatchEvent(new Event(event)) };
}

test("sentences are spoken one after another, each when the last has ended", () => {
  const { spoken, tell } = steeredSpeech();
  const speaker = new Speaker();
  speaker.say(["One.", "Two."]);
  equal(spoken.map((u) => u.text), ["One."]);
  tell(spoken[0], "start");
  tell(spoken[0], "end");
  equal(spoken.map((u) => u.text), ["One.", "Two."]);
  tell(spoken[1], "start");
  tell(spoken[1], "end");
  ok(!speaker.speaking, "done");
});

test("the same text asked for again is spoken once, though the first one ends late", () => {
  const { spoken, late, tell } = steeredSpeech();
  const speaker = new Speaker();
  speaker.say(["RTU-3.", "Two missing."]);
  tell(spoken[0], "start");
  speaker.say(["RTU-3.", "Two missing."]);
  for (const u of late) tell(u, "error");
  equal(spoken.map((u) => u.text), ["RTU-3.", "RTU-3."]);
});

test("a phone without a voice says so instead of pretending", async () => {
  const { spoken, tell } = steeredSpeech();
  const speaker = new Speaker();
  let told = 0;
  speaker.addEventListener("no-voice", () => told++);
  speaker.say(["One.", "Two."]);
  tell(spoken[0], "error");
  equal([told, speaker.speaking, spoken.length], [1, false, 1]);
});

test("the browser's own speech, which has no voice here, says so too", async () => {
  const speaker = new Speaker();
  let told = 0;
  speaker.addEventListener("no-voice", () => told++);
  speaker.say(["One."]);
  await until(() => told || !speaker.speaking, "an end");
  ok(speechSynthesis.getVoices().length || told === 1, "no voice, and nobody told");
});

test("headset buttons act once a press, and not after hands-free is off", async () => {
  const handlers = new Map();
  const real = MediaSession.prototype.setActionHandler;
  MediaSession.prototype.setActionHandler = function (action, f) {
    real.call(this, action, f);
    handlers.set(action, f);
  };
  const hands = new Hands();
  const acts = [];
  hands.addEventListener("action", (event) => acts.push(event.detail));
  await hands.enable();
  handlers.get("play")();
  handlers.get("play")();
  equal(acts, ["record"], "one press");
  await new Promise((r) => setTimeout(r, 500));
  handlers.get("nexttrack")();
  equal(acts, ["record", "next-machine"]);
  hands.disable();
  equal([handlers.get("play"), handlers.get("nexttrack"), navigator.mediaSession.metadata], [null, null, null]);
  dispatchEvent(new KeyboardEvent("keydown", { key: "MediaPlayPause" }));
  equal(acts.length, 2);
});
