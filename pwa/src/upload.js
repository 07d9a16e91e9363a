// One file to the server by tus. The protocol is tus-js-client's; ours are the transport (fetch, so that it runs in
// a service worker too, with a checksum on every piece) and the source (reads IndexedDB, also a file still growing).
import "../vendor/tus-js-client/tus.min.js";
import { ApiError, NO_ANSWER } from "./api.js";
import { sha256base64 } from "./ids.js";

const { Upload } = globalThis.tus;
const ENDPOINT = "/uploads";
const SMALLEST = 64 * 1024;
const LARGEST = 1024 * 1024;
export const UPLOAD_LOST = "upload-lost";
/** ms for one piece: 64 kB at half a kilobyte a second. */
const PIECE_LIMIT_MS = 130_000;

/** Piece size that follows the line: doubles when a piece passes, halves at a failure. */
export class Pieces {
  size = 2 * SMALLEST;
  passed() {
    this.size = Math.min(LARGEST, this.size * 2);
  }
  failed() {
    this.size = Math.max(SMALLEST, this.size / 2);
  }
}

class FetchStack {
  constructor(api, signal) {
    Object.assign(this, { api, signal });
  }
  createRequest(method, url) {
    return new FetchRequest(this.api, method, url, this.signal);
  }
  getName() {
    return "FetchStack";
  }
}

class FetchRequest {
  #headers = {};
  #stop = new AbortController();

  constructor(api, method, url, signal) {
    Object.assign(this, { api, method, url });
    signal?.addEventListener("abort", () => this.#stop.abort());
  }
  getMethod() {
    return this.method;
  }
  getURL() {
    return this.url;
  }
  setHeader(name, value) {
    this.#headers[name] = value;
  }
  getHeader(name) {
    return this.#headers[name];
  }
  setProgressHandler() {
    // fetch tells nothing while it sends; progress comes with each accepted piece.
  }
  async send(body = null) {
    let bytes;
    if (body) {
      bytes = await body.arrayBuffer();
      this.#headers["Upload-Checksum"] = `sha256 ${await sha256base64(bytes)}`;
    }
    const answer = await this.api.raw(this.method, this.url, {
      headers: this.#headers,
      body: bytes,
      limit: PIECE_LIMIT_MS,
      signal: this.#stop.signal,
    });
    const text = await answer.text();
    return {
      getStatus: () => answer.status,
      getHeader: (name) => answer.headers.get(name),
      getBody: () => text,
      getUnderlyingObject: () => answer,
    };
  }
  abort() {
    this.#stop.abort();
    return Promise.resolve();
  }
  getUnderlyingObject() {
    return null;
  }
}

/**
 * Send one file. `file`: {read(from, to) -> {parts, done}, size or null while it grows, metadata, address: URL of
 * an upload begun earlier or null}. `onAddress(url)` is told where to go on after a break; `onSent(bytes)` after
 * each piece. Resolves with {sha256, whole} as the server said them; throws ApiError.
 */
export function upload(api, file, { pieces = new Pieces(), onAddress, onSent = () => {}, signal } = {}) {
  return new Promise((resolve, reject) => {
    const growing = file.size === null;
    const source = {
      size: file.size,
      async slice(from) {
        const { parts, done } = await file.read(from, from + pieces.size);
        return { value: new Blob(parts), done };
      },
      close() {},
    };
    const job = new Upload(source, {
      endpoint: ENDPOINT,
      uploadUrl: file.address,
      metadata: file.metadata,
      uploadLengthDeferred: growing,
      uploadSize: growing ? null : file.size,
      chunkSize: LARGEST,
      retryDelays: null, // the outbox backs off and comes back to the byte
      storeFingerprintForResuming: false, // the outbox remembers the address
      fingerprint: async () => null,
      fileReader: { openFile: async () => source },
      httpStack: new FetchStack(api, signal),
      onUploadUrlAvailable: () => {
        if (job.url !== file.address) onAddress?.(pathOf(job.url));
      },
      onChunkComplete: (_piece, sent) => {
        pieces.passed();
        onSent(sent);
      },
      onError: (error) => {
        pieces.failed();
        reject(apiError(error));
      },
      onSuccess: ({ lastResponse }) =>
        resolve({
          sha256: lastResponse.getHeader("Hatchnote-Sha256"),
          whole: lastResponse.getHeader("Hatchnote-Received") === "whole",
        }),
    });
    signal?.addEventListener("abort", () => {
      job.abort();
      reject(new ApiError(NO_ANSWER));
    });
    job.start();
  });
}

/** Kept without its host: the same server may be reached by another name tomorrow. */
function pathOf(url) {
  const { pathname, search } = new URL(url, self.location.href);
  return pathname + search;
}

function apiError(error) {
  if (error instanceof ApiError) return error;
  if (error.causingError instanceof ApiError) return error.causingError;
  const answer = error.originalResponse;
  // A line that breaks within an answer's head leaves a "204" without its other headers: that is no answer.
  if (!answer || answer.getStatus() < 400) return new ApiError(NO_ANSWER, { data: error });
  const status = answer.getStatus();
  // No such upload. It ran out, or the line broke within the address that the server gave, which Chromium then takes
  // as it came. Asking the same address again is of no use; a new upload of the same file is.
  if (error.originalRequest?.getMethod() === "PATCH" && [404, 405, 410].includes(status)) {
    return new ApiError("The server does not know this upload; the file is sent from its start.", { status: 460, code: UPLOAD_LOST });
  }
  let data = null;
  try {
    data = JSON.parse(answer.getBody());
  } catch {
    // tus answers are plain text; the status says enough
  }
  return new ApiError(data?.error ?? `The server did not take this piece (${status}); it is tried again.`, {
    status,
    code: data?.code ?? "",
    data,
  });
}
