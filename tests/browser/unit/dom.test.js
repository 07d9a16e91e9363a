import { askRepeatedly, h, repaintIfNew } from "/src/dom.js";
import { equal, ok, test, until } from "./harness.js";

test("a question that takes long is not asked again before it is answered", async () => {
  let [open, most, asked] = [0, 0, 0];
  const end = askRepeatedly(async () => {
    asked++;
    most = Math.max(most, ++open);
    await new Promise((r) => setTimeout(r, 120));
    open--;
    if (asked === 2) throw new Error("no answer");
  }, 10, 0);
  await until(() => asked === 4, "four questions, one failing");
  end();
  equal(most, 1, "at a time");
  const before = asked;
  await new Promise((r) => setTimeout(r, 400));
  ok(asked === before, "none after the end");
});

test("a control that would look the same stays, so that a finger on it keeps its tap", () => {
  const root = h("nav");
  const dock = (word) => [null, h("button", { class: "stop" }, word)];
  repaintIfNew(root, dock("Stop"));
  const [first] = root.children;
  repaintIfNew(root, dock("Stop"));
  ok(root.children[0] === first, "kept");
  repaintIfNew(root, dock("Keeping"));
  ok(root.children[0] !== first && root.textContent === "Keeping", "replaced");
});
