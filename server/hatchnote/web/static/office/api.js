/** Talking to the server: JSON, the sign-in's token on every change, errors as sentences. */

export class ApiError extends Error {
  /** @param {number} status @param {any} body */
  constructor(status, body) {
    super(body?.error ?? `The server answered ${status}; try again.`);
    this.status = status;
    this.body = body;
  }
}

/** No answer at all: the work stays here and is sent later. */
export class NoAnswer extends Error {}

const csrf = () => document.querySelector('meta[name="csrf"]')?.getAttribute("content") ?? "";

/**
 * @param {string} method @param {string} path below /api/v1 @param {any} [body]
 * @param {Record<string, string>} [headers]
 * @returns {Promise<any>} null where nothing changed since (304)
 */
export async function call(method, path, body, headers = {}) {
  try {
    return await once(method, path, body, headers);
  } catch (error) {
    // Somebody signed in anew in another tab: the page's token is the old session's.
    if (!(error instanceof ApiError) || error.body?.code !== "csrf" || method === "GET") throw error;
    const me = await once("GET", "/me", undefined, {});
    document.querySelector('meta[name="csrf"]')?.setAttribute("content", me.csrf);
    return once(method, path, body, headers);
  }
}

/** @param {string} method @param {string} path @param {any} body @param {Record<string, string>} headers */
async function once(method, path, body, headers) {
  let answer;
  try {
    answer = await fetch(`/api/v1${path}`, {
      method,
      credentials: "same-origin",
      headers: {
        Accept: "application/json",
        ...(method === "GET" ? {} : { "X-CSRF-Token": csrf() }),
        ...(body === undefined || typeof body === "string" ? {} : { "Content-Type": "application/json" }),
        ...headers,
      },
      body: body === undefined ? undefined : typeof body === "string" ? body : JSON.stringify(body),
    });
  } catch (error) {
    throw new NoAnswer("The server does not answer; the change is kept here and sent when it does.", { cause: error });
  }
  if (answer.status === 304) return null;
  const text = await answer.text();
  let value = null;
  try {
    value = text ? JSON.parse(text) : null;
  } catch {
    value = { error: `The server gave no readable answer (${answer.status}); try again.` };
  }
  if (!answer.ok) throw new ApiError(answer.status, value);
  return value;
}

/** An id in order of time (UUIDv7, RFC 9562 section 5.7). */
export function newId() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  let now = Date.now();
  for (let i = 5; i >= 0; i--) {
    bytes[i] = now % 256;
    now = Math.floor(now / 256);
  }
  bytes[6] = (bytes[6] & 0x0f) | 0x70;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const hex = [...bytes].map((b) => b.toString(16).padStart(2, "0")).join("");
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join("-");
}
