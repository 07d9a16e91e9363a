// Telling the person: words in a live region, a tone, a vibration. Cold hands and wind: never by sight alone.

const said = () => document.getElementById("said");

/** A sentence for screen readers, politely. */
export function announce(text) {
  said().textContent = "";
  requestAnimationFrame(() => (said().textContent = text));
}

let context = null;

/** A short tone, `up` for "done", otherwise for "look here". Needs an earlier tap; silent without one. */
export function tone(up) {
  try {
    context ??= new AudioContext();
    const [first, second] = up ? [523, 784] : [440, 330];
    const sound = context.createOscillator();
    const volume = context.createGain();
    volume.gain.value = 0.2;
    sound.frequency.setValueAtTime(first, context.currentTime);
    sound.frequency.setValueAtTime(second, context.currentTime + 0.12);
    sound.connect(volume).connect(context.destination);
    sound.start();
    sound.stop(context.currentTime + 0.25);
  } catch {
    // no sound device: the words and the vibration remain
  }
}

export function buzz(pattern = 80) {
  // Before the first tap the browser refuses and complains.
  if (navigator.userActivation?.hasBeenActive ?? true) navigator.vibrate?.(pattern);
}

/** The bar across the top that stays until its button is used. */
export function alarm(text, { action = "Close", onaction } = {}) {
  const bar = document.getElementById("alarm");
  const words = document.createElement("p");
  words.textContent = text;
  const close = document.createElement("button");
  close.type = "button";
  close.className = "button";
  close.textContent = action;
  close.addEventListener("click", () => {
    bar.replaceChildren();
    onaction?.();
  });
  bar.replaceChildren(words, close);
  buzz([200, 80, 200]);
}
