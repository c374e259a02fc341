"""Scales and signatures of every key against music21."""

from typing import Any

import pytest

from fretdrill.theory.key import MAJOR_KEYS, MINOR_KEYS, MODES, Key
from fretdrill.theory.pitch import NoteName
from tests.reference.music21_names import from_music21, to_music21
from tests.strategies import all_keys

CHURCH_KEYS = tuple(key for key in all_keys() if key.mode not in ("major", "minor"))

# The order of the signature's flats and sharps, from memory.
FLATS, SHARPS = "B E A D G C F".split(), "F C G D A E B".split()


@pytest.fixture(scope="module")
def music21() -> Any:
    """The oracle; slow to import, so only here."""
    return pytest.importorskip("music21")


def scale_of(music21: Any, key: Key) -> tuple[NoteName, ...]:
    """The seven names as music21 spells them."""
    concrete = {
        "major": music21.scale.MajorScale,
        "minor": music21.scale.MinorScale,
        "dorian": music21.scale.DorianScale,
        "phrygian": music21.scale.PhrygianScale,
        "lydian": music21.scale.LydianScale,
        "mixolydian": music21.scale.MixolydianScale,
        "locrian": music21.scale.LocrianScale,
    }[key.mode]
    pitches = concrete(to_music21(key.tonic) + "3").getPitches()
    return tuple(from_music21(pitch) for pitch in pitches[:7])


@pytest.mark.parametrize("key", MAJOR_KEYS, ids=str)
def test_all_fifteen_major_keys(music21: Any, key: Key) -> None:
    assert key.scale == scale_of(music21, key)


@pytest.mark.parametrize("key", MINOR_KEYS, ids=str)
def test_all_fifteen_minor_keys(music21: Any, key: Key) -> None:
    assert key.scale == scale_of(music21, key)


@pytest.mark.parametrize("key", CHURCH_KEYS, ids=str)
def test_church_modes(music21: Any, key: Key) -> None:
    assert key.scale == scale_of(music21, key)


@pytest.mark.parametrize("key", all_keys(), ids=str)
def test_signatures(music21: Any, key: Key) -> None:
    assert music21.key.Key(to_music21(key.tonic), key.mode).sharps == key.signature


@pytest.mark.parametrize("key", [*MAJOR_KEYS, *MINOR_KEYS], ids=str)
def test_accidentals_of_the_scale_are_those_of_the_signature(key: Key) -> None:
    count = abs(key.signature)
    expected = set((SHARPS if key.signature > 0 else FLATS)[:count])
    assert {name.letter for name in key.scale if name.alter} == expected


def test_the_fifteen_tonics() -> None:
    """Common practice, no source."""
    majors = "Cb Gb Db Ab Eb Bb F C G D A E B F# C#".split()
    minors = "Ab Eb Bb F C G D A E B F# C# G# D# A#".split()
    assert [str(key.tonic) for key in MAJOR_KEYS] == majors
    assert [str(key.tonic) for key in MINOR_KEYS] == minors


def test_every_mode_is_held_against_the_oracle() -> None:
    assert set(MODES) == {key.mode for key in (*MAJOR_KEYS, *MINOR_KEYS, *CHURCH_KEYS)}
