// Connecting a phone: the QR code of the office opens this page with a short-lived code that works once.
import { button, h, icon } from "../dom.js";
import { announce } from "../signals.js";

export function pair(app, code) {
  let error = "";
  let busy = false;

  async function claim(text) {
    busy = true;
    error = "";
    app.router.repaint();
    try {
      await app.api.call("POST", "/pairings/claim", { json: { code: text, device: deviceName() } });
      await app.api.whoAmI();
      app.router.bar();
      // The code is spent; it has no business in the history.
      history.replaceState(null, "", "#/");
      announce(`This phone now belongs to ${app.api.me.name}.`);
      app.router.go("");
    } catch (problem) {
      busy = false;
      error = problem.status === 0 ? "The server does not answer; go where there is a network and try again." : problem.message;
      app.router.repaint();
    }
  }

  return {
    name: "pair",
    still: true,
    title: () => "Connect this phone",
    enter: () => void (code && claim(code)),
    body: () => [
      error && h("p", { class: "flag", role: "alert" }, icon("warn"), error),
      busy && h("p", {}, "Connecting…"),
      h(
        "form",
        { class: "form", id: "pair", onsubmit: (event) => (event.preventDefault(), claim(new FormData(event.target).get("code").trim())) },
        h("label", { for: "code" }, "Code from the office"),
        h("input", { id: "code", name: "code", value: code, autocomplete: "one-time-code", required: true, "data-key": "code" }),
      ),
    ],
    dock: () => [h("div", { class: "dock-row" }, button("Name and password", { onclick: () => app.router.go("signin") }), h("button", { class: "button main", type: "submit", form: "pair", "data-key": "go", disabled: busy }, h("span", {}, "Connect")))],
  };
}

/** What the office sees in its list of phones: the kind of device, nothing that identifies it. */
function deviceName() {
  const touched = window.matchMedia("(pointer: coarse)").matches;
  const kind = !touched ? "Computer" : Math.min(screen.width, screen.height) >= 600 ? "Tablet" : "Phone";
  return `${kind}, connected ${new Date().toLocaleDateString()}`;
}
