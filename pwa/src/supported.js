// What this browser can do, decided once.

/** Recorder types in order of preference; the empty string lets the browser choose. */
export function recorderType(supported = (t) => MediaRecorder.isTypeSupported(t)) {
  return ["audio/webm;codecs=opus", "audio/mp4"].find(supported) ?? "";
}

/** What stands in the way of recording here, as slugs: "insecure", "microphone", "recorder", "storage". */
export function obstacles(scope = globalThis) {
  if (!scope.isSecureContext) return ["insecure"];
  const out = [];
  if (!scope.navigator.mediaDevices?.getUserMedia) out.push("microphone");
  if (!scope.MediaRecorder) out.push("recorder");
  if (!scope.indexedDB) out.push("storage");
  return out;
}
