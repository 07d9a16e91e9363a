"""Whether a verb's form is really said as a verb here, and the state of the work: done, needed, recommended..."""

from __future__ import annotations

from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.said_as_verb import asked_of
from hatchnote.notes.states_said import met_at_once, said_state, was_to_be
from hatchnote.notes.telling import heading, ours_now, unreal
from hatchnote.notes.vocabulary import Term

DONE, NEEDED, RECOMMENDED, DECLINED, NOT_DONE = "done", "needed", "recommended", "declined", "not-done"


def state_of(doc: Doc, m: Mention, term: Term, begin: int, end: int) -> str | None:
    """The state in which the verb is said; None where it is no item ("while replacing the belt")."""
    state = said_state(doc, m, term, begin, end) or _state_of(doc, m, term, begin, end)
    return DONE if state == NEEDED and met_at_once(doc, m, end) else state


def _state_of(doc: Doc, m: Mention, term: Term, begin: int, end: int) -> str | None:
    found = _cues(doc, m, begin)
    planned = was_to_be(doc, m, begin)
    if planned is not None:
        return planned or None
    past = (
        term.form == "past" and not any(t.form == "base" and t.slug == term.slug for t in m.of("verb"))
    ) or (term.form == "past" and not _base_licensed(doc, m, begin))
    if term.slug in ("order", "quote") and found & {"recommended", "offered"} and "declined" not in found:
        return NEEDED
    if "declined" in found or "offered" in found:
        return DECLINED if "declined" in found else RECOMMENDED
    if unreal(doc, m, begin):
        return None
    if past:
        return _past_state(doc, m, begin, found)
    if (
        "not" in found
        and term.form == "ing"
        and doc.norm[m.start - 1] in ("ain't", "isn't", "wasn't", "aren't", "weren't")
    ):
        return None
    if "not" in found:
        return None if _command(doc, m, begin) else NOT_DONE
    if "recommended" in found:
        return RECOMMENDED
    if "needed" in found or (asked_of(doc, m, begin) and doc.norm[m.start - 1] not in ("us", "me")):
        return NEEDED
    if _had_to(doc, m, begin):
        return DONE
    told = heading(doc, m.start, begin, len(doc.norm))
    if told is not None and told != "done":
        return told
    if term.form == "ing" and m.start > begin and doc.norm[m.start - 1] in ("after", "since"):
        return DONE  # "nineteen degrees after cleaning the coil"
    if term.form == "ing":
        return _as_subject(doc, m, begin, end) or (
            NEEDED if term.slug == "return-visit" and _on_the_way(doc, m, begin) else None
        )
    if term.slug in ("order", "quote", "return-visit"):
        return NEEDED
    if ours_now(doc, m, begin):
        return DONE
    opens = m.start == begin or doc.tokens[m.start].brk > 0
    before = "" if opens else doc.norm[m.start - 1]
    if before == "and" and _ending_lost(doc, m, begin, end):
        return DONE
    if before in ("i", "we", "and", "then", "or") and _earlier_past(doc, m, begin):
        return DONE if any(t.form == "past" for t in m.of("verb")) else NEEDED if before == "and" else None
    if before == "to" or (opens and not any(t.form == "past" for t in m.of("verb"))):
        if opens:
            after = doc.norm[m.stop] if m.stop < end else ""
            if term.slug == "leak-test":
                return DONE if after not in ("next", "again") else NEEDED
            # recognisers drop the ending of "replaced the belt"; only a later day makes it a thing to do
            return NEEDED if _later(doc, m, end) else DONE
        again = any(x.claimed == "verb" and x.slug == "return-visit" for x in doc.within(begin, m.start))
        pronoun = {"it", "them", "that", "those", "one"} & set(doc.norm[m.start : m.stop + 3])
        if again and term.slug in _TO_COME_FOR and not pronoun:
            return NEEDED  # "return trip Thursday to put in the board"
        return None  # "to check the charge": a purpose
    return DONE if any(t.form == "past" for t in m.of("verb")) else NEEDED


