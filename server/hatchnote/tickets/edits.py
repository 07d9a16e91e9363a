"""What people change in a ticket: applied field by field, conflicts told, nothing overwritten unseen.

Pure functions on values. An edit carries what its author saw (`before`); it applies while that still
holds. So two people who change different fields, or different items, never meet, and two who change the
same field are both told.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any, Literal, cast, get_args

from hatchnote.domain import Alternative, Check, Facts, Finding, Part, Photo, Reading, WorkItem
from hatchnote.errors import BadInput
from hatchnote.tickets.document import Json
from hatchnote.tickets.items import (
    KINDS,
    SETTLES,
    Item,
    ItemKind,
    added_item,
    check_field,
    item_json,
    rebuilt_item,
)

Op = Literal["set", "add", "remove", "move", "accept", "join", "part", "back"]
"""`join` and `part` are of dictations (`hatchnote.tickets.together`), `back` takes another change back
(`hatchnote.tickets.takeback`); the others are applied here."""
EditKind = Literal["reading", "work", "part", "finding", "photo", "machine", "dictation"]
_ABSENT = object()


@dataclass(frozen=True, slots=True)
class Edit:
    """One change by one person. `id` is made by the client: the same edit twice is one edit."""

    id: str
    at: str
    op: Op
    kind: EditKind
    item: str | None
    """Id of the item; the tag for kind "machine"; the new item's id for "add"; the later dictation for "join"."""
    field: str | None = None
    before: Any = None
    after: Any = None
    """The new value; the dictation before for "join"; the id of the change taken back for "back"."""
    who: str | None = None
    was: Json | None = None
    """The whole item as it was, kept so that the edit outlives a new reading of the same words."""


@dataclass(frozen=True, slots=True)
class Draft:
    """What edits act on: facts and photos as read, and the machines a person said look right."""

    facts: Facts = field(default_factory=Facts)
    photos: tuple[Photo, ...] = ()
    looks_right: tuple[str | None, ...] = ()


@dataclass(frozen=True, slots=True)
class Conflict:
    """An edit that was not applied, with both versions."""

    edit: Edit
    theirs: Any
    gone: bool = False
    """True when the item itself is no longer there."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """The draft after the edits; `applied` carry `was`."""

    draft: Draft
    applied: tuple[Edit, ...]
    conflicts: tuple[Conflict, ...]


def merge(draft: Draft, edits: Sequence[Edit]) -> Outcome:
    """Apply every edit whose `before` still holds. Raises BadInput when one makes no sense at all."""
    applied: list[Edit] = []
    conflicts: list[Conflict] = []
    for edit in edits:
        validate(edit)
        conflict = _conflict(draft, edit)
        if conflict:
            conflicts.append(conflict)
            continue
        found = find(draft, edit)
        noted = replace(edit, was=item_json(found)) if found is not None else edit
        draft = _apply(draft, noted)
        applied.append(noted)
    return Outcome(draft, tuple(applied), tuple(conflicts))


def replay(draft: Draft, edits: Iterable[Edit], followed_by: Mapping[str, str] | None = None) -> Draft:
    """Apply edits that were accepted before to facts read anew.

    A person's word stands: an item that reading no longer yields is put back from the edit's own copy. Where its
    words are now part of a longer item (`followed_by`, id → id, of dictations that were joined), the edit goes to
    that one: see `_follow`.
    """
    for edit in edits:
        if edit.kind == "dictation" or edit.op == "back":
            continue
        holder = (followed_by or {}).get(edit.item or "")
        if holder and find(draft, edit) is None:
            draft = _follow(draft, replace(edit, item=holder))
            continue
        if edit.op in ("set", "move") and edit.was and find(draft, edit) is None:
            draft = _put(draft, cast(ItemKind, edit.kind), rebuilt_item(cast(ItemKind, edit.kind), edit.was))
        draft = _apply(draft, edit)
    return draft


def _follow(draft: Draft, edit: Edit) -> Draft:
    """An edit of something of which more is known now. That it was kept or removed says nothing of the longer one.

    A value that a person gave stands, and is marked where the longer words say another.
    """
    item = find(draft, edit)
    if item is None or edit.op not in ("set", "move"):
        return draft
    name = str(field_of(edit))
    read = getattr(item, name)
    made = _apply(draft, edit)
    if read in (edit.before, edit.after) or edit.op == "move" or isinstance(item, Photo):
        return made
    why = f"{name} was set to {edit.after} before the dictations were joined; the words together say {read}"
    number = read if name == "value" else None
    other = Alternative(number, getattr(item, "ucum", None) if number is not None else None, str(read))
    now = find(made, edit)
    if now is None or isinstance(now, Photo):
        return made
    return _put(made, cast(ItemKind, edit.kind), replace(now, check=Check(why, (other,))))


def validate(edit: Edit) -> None:
    """Raises BadInput with one sentence when an edit's parts do not fit together."""
    if edit.op not in get_args(Op) or edit.kind not in get_args(EditKind):
        raise BadInput("An edit needs a known op and kind; nothing was changed.")
    if edit.op == "back":
        if not isinstance(edit.after, str) or not edit.after:
            raise BadInput("To take a change back, give its id under after; nothing was changed.")
        return
    if edit.kind == "dictation":
        if edit.op not in ("join", "part") or not edit.item or not isinstance(edit.after or "", str):
            raise BadInput(
                "A dictation is joined to the one named under after, or parted; nothing else is done to it."
            )
        return
    if edit.op in ("join", "part"):
        raise BadInput("Only dictations are joined and parted; nothing was changed.")
    if edit.kind == "machine":
        if edit.op != "accept":
            raise BadInput("A machine can only be accepted; change its items one by one.")
        return
    if not edit.item:
        raise BadInput("An edit needs the id of its item; nothing was changed.")
    if edit.op == "set":
        if edit.field == "tag":
            raise BadInput("Use op move to give an item to another machine.")
        check_field(edit.kind, edit.field, edit.after)
    elif edit.op == "move":
        check_field(edit.kind, "tag", edit.after)
    elif edit.op == "add":
        if not isinstance(edit.after, dict):
            raise BadInput("An added item needs its fields under after; nothing was changed.")
        added_item(edit.kind, edit.item, edit.after)
    elif edit.op == "remove" and edit.kind == "photo":
        raise BadInput("A photo is not removed; set its left_out to true.")


