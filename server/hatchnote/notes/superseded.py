"""Acts that later words of the dictation replace: advice answered, needs met, counts said again."""

from __future__ import annotations

from hatchnote.notes.acts import Act
from hatchnote.notes.states import DECLINED, DONE, NEEDED, NOT_DONE, RECOMMENDED


def superseded(acts: list[Act], tag_at: list[str | None]) -> list[Act]:
    """ "Burners needed a brushing so I brushed them": what was needed and then done is done."""
    dropped: set[int] = set()
    for k, act in enumerate(acts):
        after = acts[k + 1] if k + 1 < len(acts) else None
        if after is not None and after.verb == act.verb == "order" and after.start - act.start < 16:
            same = {o.comp for o in after.objects} == {o.comp for o in act.objects}
            if same and tag_at[after.start] == tag_at[act.start] and all(o.pronoun for o in after.objects):
                dropped.add(k)  # "order one, correction, order two"
        if act.verb == "quote" and act.state == DONE and after is not None and after.state == DECLINED:
            same = {o.comp for o in after.objects} == {o.comp for o in act.objects}
            if after.sentence == act.sentence and same:
                dropped.add(k)  # "I quoted them replacing the contactor and they passed"
        if after is not None and _counted_again(act, after):
            dropped.add(k)  # "I changed twelve, uh, ten, I changed ten"
        if not act.objects or act.verb in ("order", "quote", "return-visit"):
            continue
        comps = {(o.comp, o.number) for o in act.objects}
        if act.state in (RECOMMENDED, NEEDED) and _answered(act, acts[k + 1 : k + 14], comps, tag_at):
            dropped.add(k)
        if act.state not in (NEEDED, NOT_DONE):
            continue
        for later in acts[k + 1 : k + 6]:
            done = later.state == DONE and later.verb == act.verb and tag_at[later.start] == tag_at[act.start]
            near = later.start - act.start < 30 or later.sentence == act.sentence
            if done and near and comps <= {(o.comp, o.number) for o in later.objects}:
                dropped.add(k)
    return [a for k, a in enumerate(acts) if k not in dropped]


def _counted_again(act: Act, after: Act) -> bool:
    return (
        after.verb == act.verb
        and after.state == act.state == DONE
        and after.sentence == act.sentence
        and after.start - act.start < 9
        and len(act.objects) == len(after.objects) == 1
        and act.objects[0].comp == after.objects[0].comp
        and act.objects[0].number == after.objects[0].number
        and act.tags == after.tags
        and act.objects[0].count is not None
        and after.objects[0].count is not None
    )


def _answered(
    act: Act, later: list[Act], comps: set[tuple[str, str | None]], tag_at: list[str | None]
) -> bool:
    """Whether advice was declined afterwards, or taken and done."""
    return any(
        x.verb == act.verb
        and tag_at[x.start] == tag_at[act.start]
        and comps == {(o.comp, o.number) for o in x.objects}
        and (x.state == DECLINED or (x.state == DONE and act.state == RECOMMENDED))
        for x in later
    )
