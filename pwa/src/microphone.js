// How the microphone is asked for.

/** Echo and noise processing off: removing noise before recognition makes its errors more, not fewer. */
export function openMicrophone() {
  return navigator.mediaDevices.getUserMedia({
    audio: { echoCancellation: false, noiseSuppression: false, autoGainControl: true, channelCount: 1 },
  });
}
