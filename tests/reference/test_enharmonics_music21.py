"""Enharmonic names, parsed and counted against music21."""

from itertools import product
from typing import Any

import pytest

from fretdrill.theory.pitch import LETTERS, NoteName, Pitch
from tests.reference.music21_names import to_music21

NAMES = [NoteName(letter, alter) for letter, alter in product(LETTERS, range(-3, 4))]

# The twelve piano keys and all their names with up to two accidentals (a keyboard
# chart; common practice, no source).
KEYBOARD = [
    "C B# Dbb",
    "C# Db Bx",
    "D Cx Ebb",
    "D# Eb Fbb",
    "E Dx Fb",
    "F E# Gbb",
    "F# Gb Ex",
    "G Fx Abb",
    "G# Ab",
    "A Gx Bbb",
    "A# Bb Cbb",
    "B Ax Cb",
]


@pytest.fixture(scope="module")
def music21() -> Any:
    """The oracle; slow to import, so only here."""
    return pytest.importorskip("music21")


@pytest.mark.parametrize("octave", [0, 1, 4])
def test_midi_number_of_every_spelling(music21: Any, octave: int) -> None:
    for name in NAMES:
        oracle = music21.pitch.Pitch(f"{to_music21(name)}{octave}")
        # music21's ``midi`` folds what lies outside 0-127; ``ps`` does not.
        pitch = Pitch.parse(f"{name}{octave}")
        assert pitch.midi == oracle.ps, name
        assert pitch.octave == oracle.octave, name
        assert pitch.frequency_hz == pytest.approx(oracle.frequency)


def test_enharmonic_pairs(music21: Any) -> None:
    classes = {name: music21.pitch.Pitch(to_music21(name)).pitchClass for name in NAMES}
    for one, other in product(NAMES, NAMES):
        assert one.is_enharmonic(other) == (classes[one] == classes[other])


def test_open_strings_of_the_electric_bass(music21: Any) -> None:
    strings = music21.instrument.ElectricBass().stringPitches
    assert [pitch.midi for pitch in strings] == [28, 33, 38, 43]


@pytest.mark.parametrize(("semitone", "names"), enumerate(KEYBOARD))
def test_the_keyboard_chart(semitone: int, names: str) -> None:
    parsed = [NoteName.parse(name) for name in names.split()]
    assert {name.pitch_class for name in parsed} == {semitone}
    everything = {name for name in NAMES if abs(name.alter) <= 2}
    assert {name for name in everything if name.is_enharmonic(parsed[0])} == set(parsed)


@pytest.mark.parametrize(
    "spellings", [("Bb", "B♭"), ("F#", "F♯"), ("Ebb", "E♭♭", "E𝄫"), ("Fx", "F##", "F♯♯", "F𝄪")]
)
def test_ways_of_typing_one_name(spellings: tuple[str, ...]) -> None:
    assert len({NoteName.parse(text) for text in spellings}) == 1
