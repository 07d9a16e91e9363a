// A tiny runner: a test file calls test(name, f); the page is asked to run one test by its name.
import { open } from "/src/db.js";

const tests = new Map();

export function test(name, run) {
  if (tests.has(name)) throw new Error(`two tests are called “${name}”`);
  tests.set(name, run);
}

export function equal(actual, expected, what = "value") {
  const [a, e] = [JSON.stringify(actual), JSON.stringify(expected)];
  if (a !== e) throw new Error(`${what}: expected ${e}, got ${a}`);
}

export function ok(condition, what) {
  if (!condition) throw new Error(`not so: ${what}`);
}

export async function rejects(promise, fits) {
  try {
    await promise;
  } catch (error) {
    ok(fits(error), `the error ${error.name}: ${error.message} is of the expected kind`);
    return error;
  }
  throw new Error("expected a rejection");
}

export async function until(condition, what, limit = 15000) {
  for (const begin = performance.now(); performance.now() - begin < limit; ) {
    const value = await condition();
    if (value) return value;
    await new Promise((r) => setTimeout(r, 50));
  }
  throw new Error(`waited in vain for: ${what}`);
}

export const sleep = (ms) => new Promise((r) => setTimeout(r, ms));

/** A fresh database of its own. */
export const freshDb = () => open({ name: `test-${crypto.randomUUID()}` });

export async function run(file, name) {
  await import(file);
  if (!tests.has(name)) throw new Error(`there is no test “${name}” in ${file}`);
  await tests.get(name)();
}
