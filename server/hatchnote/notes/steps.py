"""Steps of another job are no items of their own: what was only taken off or out to get at the work."""

from __future__ import annotations

from hatchnote.notes.acts import Act
from hatchnote.notes.states import DONE

_NEAR = 14
_THE_JOB = frozenset({"replace", "install", "repair", "clean", "lubricate", "align", "inspect", "test"})
_LIFTED = frozenset({"supply-fan-motor", "condenser-fan-motor", "inducer-motor", "supply-fan-wheel"})
_IN_THE_WAY = frozenset({"supply-fan-belt", "panel", "panel-screw", "burner", "motor-mount"})


def without_steps(acts: list[Act]) -> list[Act]:
    """ "Took the belts off and changed the bearing", "pulled the burners and brushed them": one job each."""
    out: list[Act] = []
    for k, act in enumerate(acts):
        if not _only_a_step(act, acts[k + 1 : k + 2]):
            out.append(act)
        elif acts[k + 1].verb == "install":
            acts[k + 1].verb = "replace"  # "took the old board out and mounted the new one"
    return out


def _only_a_step(act: Act, after: list[Act]) -> bool:
    if act.verb != "remove" or act.state != DONE or not act.objects or not after:
        return False
    job = after[0]
    renewed = job.verb == "replace" and {o.comp for o in job.objects} == {o.comp for o in act.objects}
    if renewed and job.state == DONE and all(o.pronoun for o in act.objects) and job.start - act.start < 30:
        return True  # "I take it out and it is cracked. I replaced it."
    if (
        job.sentence != act.sentence
        or job.state != DONE
        or job.verb not in _THE_JOB
        or job.start - act.start > _NEAR
    ):
        return False
    comps = {o.comp for o in act.objects}
    same = bool(job.objects) and all(o.pronoun and o.comp in comps for o in job.objects)
    if job.verb in ("inspect", "test") and comps <= _LIFTED and job.start - act.start <= 6:
        return True  # "pulled the motor and checked the bearings"
    again = comps == {o.comp for o in job.objects} and job.start - act.start <= 8
    return same or again or comps <= _IN_THE_WAY
