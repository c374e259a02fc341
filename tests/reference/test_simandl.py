"""The upright method's hand places (F. Simandl; Sankey edition, contents page).

Half position and eleven others, climbing by semitones, named after the degrees of
natural minor above the open string; the ones between are called intermediate.
"""

import pytest

from fretdrill.neck.neck import Neck, Place
from fretdrill.neck.position import SIMANDL
from fretdrill.neck.scope import Scope
from fretdrill.theory.pitch import NoteName

# Semitones of finger 1 above the open string: computed, and agreeing with the contents
# page and with an orchestral bassist's remark on the minor scale.
TABLE = {
    "half": 1, "I": 2, "II": 3, "II-III": 4, "III": 5, "III-IV": 6, "IV": 7, "V": 8,
    "V-VI": 9, "VI": 10, "VI-VII": 11, "VII": 12,
}  # fmt: skip

# Fowler, Switching to the Double Bass, chapters 2 and 4: fingers 1, 2, 4.
PRINTED_NOTES = [
    ("half", 1, "Ab A Bb"),
    ("I", 1, "A Bb B"),
    ("III", 1, "C C# D"),
    ("III", 2, "G G# A"),
    ("I", 3, "B C C#"),
]


def test_the_table_of_twelve_places() -> None:
    assert SIMANDL == TABLE
    assert len(SIMANDL) == 12


def test_whole_numbers_are_the_degrees_of_natural_minor() -> None:
    minor_degrees = [2, 3, 5, 7, 8, 10, 12]  # semitones of degrees II to VIII
    places = [SIMANDL[name] for name in ("I", "II", "III", "IV", "V", "VI", "VII")]
    assert places == minor_degrees


def test_intermediate_places_lie_between_their_names() -> None:
    for name, semitones in SIMANDL.items():
        if "-" in name:
            low, high = name.split("-")
            assert SIMANDL[low] < semitones < SIMANDL[high]


@pytest.mark.parametrize(("name", "string", "notes"), PRINTED_NOTES)
def test_printed_notes_under_fingers_one_two_and_four(name: str, string: int, notes: str) -> None:
    neck = Neck()
    found = [neck.midi(Place(string, SIMANDL[name] + offset)) % 12 for offset in (0, 1, 2)]
    assert found == [NoteName.parse(note).pitch_class for note in notes.split()]


def test_half_position_is_the_three_lowest_frets() -> None:
    """A whole tone between fingers 1 and 4 (ASODB on Simandl)."""
    places = Scope.parse("half position").places(Neck())
    assert {place.fret for place in places} == {1, 2, 3}
    g_string = [Neck().midi(place) % 12 for place in places if place.string == 1]
    assert g_string == [NoteName.parse(note).pitch_class for note in ("Ab", "A", "Bb")]
