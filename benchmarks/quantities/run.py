"""How well and how fast quantities are read, beside general libraries, on the same lines in one run.

    python benchmarks/quantities/run.py            hatchnote, and every peer whose environment is installed
    python benchmarks/quantities/run.py --install  first installs the peers in .cache/quantities-venv (not our
                                                   dependencies: quantulum3, recognizers-text-suite, NeMo)

Lines: trade.txt and general.txt (ours, two halves each; see their heads), and the test sentences that quantulum3
ships in its wheel (MIT licence, read from the peer environment, units translated to UCUM, prices and bare numbers
left out, a range counted as its two ends). An answer is right when value and unit are; "5 um" is not "5 um[Hg]".
Peers' unit names are read with hatchnote's own unit forms, which can only help them. Milliseconds are processor time.
"""

from __future__ import annotations

import argparse
import json
import subprocess
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent))
from lines import HERE, Line, read_lines, score

from hatchnote.notes import quantities
from hatchnote.notes.tokens import tokenize
from hatchnote.notes.units import load_units

ENVIRONMENT = HERE.parents[1] / ".cache" / "quantities-venv"
PEERS = ("quantulum3", "recognizers", "nemo", "nemo+quantulum3")
NAMES = {
    "pound-mass": "[lb_av]", "percentage": "%", "degree angle": "deg", "second of arc": "''", "minute of arc": "'",
    "centimetre of mercury": "cm[Hg]", "inch of mercury": "[in_i'Hg]", "c": "Cel", "f": "[degF]", "k": "K",
    "degree": "[degF]", "volt": "V", "cubic centimetre": "cm3",
}  # fmt: skip


def code(name: str) -> str:
    """The UCUM code of a peer's unit name; "?" for one that has none here, which counts as wrong."""
    if name.lower() in NAMES:
        return NAMES[name.lower()]
    tokens = tokenize(name)
    match = load_units().match(tokens, 0) if tokens else None
    return match.unit.ucum if match and match.stop == len(tokens) and match.unit.ucum else "?"


def quantulum_lines() -> list[Line]:
    """quantulum3's published test sentences, as lines; empty where the peer environment is missing."""
    out = []
    for path in sorted(ENVIRONMENT.glob("lib/*/site-packages/quantulum3/_lang/en_US/tests/quantities*.json")):
        for entry in json.loads(path.read_text(encoding="utf-8")):
            if not isinstance(entry.get("res"), list):
                continue
            gold: list[tuple[float, str]] = []
            for r in entry["res"]:
                ucum = code(r["unit"])
                if ucum == "?":
                    continue
                spread = r.get("uncertainty") or 0
                values = [r["value"] - spread, r["value"] + spread] if spread else [r["value"]]
                gold += [(float(value), ucum) for value in values]
            out.append(Line(entry["req"], tuple(gold)))
    return out


def ours(texts: list[str]) -> tuple[list[list[tuple[float, str]]], float]:
    for text in texts[:5]:
        quantities(text)
    began = time.process_time()
    answers = [quantities(text) for text in texts]
    spent = time.process_time() - began
    return [[(q.value, q.ucum) for q in found] for found in answers], 1000 * spent / len(texts)


def peer(name: str, texts: list[str]) -> tuple[list[list[tuple[float, str]]], float] | None:
    python = ENVIRONMENT / "bin" / "python"
    if not python.exists():
        return None
    done = subprocess.run(
        [str(python), str(HERE / "peers.py"), name],
        input=json.dumps(texts),
        capture_output=True,
        text=True,
        check=False,
    )
    if done.returncode:
        print(f"{name}: could not run ({done.stderr.strip().splitlines()[-1:]})")
        return None
    result = json.loads(done.stdout)
    return [[(float(v), code(u)) for v, u in found] for found in result["answers"]], result["ms"]


def main() -> None:
    options = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    options.add_argument("--install", action="store_true", help="install the peers first")
    options.add_argument("--ours", action="store_true", help="leave the peers out")
    options.add_argument(
        "--errors", action="store_true", help="show our errors on the halves that may be looked at"
    )
    chosen = options.parse_args()
    if chosen.install:
        subprocess.run(["uv", "venv", str(ENVIRONMENT), "--python", "3.11", "--allow-existing"], check=True)
        packages = [
            "quantulum3",
            "recognizers-text-suite",
            "nemo_text_processing",
            "emoji<2",
        ]  # recognizers-text needs the older emoji
        python = str(ENVIRONMENT / "bin" / "python")
        subprocess.run(["uv", "pip", "install", "--python", python, *packages], check=True)
    trade, general, public = read_lines("trade.txt"), read_lines("general.txt"), quantulum_lines()
    sets = {
        "trade, seen": trade[0::2], "trade, held out": trade[1::2], "general, seen": general[0::2],
        "general, held out": general[1::2], "quantulum3's own": public,
    }  # fmt: skip
    texts = [line.text for lines in sets.values() for line in lines]
    print(
        f"{'':18}"
        + "".join(f"{name + ' (' + str(len(lines)) + ')':>26}" for name, lines in sets.items())
        + "   ms a line"
    )
    for name in ("hatchnote", *(() if chosen.ours else PEERS)):
        result = ours(texts) if name == "hatchnote" else peer(name, texts)
        if result is None:
            continue
        answers, ms = result
        at, row = 0, ""
        for lines in sets.values():
            row += f"{score(lines, answers[at : at + len(lines)]).f1:26.3f}"
            at += len(lines)
        print(f"{name:18}{row}{ms:12.3f}", flush=True)
    if chosen.errors:
        for lines in (trade[0::2], general[0::2], public):
            for line in lines:
                (given,) = ours([line.text])[0]
                if score([line], [given]).f1 < 1:
                    print(f"{line.text}\n    wanted {line.gold}\n    got    {given}")


if __name__ == "__main__":
    main()
