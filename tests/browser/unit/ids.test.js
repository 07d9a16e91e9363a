import { madeAt, sha256, sha256base64, uuidv7 } from "/src/ids.js";
import { equal, ok, test } from "./harness.js";

test("uuidv7 carries the time, version and variant of RFC 9562", () => {
  // The example of RFC 9562, appendix A.6: 0x017F22E279B0 ms is 22 February 2022, 19:22:22 UTC.
  const id = uuidv7(0x017f22e279b0);
  ok(/^017f22e2-79b0-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/.test(id), id);
});

test("ids made later sort later", () => {
  ok(uuidv7(1_000_000_000_000) < uuidv7(1_000_000_000_001), "order");
});

test("sha256 gives the published digest of abc", async () => {
  // FIPS 180-4, example "abc".
  const abc = new TextEncoder().encode("abc");
  equal(await sha256(abc), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  equal(await sha256base64(abc), "ungWv48Bz+pBQUDeXa4iI7ADYaOWF3qctBD/YfIAFa0=");
});

test("ids keep the order of making within a millisecond and when the clock is put back", () => {
  const now = Date.now();
  const ids = Array.from({ length: 5000 }, (_, i) => uuidv7(i < 4500 ? now : now - 3_600_000));
  equal([...ids].sort(), ids);
  equal(new Set(ids).size, 5000);
  ok(Math.abs(madeAt(ids[0]) - now) <= 1 && madeAt(ids.at(-1)) >= now, "the time they carry");
});