def _ending_lost(doc: Doc, m: Mention, begin: int, end: int) -> bool:
    """ "Clean the coil and brush off the burners", as heard: the -ed was lost."""
    if not doc.words or doc.words[0].p is None or _later(doc, m, end):
        return False
    for x in doc.within(begin, m.start):
        past = x.has("verb") and any(t.form == "past" for t in x.of("verb"))
        first = x.start == begin and any(t.form == "base" for t in x.of("verb"))
        if (past or first) and doc.norm[x.start - 1] != "to":
            return True
    return False


_TO_COME_FOR = frozenset({"replace", "install", "repair", "seal", "align"})


def _as_subject(doc: Doc, m: Mention, begin: int, end: int) -> str | None:
    """ "Replacing the inducer is recommended", "changing them is needed": the act as a subject."""
    opens = (
        m.start == begin or doc.tokens[m.start].brk or doc.norm[m.start - 1] in ("and", "so", "but", "then")
    )
    if not opens:
        return None
    for x in doc.within(m.stop, min(end, m.stop + 9)):
        if doc.tokens[x.start].brk:
            return None
        if x.has("cue", "not"):
            return None
        if x.has("cue", "declined"):
            return DECLINED
        before = doc.norm[x.start - 1]
        if before in ("is", "was", "are") or doc.norm[x.start] in ("is", "was"):
            if x.has("cue", "recommended"):
                return RECOMMENDED
            if x.has("cue", "needed"):
                return NEEDED
    return None


def _on_the_way(doc: Doc, m: Mention, begin: int) -> bool:
    """ "Coming back Tuesday with the filters", "I'm coming back out"."""
    opens = m.start == begin or doc.tokens[m.start].brk > 0
    return opens or doc.norm[m.start - 1] in ("i'm", "i", "we", "be", "we're", "am", "are", "and")


_MANAGED = frozenset({"had", "managed", "able", "got", "ended", "wound"})


def _had_to(doc: Doc, m: Mention, begin: int) -> bool:
    """ "Had to replace the belt", "was able to tighten it", "ended up replacing it", "did wash the coil": done."""
    if m.start - 2 < begin or doc.tokens[m.start].brk:
        return doc.norm[m.start - 1] == "did" if m.start > begin and not doc.tokens[m.start].brk else False
    pair = doc.norm[m.start - 2 : m.start]
    if (
        "spent" in doc.norm[max(begin, m.start - 9) : m.start]
        and m.has("verb")
        and doc.norm[m.start].endswith("ing")
    ):
        return True
    if pair[1] == "and" and _led_by(doc, m, begin):
        return True
    if pair in (["did", "was"], ["do", "was"]):
        return True  # "what I did was replace the contactor"
    if pair == ["let", "me"]:
        return True  # "he did let me snug that up"
    if pair[1] == "to" and pair[0] == "having":
        return bool({"ended", "wound"} & set(doc.norm[max(begin, m.start - 6) : m.start]))
    if pair[1] == "to":
        return pair[0] in _MANAGED or (pair[0] == "ahead" and m.start - 3 >= begin)
    if pair[1] in ("just", "also", "then") and doc.norm[m.start - 3 : m.start - 1] == ["had", "to"]:
        return True
    return (pair[0] in _MANAGED and pair[1] == "up") or pair[1] in ("finished", "did")


def _led_by(doc: Doc, m: Mention, begin: int) -> bool:
    """ "Had to cut the old one out and braze in a new one": what leads the first verb leads the second."""
    for i in range(m.start - 2, max(begin, m.start - 14), -1):
        if doc.tokens[i].brk:
            return False
        if doc.norm[i] == "to" and doc.norm[i - 1] in ("had", "managed", "able"):
            return True
        if doc.norm[i] == "was" and doc.norm[i - 1] == "did":
            return True
        if doc.norm[i] in ("need", "needs", "but", "so"):
            return False
    return False


def _command(doc: Doc, m: Mention, begin: int) -> bool:
    """ "Do not turn this back on": told to others."""
    at = m.start
    while at > begin and not doc.tokens[at].brk:
        at -= 1
    return doc.norm[at] in ("do", "don't", "please")


