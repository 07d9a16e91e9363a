"""Numbers as people say them and recognisers write them.

    tokens = tokenize("compressor one is pulling eleven two, eleven five, ten nine")
    for number in find_numbers(tokens):
        number.start, number.stop          # tokens, half open
        number.start_char, number.end_char
        number.value                       # the commonest reading: 11.2
        number.style, number.kind          # how it was said; what it is for ("index" for compressor one)
        number.link                        # how it hangs on the number before: "list", "range", "over", "plus"...
        number.alternatives                # other readings of the same words: [Parse(112.0, ...)]

    readings_of(tokens, number, low=2, high=60)             # the same words read for a point with that range
    reread(tokens, i, j, low=100, high=600, count=3)        # a stretch of words cut anew into values

A number never runs over a comma or the end of a sentence in `find_numbers`; `reread` may do so at a cost, because
recognisers write "1, 18" for 118, and it may also cut written figures ("914-337" as 9.1, 4.3, 3.7). A range such
as "ten to twelve" is two numbers, the second with `link` "range"; "forty plus five" has "plus"; 16x25x2 has "by";
"one eighteen over three sixty" has "over"; 208/230 has "slash". A tolerance ("plus or minus five") is positive and
has `tolerance`. "minus", "negative", a minus sign and "five below" make the value negative. The letter k is no part
of a number: it is a unit's prefix or a thousand, which only the unit can tell.
"""

from __future__ import annotations

from collections.abc import Sequence

from hatchnote.notes.numbers.find import Number, find_numbers
from hatchnote.notes.numbers.grammar import Parse, readings
from hatchnote.notes.numbers.reread import Cut, Rereading, reread
from hatchnote.notes.tokens import Token

__all__ = ["Cut", "Number", "Parse", "Rereading", "find_numbers", "readings", "readings_of", "reread"]


def readings_of(tokens: Sequence[Token], number: Number, *, low: float, high: float) -> list[Parse]:
    """Readings of `number` that lie between `low` and `high`, likeliest first; its own value first where it fits."""
    own = Parse(number.value, number.style, 0.0, f"{number.value:.10g}")
    return [p for p in (own, *number.alternatives) if low <= p.value <= high]
