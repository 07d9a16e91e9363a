// Signing in by name and password, for the day the QR code is not at hand.
import { button, h, icon } from "../dom.js";
import { announce } from "../signals.js";

export function signin(app) {
  let error = "";
  // Made once: what is typed outlives a message above it.
  const form = h(
    "form",
    { class: "form", id: "signin", onsubmit: (event) => (event.preventDefault(), submit(new FormData(event.target))) },
    h("label", { for: "name" }, "Name"),
    h("input", { id: "name", name: "name", autocomplete: "username", autocapitalize: "none", required: true, "data-key": "name" }),
    h("label", { for: "password" }, "Password"),
    h("input", { id: "password", name: "password", type: "password", autocomplete: "current-password", required: true, "data-key": "password" }),
  );
  return {
    name: "signin",
    still: true,
    title: () => "Sign in",
    body: () => [
      h("p", {}, "The quickest way: the office shows a QR code; point the camera of this phone at it. What is recorded here stays here meanwhile."),
      error && h("p", { class: "flag", role: "alert" }, icon("warn"), error),
      form,
    ],
    dock: () => [h("div", { class: "dock-row" }, button("Later", { onclick: () => app.router.signInLater() }), h("button", { class: "button main", type: "submit", form: "signin", "data-key": "go" }, h("span", {}, "Sign in")))],
  };

  async function submit(form) {
    try {
      await app.api.call("POST", "/session", { json: { name: form.get("name"), password: form.get("password") } });
      await app.api.whoAmI();
      app.router.bar();
      announce(`Signed in as ${app.api.me.name}.`);
      app.router.go("");
    } catch (problem) {
      error = problem.message;
      app.router.repaint();
    }
  }
}
