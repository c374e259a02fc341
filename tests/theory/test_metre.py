"""Metres and how their places are counted."""

from fractions import Fraction

import pytest

from fretdrill.errors import InputError
from fretdrill.theory.metre import Metre


@pytest.mark.parametrize(
    ("text", "beats", "unit"),
    [("4/4", 4, 4), ("6/8", 6, 8), ("C", 4, 4), ("C|", 2, 2), ("(2+3)/8", 5, 8), ("2+2+3/8", 7, 8)],
)
def test_metres_are_read(text: str, beats: int, unit: int) -> None:
    assert Metre.parse(text) == Metre(beats, unit)
    assert Metre.parse(text).bar == Fraction(beats, unit)


@pytest.mark.parametrize("text", ["", "4", "4/3", "0/4", "4/0", "65/4", "four/4", "4/4/4", "-4/4"])
def test_what_is_no_metre_is_refused(text: str) -> None:
    with pytest.raises(InputError):
        Metre.parse(text)


# Common practice, no source: quarters 1 2 3 4, eighths 1 &, sixteenths 1 e & a, triplets
# three equal syllables; in 6/8 the eighths are counted.
@pytest.mark.parametrize(
    ("metre", "places", "said"),
    [
        ("4/4", "0 1/4 1/2 3/4", "1 2 3 4"),
        ("4/4", "0 1/8 1/4 3/8", "1 & 2 &"),
        ("4/4", "1/2 9/16 5/8 11/16", "3 e & a"),
        ("4/4", "0 1/12 1/6 1/4", "1 trip let 2"),
        ("6/8", "0 1/8 1/4 3/8 1/2 5/8", "1 2 3 4 5 6"),
        ("6/8", "0 1/16", "1 &"),
        ("2/2", "0 1/4 1/2", "1 & 2"),
    ],
)
def test_places_are_counted_aloud(metre: str, places: str, said: str) -> None:
    counted = [Metre.parse(metre).count(Fraction(place)) for place in places.split()]
    assert counted == said.split()


def test_between_the_syllables_nothing_is_said() -> None:
    assert Metre().count(Fraction(1, 32)) == ""
