"""The doors between rooms: who may import whom, and what importing the package may load."""

import ast
import subprocess
import sys
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[1] / "server" / "hatchnote"
SHARED = {"domain", "errors", "places", "measures", "photos"}
ALLOWED = {
    "domain": set(),
    "errors": set(),
    "places": {"errors"},
    "measures": {"errors", "places"},
    "photos": {"errors"},
    "speech": SHARED,
    "notes": SHARED,
    "trade": SHARED,
    "tickets": SHARED,
    "export": SHARED | {"tickets"},
}
JOINS_ROOMS = {PACKAGE / "tickets" / "main_job.py"}
"""The one file of `tickets` that may call speech, notes and trade: the main job itself."""


def imported_rooms(path):
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        names = []
        if isinstance(node, ast.Import):
            names = [a.name for a in node.names]
        elif isinstance(node, ast.ImportFrom) and node.module:
            names = [node.module if node.module != "hatchnote" else f"hatchnote.{a.name}" for a in node.names]
        for name in names:
            if name.startswith("hatchnote."):
                yield name.split(".")[1]


def room_files(room):
    single = PACKAGE / f"{room}.py"
    return [single] if single.exists() else sorted((PACKAGE / room).rglob("*.py"))


@pytest.mark.parametrize("room", ALLOWED)
def test_a_room_imports_only_what_stands_before_it(room):
    for path in room_files(room):
        if path in JOINS_ROOMS:
            continue
        strangers = set(imported_rooms(path)) - ALLOWED[room] - {room}
        assert not strangers, f"{path.relative_to(PACKAGE)} imports {sorted(strangers)}"


@pytest.mark.parametrize("module", ["hatchnote", "hatchnote.cli"])
def test_importing_loads_nothing_heavy(module):
    heavy = {"numpy", "faster_whisper", "av", "pint", "flask", "PIL", "typst", "sqlite_utils", "huey"}
    code = f"import sys, {module}; print(*sorted({heavy!r} & set(sys.modules)))"
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert out.stdout.split() == []
