// This phone: room left, who is signed in, how the page looks and listens, new versions.
import { button, h } from "../dom.js";
import { THEMES } from "../settings.js";
import { LITTLE, askToKeep, room, size } from "../storage-room.js";
import { alarm, announce } from "../signals.js";
import { counts, isOthers } from "../outbox-rows.js";

export function phone(app) {
  return {
    name: "phone",
    title: () => "This phone",
    back: () => "",
    async body() {
      const { settings, hands, api, update } = app;
      return [
        await roomSection(app),
        choice("Colours", "theme", Object.entries(THEMES), settings.get("theme"), (v) => settings.set("theme", v)),
        choice("Headset and volume buttons", "hands", [["off", "Off"], ["on", "On"]], hands.on ? "on" : "off", async (v) => {
          if (v === "on") await hands.enable();
          else hands.disable();
          app.router.repaint();
        }),
        h("p", { class: "hint" }, "Where the browser passes them on: play records and stops, next is the next machine, back takes a photo."),
        choice("Read each machine aloud when it opens", "read", [["off", "Off"], ["on", "On"]], settings.get("readAloud"), (v) => (settings.set("readAloud", v), app.router.repaint())),
        h("section", {}, h("h2", {}, "Signed in"), h("p", {}, api.me ? `${api.me.name} (${api.me.role})` : "Nobody"), signButton(app)),
        update.available &&
          h("section", {}, h("h2", {}, "New version"), h("p", {}, { recording: "It waits until nothing is being recorded.", unsent: "It waits until everything has been sent." }[update.held] ?? "It is ready."), !update.held && button("Take the new version", { onclick: () => update.take() })),
        h("section", {}, h("h2", {}, "On the home screen"), h("p", {}, "Put this page on the home screen: phones keep what such pages store for longer. Do it while nothing waits to be sent, since the page on the home screen may not see what this one recorded. The browser's share or menu button has the entry for it.")),
      ];
    },
  };
}

async function roomSection(app) {
  const { free, used, quota, persistent, minutes } = await room();
  const little = free !== null && free < LITTLE;
  return h(
    "section",
    {},
    h("h2", {}, "Room for recordings"),
    free === null
      ? h("p", {}, "This browser does not say how much room is left.")
      : [
          h("p", { class: little ? "flag" : "" }, `${size(free)} left: ${minutes > 6000 ? "more than 100 hours" : `about ${minutes} minutes`} of sound. ${size(used)} in use.`),
          h("meter", { min: "0", max: String(quota), value: String(used), "aria-label": "Room in use" }),
        ],
    persistent
      ? h("p", {}, "The browser keeps what is stored here until it is sent.")
      : [
          h("p", {}, "The browser may clear what is stored here when the phone runs out of room. Send soon."),
          button("Ask to keep it", {
            onclick: async () => {
              announce((await askToKeep()) ? "The browser keeps it." : "The browser did not agree; putting the page on the home screen usually helps.");
              app.router.repaint();
            },
          }),
        ],
  );
}

function signButton(app) {
  if (!app.api.me) return h("a", { class: "button", href: "#/signin", "data-key": "signin" }, h("span", {}, "Sign in"));
  return button("Sign out", {
    onclick: async () => {
      const { waiting, sending, failed } = counts((await app.outbox.rows()).filter((r) => !isOthers(r, app.api.me.id)));
      if (waiting + sending + failed) return alarm("Something here is not at the office yet; it needs you signed in. Send it first.");
      const done = await app.api.call("DELETE", "/session").then(() => true, (error) => error.status === 401);
      if (!done) return alarm("Signing out needs the server, and it does not answer; try again where there is a network.");
      app.outbox.paused = true;
      app.api.me = null;
      await app.db.delete("kv", "me");
      app.router.go("signin");
    },
  });
}

function choice(title, name, options, value, onchange) {
  return h(
    "fieldset",
    { class: "choice" },
    h("legend", {}, title),
    options.map(([v, text]) =>
      h("label", {}, h("input", { type: "radio", name, value: v, checked: v === value, "data-key": `${name}-${v}`, onchange: () => onchange(v) }), h("span", {}, text)),
    ),
  );
}
