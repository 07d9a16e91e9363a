/**
 * Drawing that takes nothing away under somebody's hand. A button that is drawn anew between the press and the release
 * of a finger is never clicked, and a field that is drawn anew while the focus moves into it does not get it: so
 * drawing waits for both.
 */

const LONGEST_PRESS_MS = 2000;

/** @param {() => void} draw @returns {() => void} asks for a drawing, at once or as soon as nothing is pressed */
export function steady(draw) {
  let pressed = false;
  let waiting = false;

  function drawn() {
    if (!waiting || pressed) return;
    waiting = false;
    draw();
  }

  function released() {
    pressed = false;
    if (waiting) setTimeout(drawn);
  }

  addEventListener("pointerdown", () => {
    pressed = true;
    setTimeout(released, LONGEST_PRESS_MS);
  }, true);
  // The release over the list of a select never comes to the page: what is chosen, or any key, tells of it too.
  for (const end of ["pointerup", "pointercancel", "click", "change", "keydown"]) addEventListener(end, released, true);
  addEventListener("blur", (event) => event.target === window && released());

  return () => {
    if (!waiting) setTimeout(drawn);
    waiting = true;
  };
}
