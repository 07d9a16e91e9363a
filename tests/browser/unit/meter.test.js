import { Listener, peakDb } from "/src/meter.js";
import { equal, ok, test } from "./harness.js";

test("full scale is 0 dB, half is 6 dB less, nothing is minus infinity", () => {
  equal(peakDb([0, 1, 0]), 0);
  // 20 log10(1/2): from the definition of the decibel.
  ok(Math.abs(peakDb([0.5, -0.25]) + 6.0206) < 1e-3, "half");
  ok(peakDb([0, 0]) === -Infinity, "zero");
});

test("digital zero and quiet are told apart and timed", () => {
  const l = new Listener();
  equal(l.hear(-20, 0), { dead: 0, quiet: 0 });
  equal(l.hear(-70, 1), { dead: 0, quiet: 0 });
  equal(l.hear(-70, 4), { dead: 0, quiet: 3 });
  equal(l.hear(-Infinity, 5), { dead: 0, quiet: 4 });
  equal(l.hear(-Infinity, 10), { dead: 5, quiet: 9 });
  equal(l.hear(-20, 11), { dead: 0, quiet: 0 });
});