_LATER = (
    " next visit",
    " next time",
    " next trip",
    " next p m",
    " next pm",
    " tomorrow",
    " next week",
    " next month",
    " later",
    " in the spring",
    " in the fall",
    " when we come back",
    " when i come back",
    " on the return",
    " next service",
    " this fall",
    " this spring",
    " please ",
)


def _later(doc: Doc, m: Mention, end: int) -> bool:
    words = f" {' '.join(doc.norm[m.start : end])} "
    return any(x in words for x in _LATER)


def _base_licensed(doc: Doc, m: Mention, begin: int) -> bool:
    before = doc.norm[m.start - 1] if m.start > begin and not doc.tokens[m.start].brk else ""
    return before in (
        "to",
        "please",
        "will",
        "would",
        "should",
        "didn't",
        "not",
        "could",
        "i'll",
        "we'll",
        "couldn't",
        "don't",
        "can't",
        "let's",
        "must",
    )


def _earlier_past(doc: Doc, m: Mention, begin: int) -> bool:
    return any(
        x.has("verb") and any(t.form == "past" for t in x.of("verb")) for x in doc.within(begin, m.start)
    )


def _past_state(doc: Doc, m: Mention, begin: int, found: set[str]) -> str | None:
    opens = m.start == begin or doc.tokens[m.start].brk > 0
    before = "" if opens else doc.norm[m.start - 1]
    owner = doc.owner[m.start - 1] if m.start > begin and not opens else None
    cue = owner if owner is not None and owner.has("cue") else None
    if "not" in found or _none_of(doc, m, begin) or _answered_no(doc, m):
        return NOT_DONE
    if before == "be" and doc.norm[m.start - 3 : m.start - 1] == ["had", "to"]:
        return DONE
    if before == "be" and m.start - 2 >= begin and doc.norm[m.start - 2] in ("to", "will"):
        return RECOMMENDED if "recommended" in found else NEEDED
    if _wanted(doc, m, begin):
        return NEEDED
    if (cue is not None and cue.has("cue", "needed")) or before in ("needs", "need", "be", "needed"):
        if "recommended" in found and not ({"needs", "need"} & {before}):
            return RECOMMENDED
        return (
            NEEDED
            if "needed" in found or before in ("needs", "need", "needed")
            else RECOMMENDED
            if "recommended" in found
            else None
        )
    if cue is not None and cue.has("cue", "recommended"):
        return RECOMMENDED
    told = heading(doc, m.start, begin, len(doc.norm))
    if told is not None and told != "done":
        return told
    if before in ("and", "or") and m.start - 2 >= begin:
        twin = doc.owner[m.start - 2]
        if twin is not None and twin.has("verb") and twin.start > begin:
            asked = doc.owner[twin.start - 1]
            if asked is not None and asked.has("cue", "needed"):
                return NEEDED
            if asked is not None and asked.has("cue", "recommended"):
                return RECOMMENDED
    if "recommended" in found and before in ("be", "get", "getting", "being"):
        return RECOMMENDED
    if "needed" in found and _need_done(doc, m, begin):
        return NEEDED
    if found & {"recommended", "needed"} and _got_done(doc, m, begin):
        return RECOMMENDED if "recommended" in found else NEEDED
    if "needed" in found and before in ("get", "getting", "being", "have"):
        return NEEDED
    return DONE


def _answered_no(doc: Doc, m: Mention) -> bool:
    """ "Cleaned? Not today." """
    if m.stop >= len(doc.tokens) or "?" not in doc.tokens[m.stop].gap:
        return False
    return doc.norm[m.stop] in ("no", "nope", "not", "never", "nah")


def _none_of(doc: Doc, m: Mention, begin: int) -> bool:
    """ "No filters changed, none here"."""
    part = doc.owner[m.start - 1] if m.start > begin and not doc.tokens[m.start].brk else None
    if part is None or not part.comp or not part.part:
        return False
    at = part.start
    return at > begin and doc.norm[at - 1] == "no" and (at - 1 == begin or doc.tokens[at - 1].brk > 0)


