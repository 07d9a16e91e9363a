// Here alone fetch is played: the order in which a server's answers arrive cannot be had from a real one.
import { Api } from "/src/api.js";
import { equal, ok, test, until } from "./harness.js";

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

test("a window signed in by somebody else meanwhile does not send in his name", () =>
  withFetch(async (api, asked) => {
    const me = api.whoAmI();
    asked[0](200, { id: "n", name: "Nell", csrf: "x" });
    await me;
    const sending = api.call("PUT", "/notes/1", { json: {} }).catch((error) => error);
    asked[1](403, { error: "out of date", code: "csrf" });
    await until(() => asked.length === 3, "the question who is there");
    asked[2](200, { id: "b", name: "Bob", csrf: "y" });
    const error = await sending;
    equal([error.code, error.passing, asked.length], ["other-person", true, 3]);
  }));

test("a new token of the same person is taken without a word", () =>
  withFetch(async (api, asked) => {
    const me = api.whoAmI();
    asked[0](200, { id: "n", name: "Nell", csrf: "x" });
    await me;
    const sending = api.call("PUT", "/notes/1", { json: {} });
    asked[1](403, { error: "out of date", code: "csrf" });
    await until(() => asked.length === 3, "the question who is there");
    asked[2](200, { id: "n", name: "Nell", csrf: "y" });
    await until(() => asked.length === 4, "the second try");
    asked[3](200, { done: true });
    equal(await sending, { done: true });
  }));
