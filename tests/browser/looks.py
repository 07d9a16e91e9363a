"""What axe does not measure at its usual tags: 48 px targets and a contrast of 7:1 in the sunlight theme.

Contrast is that of WCAG 2.2, "relative luminance" and "contrast ratio" (https://www.w3.org/TR/WCAG22/#dfn-contrast-ratio).
"""

from __future__ import annotations

TARGETS = """() => {
  const seen = (e) => {
    const r = e.getBoundingClientRect();
    return r.width > 1 && r.height > 1 && e.checkVisibility();
  };
  return [...document.querySelectorAll("button, a[href], input:not([type=file]), textarea, label:has(input)")]
    .filter(seen)
    .filter((e) => !(e.matches("input[type=radio]")))  // its label is the target
    .map((e) => [e.innerText || e.getAttribute("aria-label") || e.id, e.getBoundingClientRect()])
    .map(([text, box]) => ({ text: text.trim(), box }))
    .filter(({ box }) => box.width < 48 || box.height < 48)
    .map(({ text, box }) => `${text}: ${Math.round(box.width)} × ${Math.round(box.height)}`);
}"""

CONTRAST = """() => {
  const rgb = (text) => { const n = text.match(/[\\d.]+/g).map(Number); return { c: n.slice(0, 3), a: n[3] ?? 1 }; };
  const light = ({ c }) => {
    const [r, g, b] = c.map((v) => (v /= 255) <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const behind = (e) => {
    for (; e; e = e.parentElement) { const b = rgb(getComputedStyle(e).backgroundColor); if (b.a === 1) return b; }
    return { c: [255, 255, 255], a: 1 };
  };
  const out = new Set();
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    const e = walk.currentNode.parentElement;
    if (!walk.currentNode.data.trim() || !e.checkVisibility() || e.closest(".unseen, noscript, option")) continue;
    const [a, b] = [light(rgb(getComputedStyle(e).color)), light(behind(e))];
    const ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
    if (ratio < 7) out.add(`${walk.currentNode.data.trim().slice(0, 40)}: ${ratio.toFixed(2)}:1`);
  }
  return [...out];
}"""

OVERFLOW = "() => Math.max(0, document.documentElement.scrollWidth - innerWidth)"


def small_targets(page) -> list[str]:
    return page.evaluate(TARGETS)


def weak_text(page) -> list[str]:
    return page.evaluate(CONTRAST)


def too_wide(page) -> int:
    """Pixels by which the page is wider than the screen."""
    return page.evaluate(OVERFLOW)


def violations(page) -> list[str]:
    """Every rule of axe-core up to WCAG 2.2 AA and its best practices, with the elements."""
    from axe_playwright_python.sync_playwright import Axe

    found = Axe().run(page).response["violations"]
    return [f"{v['id']}: {v['help']} ({', '.join(str(n['target']) for n in v['nodes'][:4])})" for v in found]
