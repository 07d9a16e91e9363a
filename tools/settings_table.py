"""Print the table of settings as Markdown; `--write` puts it into docs/operations.md between its two marks.

`tests/test_docs.py` fails when the page and the code say different things.
"""

from __future__ import annotations

import sys
from pathlib import Path

from hatchnote.settings import table

PAGE = Path(__file__).parents[1] / "docs" / "operations.md"
BEGIN, END = "<!-- settings: begin -->", "<!-- settings: end -->"


def markdown() -> str:
    """One row a setting: variable, default, what may be given, what it does."""
    rows = ["| variable | default | give | what it does |", "|---|---|---|---|"]
    for s in table():
        default = "" if s.default in ("", None) else f"`{s.default}`"
        secret = f" A secret: `{s.variable}_FILE` may name a file instead." if s.secret else ""
        rows.append(f"| `{s.variable}` | {default} | {s.values} | {s.help}{secret} |")
    return "\n".join(rows)


def page_with_table(page: str) -> str:
    """The page with the part between the marks replaced."""
    head, _, rest = page.partition(BEGIN)
    _, _, tail = rest.partition(END)
    return f"{head}{BEGIN}\n{markdown()}\n{END}{tail}"


if __name__ == "__main__":
    if "--write" in sys.argv:
        PAGE.write_text(page_with_table(PAGE.read_text(encoding="utf-8")), encoding="utf-8")
    else:
        print(markdown())
