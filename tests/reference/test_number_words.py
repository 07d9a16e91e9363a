"""Numbers written out by num2words are read back, in every way they are said (LGPL, a Python library).

num2words writes cardinals, ordinals and decimals; the trade's other ways (figures one by one, pairs, "oh", an
unspoken point) are made here from its words for the parts. How the trade says them: common practice, no source.
"""

import random

import pytest
from num2words import num2words

from hatchnote.notes.numbers import find_numbers, reread
from hatchnote.notes.tokens import tokenize

DICE = random.Random(20261125)


def value_of(said):
    found = find_numbers(tokenize(said))
    assert len(found) == 1, (said, [n.value for n in found])
    return found[0].value


def words(n):
    return num2words(n)


def test_cardinals_up_to_ten_thousand():
    for n in range(10_000):
        assert value_of(words(n).replace(",", "")) == n


def test_large_cardinals():
    for _ in range(2000):
        n = DICE.randrange(10_000, 10**9)
        assert value_of(words(n).replace(",", "")) == n


def test_cardinals_without_and_or_hyphens():
    for n in range(0, 5000, 3):
        assert value_of(words(n).replace(" and ", " ").replace("-", " ").replace(",", "")) == n


def test_decimals_digit_by_digit():
    for _ in range(3000):
        n = DICE.randrange(0, 100_000) / 1000
        assert value_of(words(n).replace(" and ", " ")) == pytest.approx(n)


def test_decimals_under_one_without_their_zero():
    for n in range(1, 1000):
        said = "point " + " ".join(words(int(c)) for c in f"{n:03d}".rstrip("0"))
        assert value_of(said) == pytest.approx(n / 1000)


def test_ordinals_are_marked():
    for n in range(1, 100):
        (found,) = find_numbers(tokenize("the " + num2words(n, to="ordinal")))
        assert (found.value, found.kind) == (n, "ordinal")


def test_figures_one_by_one():
    for n in range(100, 1000):
        for zero in ("oh", "zero"):
            said = " ".join(zero if c == "0" else words(int(c)) for c in str(n))
            assert value_of(said) == n


def test_hundreds_in_pairs():
    for n in range(110, 1000):
        if n % 100 >= 10:
            assert value_of(f"{words(n // 100)} {words(n % 100)}") == n
        elif n % 100:
            assert value_of(f"{words(n // 100)} oh {words(n % 100)}") == n


def test_thousands_in_pairs_and_in_hundreds():
    for n in range(1100, 10_000):
        high, low = divmod(n, 100)
        if low == 0 and high % 10:
            assert value_of(f"{words(high)} hundred") == n
        elif low >= 10 and high % 10:
            assert value_of(f"{words(high)} {words(low)}") == n


def test_an_unspoken_point():
    for n in range(100, 1000):
        high, low = divmod(n, 10)
        if low and (high < 20 or high % 10):  # "twenty one" alone is 21
            assert value_of(f"{words(high)} {words(low)}") == pytest.approx(n / 10)


DENOMINATORS = {2: "half", 3: "third", 4: "quarter", 8: "eighth", 16: "sixteenth", 10: "tenth"}


def test_fractions_and_mixed_numbers():
    for below, name in DENOMINATORS.items():
        for above in range(1, below):
            plural = name if above == 1 else name + "s"
            assert value_of(f"{words(above)} {plural}") == pytest.approx(above / below)
            for whole in (1, 2, 7, 11, 26, 118):
                assert value_of(f"{words(whole)} and {words(above)} {plural}") == pytest.approx(
                    whole + above / below
                )
    for above in range(1, 32, 2):
        assert value_of(f"{words(above)} sixty-fourths") == pytest.approx(above / 64)


def test_negatives():
    for n in range(1, 200):
        assert value_of("minus " + words(n)) == value_of("negative " + words(n)) == -n


def test_lists_of_three_without_commas_under_a_range():
    """Three leg voltages in pairs, and three currents with the point unspoken, as they are rattled off."""
    for _ in range(300):
        volts = [DICE.randrange(410, 500) for _ in range(3)]
        said = " ".join(
            f"{words(v // 100)} {words(v % 100) if v % 100 > 9 else 'oh ' + words(v % 100)}" for v in volts
        )
        said = said.replace("oh zero", "hundred").replace("-", " ")
        tokens = tokenize(said)
        assert reread(tokens, 0, len(tokens), low=350, high=560, count=3)[0].values == tuple(volts), said
        amps = [DICE.randrange(111, 199) for _ in range(3)]
        said = " ".join(f"{words(a // 10)} {words(a % 10) if a % 10 else 'oh'}" for a in amps)
        tokens = tokenize(said)
        best = reread(tokens, 0, len(tokens), low=5, high=40, count=3)[0].values
        assert best == pytest.approx([a / 10 for a in amps]), said
