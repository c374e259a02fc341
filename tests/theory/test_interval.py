"""Intervals: names, degrees, and spelling by letter steps."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from fretdrill.errors import InputError
from fretdrill.theory.interval import Interval
from fretdrill.theory.pitch import LETTERS, NoteName, Pitch
from tests.strategies import note_names, pitches

# Semitones of the simple intervals, as every theory primer lists them.
SIZES = {
    "P1": 0, "m2": 1, "M2": 2, "m3": 3, "M3": 4, "P4": 5, "A4": 6, "d5": 6, "P5": 7,
    "A5": 8, "m6": 8, "M6": 9, "d7": 9, "m7": 10, "M7": 11, "P8": 12, "A1": 1, "d2": 0,
    "A2": 3, "d3": 2, "A3": 5, "d4": 4, "A6": 10, "d6": 7, "A7": 12, "d8": 11,
    "dd5": 5, "dd7": 8, "AA4": 7, "m9": 13, "M9": 14, "P11": 17, "A11": 18, "m13": 20,
    "M13": 21, "P15": 24,
}  # fmt: skip


@pytest.mark.parametrize(("name", "semitones"), SIZES.items())
def test_intervals_have_their_textbook_size(name: str, semitones: int) -> None:
    interval = Interval.parse(name)
    assert interval.semitones == semitones
    assert interval.steps == int(name.lstrip("PMmdA")) - 1
    assert interval.name == name


@pytest.mark.parametrize(
    ("degree", "name"),
    [
        ("1", "P1"), ("b3", "m3"), ("♭3", "m3"), ("3", "M3"), ("4", "P4"), ("#4", "A4"),
        ("♯11", "A11"), ("b5", "d5"), ("5", "P5"), ("#5", "A5"), ("6", "M6"), ("bb7", "d7"),
        ("♭♭7", "d7"), ("b7", "m7"), ("7", "M7"), ("9", "M9"), ("b9", "m9"), ("#9", "A9"),
        ("13", "M13"), ("b13", "m13"),
    ],
)  # fmt: skip
def test_degrees_are_intervals_against_the_major_scale(degree: str, name: str) -> None:
    assert Interval.degree(degree) == Interval.parse(name)


@pytest.mark.parametrize(
    "text",
    ["", "3", "P3", "M4", "m5", "P2", "M8", "m1", "P0", "M0", "m-3", "x3", "AAA4", "M 3", "ddd5"],
)
def test_what_is_no_interval_is_refused(text: str) -> None:
    with pytest.raises(InputError, match="is not an interval"):
        Interval.parse(text)


@pytest.mark.parametrize("text", ["M00", "m00", "d00", "A000"])
def test_there_is_no_interval_number_nought_however_it_is_written(text: str) -> None:
    with pytest.raises(InputError):
        Interval.parse(text)


@pytest.mark.parametrize("text", ["", "0", "00", "b", "x7", "7b", "-7"])
def test_what_is_no_degree_is_refused(text: str) -> None:
    with pytest.raises(InputError):
        Interval.degree(text)


@given(note_names(1), st.sampled_from(sorted(SIZES)))
def test_the_name_above_has_the_right_letter_and_the_right_sound(low: NoteName, name: str) -> None:
    interval = Interval.parse(name)
    try:
        high = interval.above(low)
    except InputError:  # more than three accidentals
        assume(False)
    letters_climbed = int(name.lstrip("PMmdA")) - 1
    assert high.letter == LETTERS[(LETTERS.index(low.letter) + letters_climbed) % 7]
    assert (high.pitch_class - low.pitch_class) % 12 == SIZES[name] % 12


@given(pitches(24, 96, max_alter=1), st.sampled_from(sorted(SIZES)))
def test_the_pitch_above_sounds_that_many_semitones_higher(low: Pitch, name: str) -> None:
    interval = Interval.parse(name)
    try:
        high = interval.above_pitch(low)
    except InputError:
        assume(False)
    assert high.midi - low.midi == SIZES[name]
    # Letters and octave numbers climb together: B1 up a second is C2, never C1.
    letters = 7 * (high.octave - low.octave)
    letters += LETTERS.index(high.name.letter) - LETTERS.index(low.name.letter)
    assert letters == interval.steps


def test_a_name_that_would_need_four_accidentals_is_refused() -> None:
    with pytest.raises(InputError):
        Interval.parse("d7").above(NoteName("F", -2))
