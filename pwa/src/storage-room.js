// How much room is left on the phone, in the words that matter: minutes of sound.

/** Bytes a second at 32 kbit/s Opus with its container: 4.5 kB/s measured, taken as 5. */
const BYTES_PER_SECOND = 5_000;
/** Below this no recording is begun: about three minutes, and room for the bookkeeping. */
export const LEAST = 2_000_000;
/** Below this a warning is shown. */
export const LITTLE = 60_000_000;

/** {free, used, quota: bytes or null where the browser does not say; persistent: boolean; minutes of sound}. */
export async function room() {
  const storage = navigator.storage;
  if (!storage?.estimate) return { free: null, used: null, quota: null, persistent: false, minutes: null };
  const { usage = 0, quota = 0 } = await storage.estimate();
  const free = Math.max(0, quota - usage);
  const persistent = (await storage.persisted?.()) ?? false;
  return { free, used: usage, quota, persistent, minutes: Math.floor(free / BYTES_PER_SECOND / 60) };
}

/** Ask the browser not to clear what we keep. False is the usual answer and is shown, not hidden. */
export async function askToKeep() {
  try {
    return (await navigator.storage?.persist?.()) ?? false;
  } catch {
    return false;
  }
}

export function size(bytes) {
  if (bytes === null) return "unknown";
  if (bytes < 1e6) return `${Math.max(1, Math.round(bytes / 1e3))} kB`;
  if (bytes < 1e9) return `${Math.round(bytes / 1e6)} MB`;
  return `${(bytes / 1e9).toFixed(1)} GB`;
}
