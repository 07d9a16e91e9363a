// Talking to our server. One place for the CSRF token, time limits and turning answers into errors a person can read.

const BASE = "/api/v1";
const LIMIT_MS = 30_000;

/** status 0: no answer from our server. `data` is the body of an error answer. */
export class ApiError extends Error {
  constructor(message, { status = 0, code = "", data = null } = {}) {
    super(message);
    Object.assign(this, { status, code, data });
  }

  /** True when trying again later, unchanged, may succeed. */
  get passing() {
    return this.status === 0 || this.code === OTHER_PERSON || this.status >= 500 || [408, 409, 423, 425, 429, 460].includes(this.status);
  }
}

export const NO_ANSWER = "The server does not answer; everything is kept here and sent later.";

const OTHER_PERSON = "other-person";

export class Api extends EventTarget {
  me = null;
  /** Seconds by which this phone's clock is ahead of the server's. */
  ahead_s = 0;
  /** How often this page has learnt who is signed in. A refusal asked for before the last time is old news. */
  #signings = 0;
  #outdated = new WeakSet();

  /** JSON in, JSON out. Options: json (body), headers, etag (answers null on 304), limit (ms). */
  async call(method, path, options = {}) {
    const answer = await this.fetch(method, BASE + path, options);
    if (answer.status === 304) return null;
    const data = answer.status === 204 ? null : await whole(answer);
    if (data && answer.headers.get("ETag")) Object.defineProperty(data, "etag", { value: answer.headers.get("ETag") });
    return data;
  }

  async fetch(method, url, { json, headers = {}, etag, limit = LIMIT_MS } = {}) {
    const send = () =>
      this.raw(method, url, {
        headers: {
          Accept: "application/json",
          ...(json !== undefined && { "Content-Type": "application/json" }),
          ...(etag && { "If-None-Match": etag }),
          ...headers,
        },
        body: json === undefined ? undefined : JSON.stringify(json),
        limit,
      });
    const answer = await send();
    if (!answer.ok && answer.status !== 304) throw await this.#errorOf(answer);
    return answer;
  }

  /** {id, name} of who is signed in, as what he makes is marked with; null when nobody is known. */
  get owner() {
    return this.me && { id: this.me.id, name: this.me.name };
  }

  /** The request without interpretation, also used by the uploads: cookies, CSRF token (asked for anew once), time limit. */
  async raw(method, url, options = {}) {
    const answer = await this.#once(method, url, options);
    if (answer.status !== 403 || !(await isCsrf(answer))) return answer;
    const before = this.me?.id;
    await this.whoAmI();
    // Another window signed somebody else in: what this person made must not be sent in that one's name.
    if (before && this.me.id !== before) throw new ApiError("Somebody else signed in on this phone meanwhile.", { status: 403, code: OTHER_PERSON });
    return this.#once(method, url, options);
  }

  async #once(method, url, { headers = {}, body, limit = LIMIT_MS, signal } = {}) {
    const token = method === "GET" || method === "HEAD" ? {} : { "X-CSRF-Token": this.me?.csrf ?? "" };
    const signings = this.#signings;
    const stop = new AbortController();
    const clock = setTimeout(() => stop.abort(), limit);
    const stopped = () => stop.abort();
    signal?.addEventListener("abort", stopped);
    if (signal?.aborted) stop.abort();
    try {
      const answer = await fetch(url, {
        method,
        body,
        headers: { ...token, ...headers },
        credentials: "same-origin",
        cache: "no-store",
        redirect: "error",
        signal: stop.signal,
      });
      // A line that breaks within the first line of an answer leaves a status of one or two digits.
      if (answer.status < 200) throw new Error(`cut at status ${answer.status}`);
      if (signings !== this.#signings) this.#outdated.add(answer);
      this.dispatchEvent(new CustomEvent("reached", { detail: true }));
      return answer;
    } catch (error) {
      this.dispatchEvent(new CustomEvent("reached", { detail: false }));
      throw new ApiError(NO_ANSWER, { data: error });
    } finally {
      clearTimeout(clock);
      signal?.removeEventListener("abort", stopped);
    }
  }

  /** Ask who is signed in; remembers the CSRF token. Throws ApiError 401 when nobody is. */
  async whoAmI() {
    const asked = Date.now();
    const answer = await this.raw("GET", `${BASE}/me`, { headers: { Accept: "application/json" } });
    if (!answer.ok) throw await this.#errorOf(answer);
    this.me = await whole(answer);
    const server = Date.parse(this.me.server_time);
    this.ahead_s = Number.isNaN(server) ? 0 : ((asked + Date.now()) / 2 - server) / 1000;
    this.#signings++;
    this.dispatchEvent(new Event("me"));
    return this.me;
  }

  async #errorOf(answer) {
    const data = await answer.json().catch(() => null);
    if (answer.status === 401 && !this.#outdated.has(answer)) this.dispatchEvent(new Event("signed-out"));
    const sentence = data?.error ?? sentenceFor(answer.status);
    return new ApiError(sentence, { status: answer.status, code: data?.code ?? "", data });
  }
}

/** The answer's JSON. A line that breaks in the middle of it is as good as no answer. */
async function whole(answer) {
  try {
    return await answer.json();
  } catch (error) {
    throw new ApiError(NO_ANSWER, { data: error });
  }
}

async function isCsrf(answer) {
  const data = await answer.clone().json().catch(() => null);
  return /csrf/.test(data?.code ?? "");
}

function sentenceFor(status) {
  if (status === 401) return "You are signed out; sign in again and sending goes on.";
  if (status === 413) return "The server refuses something this large; ask the office to raise the limit.";
  if (status >= 500) return "The server has trouble at the moment; this is tried again by itself.";
  return `The server refused this (${status}); ask the office.`;
}
