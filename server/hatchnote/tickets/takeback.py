"""Taking a change back: it stays on record, and from then on the ticket is made as if it had not been there.

So whatever the change had put aside comes back with all it had: a removed item in its place, a check with its
alternatives, a reading with the doubt that its first value carried. Pure functions on values.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Any

from hatchnote.errors import BadInput
from hatchnote.tickets.edits import Conflict, Draft, Edit, field_of, find


def void(changes: Iterable[tuple[str, str, Any]]) -> set[str]:
    """Ids of the changes that do not count, from (id, op, after) in order of the record.

    A change of op "back" names under `after` the one it takes back; that may be such a change itself.
    """
    out: set[str] = set()
    for id, op, after in reversed(list(changes)):
        if op == "back" and id not in out:
            out.add(str(after))
    return out


def living(edits: Sequence[Edit]) -> list[Edit]:
    """The edits that count, in order, without those that took others back."""
    gone = void((e.id, e.op, e.after) for e in edits)
    return [e for e in edits if e.op != "back" and e.id not in gone]


def take_back(edit: Edit, record: Sequence[Edit], draft: Draft) -> Edit | Conflict:
    """The edit of op "back" as it is to be recorded, or a Conflict when somebody built on what it takes back.

    Raises BadInput when the record of this ticket does not hold the change it names.
    """
    target = next((e for e in record if e.id == edit.after), None)
    if target is None:
        raise BadInput("There is no such change of this ticket to take back; load it again.")
    noted = replace(edit, kind=target.kind, item=target.item, field=field_of(target))
    if target.op == "back" or target.id in void((e.id, e.op, e.after) for e in record):
        return noted
    at = next(n for n, e in enumerate(record) if e.id == target.id)
    later = [
        e for e in living(record) if (e.kind, e.item) == (target.kind, target.item) and e in record[at + 1 :]
    ]
    if target.op == "add" and later:
        return Conflict(replace(noted, before=target.after, after=None), None)
    if target.op in ("set", "move"):
        item = find(draft, target)
        told = replace(noted, before=target.after, after=target.before)
        if item is None:
            return Conflict(told, None, gone=True)
        if any(field_of(e) == field_of(target) and e.op in ("set", "move") for e in later):
            return Conflict(told, getattr(item, str(field_of(target))))
    return noted
