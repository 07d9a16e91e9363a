"""The stages in order. Each is one function in one file, with what it requires and what it assigns."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import NamedTuple

from hatchnote.notes import backrefs as backrefs_room
from hatchnote.notes import confidence as confidence_room
from hatchnote.notes import corrections as corrections_room
from hatchnote.notes import figures as figures_room
from hatchnote.notes import findings as findings_room
from hatchnote.notes import focus as focus_room
from hatchnote.notes import heard_words as heard_words_room
from hatchnote.notes import joining as joining_room
from hatchnote.notes import lexicon as lexicon_room
from hatchnote.notes import lists as lists_room
from hatchnote.notes import machine_context as machine_context_room
from hatchnote.notes import machine_turns as machine_turns_room
from hatchnote.notes import machines as machines_room
from hatchnote.notes import machines_by_number as machines_by_number_room
from hatchnote.notes import marks as marks_room
from hatchnote.notes import moments as moments_room
from hatchnote.notes import named_late as named_late_room
from hatchnote.notes import repair as repair_room
from hatchnote.notes import run_on as run_on_room
from hatchnote.notes import sounding as sounding_room
from hatchnote.notes import work as work_room
from hatchnote.notes.doc import Doc


class Stage(NamedTuple):
    """One component of the pipeline."""

    name: str
    run: Callable[[Doc], None]
    requires: tuple[str, ...]
    assigns: tuple[str, ...]


STAGES: tuple[Stage, ...] = (
    Stage("repair", repair_room.repair, repair_room.REQUIRES, repair_room.ASSIGNS),
    Stage("heard words", heard_words_room.heard_words, heard_words_room.REQUIRES, heard_words_room.ASSIGNS),
    Stage("sounding", sounding_room.sounding, sounding_room.REQUIRES, sounding_room.ASSIGNS),
    Stage("lexicon", lexicon_room.lexicon, lexicon_room.REQUIRES, lexicon_room.ASSIGNS),
    Stage("machines", machines_room.machines, machines_room.TAGS_REQUIRE, machines_room.TAGS_ASSIGN),
    Stage("marks", marks_room.marks, marks_room.REQUIRES, marks_room.ASSIGNS),
    Stage("numbered machines", machines_by_number_room.bare_numbers, ("machines",), ("machines",)),
    Stage("machine turns", machine_turns_room.machine_turns, ("machines",), ("machines",)),
    Stage("figures", figures_room.figures, figures_room.REQUIRES, figures_room.ASSIGNS),
    Stage("run on", run_on_room.run_on, run_on_room.REQUIRES, run_on_room.ASSIGNS),
    Stage(
        "context", machine_context_room.context, machine_context_room.REQUIRES, machine_context_room.ASSIGNS
    ),
    Stage("focus", focus_room.focus, focus_room.REQUIRES, focus_room.ASSIGNS),
    Stage("words for parts", backrefs_room.backrefs, backrefs_room.REQUIRES, backrefs_room.ASSIGNS),
    Stage("work", work_room.work, work_room.REQUIRES, work_room.ASSIGNS),
    Stage("findings", findings_room.findings, findings_room.REQUIRES, findings_room.ASSIGNS),
    Stage("joining", joining_room.joining, joining_room.REQUIRES, joining_room.ASSIGNS),
    Stage("lists", lists_room.lists, lists_room.REQUIRES, lists_room.ASSIGNS),
    Stage("moments", moments_room.moments, moments_room.REQUIRES, moments_room.ASSIGNS),
    Stage("corrections", corrections_room.corrections, corrections_room.REQUIRES, corrections_room.ASSIGNS),
    Stage("confidence", confidence_room.confidence, confidence_room.REQUIRES, confidence_room.ASSIGNS),
    Stage("told without a stop", run_on_room.unstopped, ("drafts", "unstopped"), ("doubts",)),
    Stage("nobody", named_late_room.nobody, ("drafts", "tag_at"), ("doubts",)),
)

GIVEN = ("tokens", "norm")
"""What the document has before the first stage."""


def unfilled(stages: Iterable[Stage] = STAGES) -> list[str]:
    """Needs that no earlier stage fills, as "stage: need"; empty for a sound pipeline."""
    have = set(GIVEN)
    out: list[str] = []
    for stage in stages:
        out += [f"{stage.name}: {need}" for need in stage.requires if need not in have]
        have.update(stage.assigns)
    return out
