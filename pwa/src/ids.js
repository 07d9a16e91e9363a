// Identifiers and digests. Ids are made here, on the phone, so that sending twice is the same as sending once.

let last = { ms: 0, n: 0 };

/**
 * A UUID of version 7 (RFC 9562, 5.7) with a counter in rand_a (6.2, method 1): ids made by one page sort in the order
 * they were made, within one millisecond and when the clock is put back. Corrections are sent in that order.
 */
export function uuidv7(now = Date.now()) {
  last = now > last.ms ? { ms: now, n: 0 } : last.n < 0xfff ? { ms: last.ms, n: last.n + 1 } : { ms: last.ms + 1, n: 0 };
  const b = crypto.getRandomValues(new Uint8Array(16));
  for (let i = 5, t = last.ms; i >= 0; i--, t = Math.floor(t / 256)) b[i] = t % 256;
  b[6] = 0x70 | (last.n >> 8);
  b[7] = last.n & 0xff;
  b[8] = (b[8] & 0x3f) | 0x80;
  const hex = toHex(b);
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join("-");
}

/** When such an id was made, in ms. */
export const madeAt = (id) => parseInt(id.slice(0, 8) + id.slice(9, 13), 16);

/** SHA-256 of an ArrayBuffer or typed array, lower-case hex. */
export async function sha256(bytes) {
  return toHex(new Uint8Array(await crypto.subtle.digest("SHA-256", bytes)));
}

/** SHA-256 in base64, the form of the tus `Upload-Checksum` header. */
export async function sha256base64(bytes) {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return btoa(String.fromCharCode(...digest));
}

function toHex(bytes) {
  return Array.from(bytes, (b) => b.toString(16).padStart(2, "0")).join("");
}
