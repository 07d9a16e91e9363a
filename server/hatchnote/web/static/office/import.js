/** Import in two steps: look at every problem, then write all of it or nothing. */

import "./keys.js";
import { call } from "./api.js";
import { fill, h, say } from "./dom.js";

const byId = (/** @type {string} */ id) => /** @type {HTMLElement} */ (document.getElementById(id));
const file = /** @type {HTMLInputElement} */ (byId("file"));
const csv = /** @type {HTMLTextAreaElement} */ (byId("csv"));
const go = /** @type {HTMLButtonElement} */ (byId("go"));

file.addEventListener("change", async () => {
  const chosen = file.files?.[0];
  if (chosen) csv.value = await chosen.text();
  go.disabled = true;
});
csv.addEventListener("input", () => (go.disabled = true));

/** @param {boolean} dry */
async function send(dry) {
  try {
    const found = await call("POST", `/imports/equipment${dry ? "?dry_run=1" : ""}`, { csv: csv.value });
    go.disabled = !dry || found.problems.length > 0 || found.rows === 0;
    fill(byId("found"),
      h("p", {}, `${found.rows} rows: ${found.new_sites.length} new sites, ${found.new_machines} new machines, ${found.changed_machines} changed.`,
        found.written ? h("strong", {}, " All of it is written.") : null),
      found.problems.length
        ? h("div", { class: "table", tabindex: 0, role: "region", "aria-label": "Problems" },
            h("table", {},
              h("thead", {}, h("tr", {}, h("th", { scope: "col", class: "n" }, "Row"), h("th", { scope: "col" }, "Column"), h("th", { scope: "col" }, "Problem"))),
              h("tbody", {}, found.problems.map((/** @type {any} */ p) => h("tr", {}, h("td", { class: "n" }, p.row), h("td", {}, p.column ?? ""), h("td", {}, p.sentence))))))
        : null);
  } catch (error) {
    go.disabled = true;
    fill(byId("found"));
    say(/** @type {Error} */ (error).message, "problem");
  }
}

byId("import").addEventListener("submit", (event) => {
  event.preventDefault();
  void send(true);
});
go.addEventListener("click", () => void send(false));
