"""What the pages say is what the code does: settings, commands, links to files."""

import re
import sys
from pathlib import Path

import click
import pytest

from hatchnote.cli import main

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT / "tools"))
PAGES = [ROOT / "README.md", ROOT / "DEVELOPERS.md", ROOT / "CHANGELOG.md", *sorted((ROOT / "docs").glob("*.md"))]


def test_the_table_of_settings_is_the_one_in_the_code():
    from settings_table import PAGE, page_with_table

    page = PAGE.read_text(encoding="utf-8")
    assert page == page_with_table(page), "run: .venv/bin/python tools/settings_table.py --write"


def test_every_command_is_in_the_documentation():
    text = "\n".join(p.read_text(encoding="utf-8") for p in PAGES)
    for name, command in main.commands.items():
        names = [f"{name} {sub}" for sub in command.commands] if isinstance(command, click.Group) else [name]
        for full in names:
            assert f"hatchnote {full}" in text, f"`hatchnote {full}` is described nowhere"


@pytest.mark.parametrize("page", PAGES, ids=lambda p: p.name)
def test_links_to_files_lead_somewhere(page):
    for target in re.findall(r"\]\(([^)#:]+)\)", page.read_text(encoding="utf-8")):
        assert (page.parent / target).exists(), f"{page.name} links to {target}"
