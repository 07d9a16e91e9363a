"""The work items and parts that the acts of a dictation make."""

from __future__ import annotations

from hatchnote.notes.acts import Act
from hatchnote.notes.doc import Doc, Item
from hatchnote.notes.object_of_verb import Object
from hatchnote.notes.objects import tags_for
from hatchnote.notes.parts import count_behind, part_of, said_before
from hatchnote.notes.states import DONE


def write_items(doc: Doc, acts: list[Act]) -> None:
    seen: set[tuple[object, ...]] = set()
    by_sentence: dict[tuple[int, int], list[Act]] = {}
    for act in acts:
        by_sentence.setdefault(act.sentence, []).append(act)
    for act in acts:
        tags = tags_for(doc, act.sentence, act.start, act.stop)
        targets: list[Object | None] = list(act.objects) or [None]
        for tag in tags:
            for target in targets:
                comp = target.comp if target else None
                number = target.number if target else None
                quantity = target.count if target and target.count and target.count > 1 else None
                if target and target.count is None and act.verb in ("replace", "install", "order"):
                    target.count = count_behind(doc, target, act.start, act.sentence[1])
                    quantity = target.count if target.count and target.count > 1 else None
                if (
                    target
                    and target.pronoun
                    and quantity is None
                    and act.verb in ("replace", "install", "order")
                ):
                    quantity = said_before(doc, target, act.start)
                    target.count = quantity or target.count
                for one in number.split(",") if number and "," in number else [number]:
                    key = (tag, act.verb, comp, one, act.state)
                    if key in seen:
                        continue
                    if (
                        act.verb in ("replace", "install")
                        and act.state == DONE
                        and (tag, "replace", comp, one, DONE) in seen
                    ):
                        continue
                    seen.add(key)
                    fields = {
                        "verb": act.verb,
                        "state": act.state,
                        "component": comp,
                        "number": one,
                        "quantity": quantity,
                    }
                    doc.items.append(
                        Item(
                            "work",
                            act.at,
                            act.start,
                            act.stop,
                            tag,
                            fields,
                            act.rule,
                            [act.doubt] if act.doubt else [],
                        )
                    )
                if target is not None and not (
                    target.pronoun and act.verb == "replace" and act.state == DONE and target.done
                ):
                    others = by_sentence[act.sentence]
                    mine = act.listed if act.listed and act.listed[0].comp == target.comp else None
                    part = part_of(doc, act.verb, act.state, target, act.start, act.sentence, others, mine)
                    if part is not None:
                        doc.items.append(
                            Item("part", act.at, act.start, act.stop, tag, part, f"{act.verb}: {part['use']}")
                        )