def _need_done(doc: Doc, m: Mention, begin: int) -> bool:
    """ "I need one ordered", "I need an inducer and a gasket ordered"."""
    i = m.start - 1
    while i >= begin and m.start - i < 12 and not doc.tokens[i + 1].brk:
        owner = doc.owner[i]
        if owner is not None and owner.has("cue", "needed"):
            return (
                doc.norm[owner.start] in ("need", "needs")
                and owner.start > begin
                and m.start - owner.stop >= 1
            )
        if owner is not None and owner.has("verb") and not owner.comp:
            return False
        i -= 1
    return False


def _got_done(doc: Doc, m: Mention, begin: int) -> bool:
    """ "They ought to get that coil washed", "you need to have the belt changed"."""
    i = m.start - 1
    owner = doc.owner[i] if i >= begin else None
    if owner is None or not owner.part or doc.tokens[m.start].brk:
        return False
    return any(
        doc.norm[k] in ("get", "have", "getting") for k in range(max(begin, owner.start - 5), owner.start)
    )


def _wanted(doc: Doc, m: Mention, begin: int) -> bool:
    """ "They want the coil cleaned": asked for, not done."""
    i = m.start - 1
    while i >= begin and m.start - i < 8 and not doc.tokens[i + 1].brk:
        if doc.norm[i] in ("want", "wants", "wanted"):
            return True
        owner = doc.owner[i]
        if owner is not None and owner.has("verb"):
            return False
        i -= 1
    return False


def _cues(doc: Doc, m: Mention, begin: int) -> set[str]:
    """State cues that reach from before the verb to it: not over another verb's act, not over a full clause."""
    out: set[str] = set()
    i = m.start - 1
    crossed = 0
    verbs = 0
    while i >= begin and m.start - i < 16:
        owner = doc.owner[i]
        if doc.tokens[i + 1].brk:
            crossed += 1
        if owner is None:
            if doc.norm[i] in ("but", "so", "because", "until") or (
                doc.norm[i] in ("and", "then") and verbs == 0 and _new_clause(doc, i + 1, m)
            ):
                break
            i -= 1
            continue
        if owner.has("cue"):
            slugs = {t.slug for t in owner.of("cue")}
            if crossed and not slugs & {"needed", "recommended", "declined"}:
                i = owner.start - 1
                continue
            if crossed and verbs == 0:
                break
            if "not" in slugs and verbs == 0 and crossed == 0:
                if not _verbal_not(doc, owner, m):
                    i = owner.start - 1
                    continue
                out.add("not")
            out |= (
                slugs & {"needed", "recommended", "declined", "offered"}
                if verbs == 0 or crossed == 0
                else set()
            )
        elif owner.claimed == "verb" and owner.has("verb"):
            verbs += 1
            if not any(doc.norm[x] in ("and", "or") for x in range(owner.stop, m.start)) or any(
                t.form == "past" for t in m.of("verb")
            ):
                break
        i = owner.start - 1
    return out


def _new_clause(doc: Doc, at: int, m: Mention) -> bool:
    """After "and": whether the verb begins a clause of its own (a past form or a subject of its own)."""
    return m.start - at > 0 or any(t.form == "past" for t in m.of("verb"))


_BARE_NOT = frozenset(
    {
        "no",
        "zero",
        "nothing",
        "none",
        "any",
        "no signs of",
        "no sign of",
        "free of",
        "not any",
        "no evidence of",
    }
)


def _told_between(doc: Doc, start: int, stop: int) -> bool:
    """ "The pan never drained glued up a new trap": another verb of the past took the denial."""
    return any(
        doc.owner[i] is None and doc.norm[i].endswith(("ed", "ing")) and len(doc.norm[i]) > 4
        for i in range(start, stop)
    )


def _verbal_not(doc: Doc, cue: Mention, m: Mention) -> bool:
    """ "did not check" denies the verb; "no leaks, washed the coil" does not."""
    text = " ".join(doc.norm[cue.start : cue.stop])
    if text in _BARE_NOT or _told_between(doc, cue.stop, m.start):
        return False
    return m.start - cue.stop <= 5
