/** Pairing a phone by QR code, signing devices out, closing accounts. */

import "./forms.js";
import "./keys.js";
import { call } from "./api.js";
import { fill, h, say } from "./dom.js";

const byId = (/** @type {string} */ id) => /** @type {HTMLElement} */ (document.getElementById(id));

document.addEventListener("click", async (event) => {
  const button = /** @type {HTMLElement | null} */ (/** @type {Element} */ (event.target).closest("[data-pair], [data-sign-out], [data-account]"));
  if (!button) return;
  try {
    if (button.dataset.pair) {
      const made = await call("POST", "/pairings", { user_id: button.dataset.pair });
      byId("pairing-who").textContent = `For ${button.dataset.name}. Point the phone's camera at it.`;
      // As a picture, not as markup: what the server sends never becomes part of the page.
      fill(byId("pairing-qr"), h("img", { src: `data:image/svg+xml,${encodeURIComponent(withNamespace(made.qr_svg))}`, alt: "QR code of the address below", width: 240, height: 240 }));
      byId("pairing-url").textContent = made.url;
      byId("pairing-until").textContent = `Good for one phone, until ${new Date(made.expires_at).toLocaleTimeString()}.`;
      /** @type {HTMLDialogElement} */ (byId("pairing")).showModal();
    } else if (button.dataset.account) {
      await call("PATCH", `/users/${button.dataset.account}`, { active: button.dataset.active === "true" });
      location.reload();
    } else {
      await call("DELETE", `/devices/${button.dataset.signOut}`);
      button.closest("tr")?.remove();
      say("Signed out.");
    }
  } catch (error) {
    say(/** @type {Error} */ (error).message, "problem");
  }
});

/** @param {string} svg */
const withNamespace = (svg) => (svg.includes("xmlns=") ? svg : svg.replace("<svg", '<svg xmlns="http://www.w3.org/2000/svg"'));