def _conflict(draft: Draft, edit: Edit) -> Conflict | None:
    if edit.kind == "machine":
        return None
    item = find(draft, edit)
    if edit.op == "add":
        return None
    if item is None:
        return None if edit.op == "remove" else Conflict(edit, None, gone=True)
    if edit.op in ("set", "move"):
        now = getattr(item, str(field_of(edit)))
        if now != edit.before and now != edit.after:
            return Conflict(edit, now)
    elif edit.before is not None:
        seen = edit.before if isinstance(edit.before, dict) else {"value": edit.before}
        shown = item_json(item)
        for name, value in seen.items():
            now = shown.get(name, _ABSENT)
            if name in ("check", "confidence", "heard", "rule") or now is _ABSENT:
                continue
            if now != value:
                return Conflict(replace(edit, field=name), now)
    return None


def _apply(draft: Draft, edit: Edit) -> Draft:
    if edit.kind == "dictation":
        return draft
    if edit.kind == "machine":
        tag = edit.item or None
        return draft if tag in draft.looks_right else replace(draft, looks_right=(*draft.looks_right, tag))
    kind = edit.kind
    item = find(draft, edit)
    if edit.op == "add":
        return draft if item else _put(draft, kind, added_item(kind, str(edit.item), edit.after))
    if item is None:
        return draft
    if edit.op == "remove":
        return _drop(draft, kind, item)
    if edit.op == "accept":
        return _put(
            draft, kind, item if isinstance(item, Photo) else replace(item, check=None, confidence=1.0)
        )
    name = str(field_of(edit))
    if getattr(item, name) == edit.after and edit.op == "move":
        return draft
    changed: Item = replace(item, **{name: edit.after})
    if name in SETTLES[kind] and not isinstance(changed, Photo):
        changed = replace(changed, check=None, confidence=1.0)
    return _put(draft, kind, changed)


def field_of(edit: Edit) -> str | None:
    """The field an edit is about, None where it is about the whole item."""
    return "tag" if edit.op == "move" else edit.field


_PLACE: dict[ItemKind, str] = {"reading": "readings", "work": "work", "part": "parts", "finding": "findings"}


def _items(draft: Draft, kind: ItemKind) -> tuple[Item, ...]:
    return draft.photos if kind == "photo" else cast(tuple[Item, ...], getattr(draft.facts, _PLACE[kind]))


def find(draft: Draft, edit: Edit) -> Item | None:
    """The item an edit is about, as it is now."""
    if edit.kind == "machine" or edit.kind not in KINDS:
        return None
    return next((i for i in _items(draft, edit.kind) if i.id == edit.item), None)


def _put(draft: Draft, kind: ItemKind, item: Item) -> Draft:
    old = _items(draft, kind)
    there = any(i.id == item.id for i in old)
    new = tuple(item if i.id == item.id else i for i in old) if there else (*old, item)
    draft = _with(draft, kind, new)
    if item.tag is not None and item.tag not in draft.facts.tags:
        draft = replace(draft, facts=replace(draft.facts, tags=(*draft.facts.tags, item.tag)))
    return draft


def _drop(draft: Draft, kind: ItemKind, item: Item) -> Draft:
    return _with(draft, kind, tuple(i for i in _items(draft, kind) if i.id != item.id))


def _with(
    draft: Draft, kind: ItemKind, items: tuple[Reading | WorkItem | Part | Finding | Photo, ...]
) -> Draft:
    if kind == "photo":
        return replace(draft, photos=cast(tuple[Photo, ...], items))
    facts = draft.facts
    if kind == "reading":
        facts = replace(facts, readings=cast(tuple[Reading, ...], items))
    elif kind == "work":
        facts = replace(facts, work=cast(tuple[WorkItem, ...], items))
    elif kind == "part":
        facts = replace(facts, parts=cast(tuple[Part, ...], items))
    else:
        facts = replace(facts, findings=cast(tuple[Finding, ...], items))
    return replace(draft, facts=facts)
