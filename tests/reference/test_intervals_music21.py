"""Spelling of every interval on every root against music21."""

from typing import Any

import pytest

from fretdrill.errors import InputError
from fretdrill.theory.interval import Interval
from fretdrill.theory.pitch import Pitch
from tests.reference.music21_names import ROOTS, from_music21, to_music21

NUMBERS = range(1, 16)
NAMES = [
    f"{quality}{number}"
    for number in NUMBERS
    for quality in (
        ("dd", "d", "P", "A", "AA") if number % 7 in (1, 4, 5) else ("dd", "d", "m", "M", "A", "AA")
    )
    if f"{quality}{number}" not in ("d1", "dd1", "dd2")  # these go down, not up
]


@pytest.fixture(scope="module")
def music21() -> Any:
    """The oracle; slow to import, so only here."""
    return pytest.importorskip("music21")


@pytest.mark.parametrize("name", NAMES)
def test_size_and_spelling(music21: Any, name: str) -> None:
    oracle = music21.interval.Interval(name)
    interval = Interval.parse(name)
    assert interval.semitones == oracle.semitones
    assert interval.name == name
    for root in ROOTS:
        low = music21.pitch.Pitch(to_music21(root) + "2")
        high = oracle.transposePitch(low, maxAccidental=None)
        if abs(high.alter) > 3:
            with pytest.raises(InputError):
                interval.above(root)
            continue
        assert interval.above(root) == from_music21(high)
        ours = interval.above_pitch(Pitch.parse(f"{root}2"))
        assert (ours.midi, ours.octave) == (high.midi, high.octave)
