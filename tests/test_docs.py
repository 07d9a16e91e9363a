"""What the pages say is what the code does: settings, commands, links to files."""

import re
import subprocess
import sys
from pathlib import Path

import click
import pytest

from hatchnote.cli import main

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT / "tools"))
PAGES = [
    ROOT / "README.md",
    ROOT / "DEVELOPERS.md",
    ROOT / "CHANGELOG.md",
    *sorted((ROOT / "docs").glob("*.md")),
]


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


def test_the_library_works_as_the_readme_shows_it():
    """In a process of its own: which of a package and its module a name means depends on what was imported before."""
    page = (ROOT / "README.md").read_text(encoding="utf-8")
    (block,) = re.findall(r"## As a library\n\n((?:    .*\n)+)", page)
    shown = [line.strip().split("  #")[0] for line in block.splitlines()]
    program = "\n".join(f"print({line})" if not line.startswith("from ") else line for line in shown)
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    assert "value=3.5" in done.stdout and "return-air-temperature" in done.stdout


@pytest.mark.parametrize(
    "name",
    ["speech:transcribe", "notes:quantities", "notes:read_notes", "trade:judge", "tickets:assemble"],
)
def test_each_room_gives_its_function_by_name(name):
    room, function = name.split(":")
    program = f"from hatchnote.{room} import {function}; assert type({function}).__name__ == 'function'"
    assert subprocess.run([sys.executable, "-c", program], check=False).returncode == 0
