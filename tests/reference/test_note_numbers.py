"""MIDI numbers, octave numbers and string numbers as the standards have them."""

import pytest

from fretdrill.neck.neck import Neck, Place
from fretdrill.neck.tuning import Tuning
from fretdrill.theory.pitch import Pitch


# MusicXML 4.0, ``octave`` type: octave 4 begins at middle C; General MIDI: middle C is
# note 60, A4 is 69. (Some makers print C3 = 60; this program does not.)
@pytest.mark.parametrize(
    ("name", "midi"),
    [
        ("C4", 60), ("A4", 69), ("B3", 59), ("C-1", 0), ("G9", 127), ("B#3", 60), ("Cb4", 59),
        ("B0", 23), ("E1", 28), ("A1", 33), ("D2", 38), ("G2", 43), ("C3", 48),
    ],
)  # fmt: skip
def test_note_numbers(name: str, midi: int) -> None:
    assert Pitch.parse(name).midi == midi


@pytest.mark.parametrize(("name", "octave"), [("B3", 3), ("C4", 4), ("B#3", 3), ("Cb4", 4)])
def test_octave_numbers_change_at_c_and_belong_to_the_letter(name: str, octave: int) -> None:
    assert Pitch.parse(name).octave == octave


# Four strings: music21's instrument table. Five and six: a general guide to basses.
# Drop D, BEAD and the guitar: common practice, no source.
@pytest.mark.parametrize(
    ("preset", "low_to_high"),
    [
        ("4-string", [28, 33, 38, 43]),
        ("5-string", [23, 28, 33, 38, 43]),
        ("6-string", [23, 28, 33, 38, 43, 48]),
        ("drop-d", [26, 33, 38, 43]),
        ("bead", [23, 28, 33, 38]),
        ("guitar", [40, 45, 50, 55, 59, 64]),
    ],
)
def test_open_strings(preset: str, low_to_high: list[int]) -> None:
    neck = Neck(Tuning.parse(preset))
    highest = len(low_to_high)
    found = [neck.midi(Place(string, 0)) for string in range(highest, 0, -1)]
    assert found == low_to_high


# Computed: 24 frets above G2 and above C3.
@pytest.mark.parametrize(
    ("preset", "top", "midi"), [("4-string", "G4", 67), ("6-string", "C5", 72)]
)
def test_twenty_four_frets_end_two_octaves_up(preset: str, top: str, midi: int) -> None:
    neck = Neck(Tuning.parse(preset), frets=24)
    assert neck.midi(Place(1, 24)) == midi == Pitch.parse(top).midi


def test_string_one_is_the_highest() -> None:
    """MusicXML 4.0: ``string`` 1 is the highest, ``fret`` 0 the open string; bass G is 1."""
    strings = Tuning.parse("4-string").strings
    assert [str(pitch) for pitch in strings] == ["G2", "D2", "A1", "E1"]
    assert Neck().midi(Place(1, 0)) == 43
    assert Neck().midi(Place(4, 0)) == 28


def test_text_lists_the_lowest_string_first() -> None:
    """Players say E A D G; staff-tuning line 1 is the lowest too (MusicXML tablature tutorial)."""
    assert str(Tuning.parse("4-string")) == "E1 A1 D2 G2"
    assert str(Tuning.parse("E1 A1 D2 G2").strings[0]) == "G2"
