// Here alone fetch is played: the order in which a server's answers arrive cannot be had from a real one.
import { Api } from "/src/api.js";
import { equal, ok, test } from "./harness.js";

/** Answers by hand: each request waits in `asked` until the test answers it. */
async function withFetch(run) {
  const real = globalThis.fetch;
  const asked = [];
  globalThis.fetch = () => new Promise((answer) => asked.push((status, body) => answer(new Response(JSON.stringify(body), { status }))));
  const api = new Api();
  let signedOut = 0;
  api.addEventListener("signed-out", () => signedOut++);
  try {
    await run(api, asked, () => signedOut);
  } finally {
    globalThis.fetch = real;
  }
}

test("a refusal from before the sign-in does not sign out", () =>
  withFetch(async (api, asked, signedOut) => {
    const before = api.call("GET", "/visits").catch((error) => error.status);
    const me = api.whoAmI();
    asked[1](200, { name: "Nell", csrf: "x" });
    await me;
    asked[0](401, { error: "You are signed out." });
    equal(await before, 401);
    equal(signedOut(), 0);
    ok(api.me.name === "Nell", "still Nell");
  }));

test("a refusal from after the sign-in signs out", () =>
  withFetch(async (api, asked, signedOut) => {
    const me = api.whoAmI();
    asked[0](200, { name: "Nell", csrf: "x" });
    await me;
    const after = api.call("GET", "/visits").catch((error) => error.status);
    asked[1](401, { error: "You are signed out." });
    equal(await after, 401);
    equal(signedOut(), 1);
  }));
