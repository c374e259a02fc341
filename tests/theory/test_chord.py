"""Chord symbols: reading them, and the tones they stand for."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.errors import InputError, UnknownName
from fretdrill.theory.chord import QUALITIES, Chord
from fretdrill.theory.pitch import NoteName
from tests.strategies import note_names


def names(text: str) -> tuple[NoteName, ...]:
    return tuple(map(NoteName.parse, text.split()))


# Worked by hand at the piano; textbook spellings (common practice, no source).
TONES = [
    ("C", "C E G"),
    ("Cm", "C Eb G"),
    ("C7", "C E G Bb"),
    ("Cmaj7", "C E G B"),
    ("Cm7", "C Eb G Bb"),
    ("Cm7b5", "C Eb Gb Bb"),
    ("Cdim", "C Eb Gb"),
    ("Cdim7", "C Eb Gb Bbb"),
    ("Caug", "C E G#"),
    ("Csus2", "C D G"),
    ("Csus4", "C F G"),
    ("C6", "C E G A"),
    ("Cm6", "C Eb G A"),
    ("Cadd9", "C E G D"),
    ("C9", "C E G Bb D"),
    ("F#m7b5", "F# A C E"),
    ("Bb7", "Bb D F Ab"),
    ("B", "B D# F#"),
    ("Abm", "Ab Cb Eb"),
    ("Ebmaj7", "Eb G Bb D"),
    ("Dbdim7", "Db Fb Abb Cbb"),
    ("G#aug", "G# B# Dx"),
]


@pytest.mark.parametrize(("symbol", "tones"), TONES)
def test_chord_tones_are_spelled_by_thirds(symbol: str, tones: str) -> None:
    assert Chord.parse(symbol).tones == names(tones)


def test_every_quality_is_worked_by_hand_once() -> None:
    assert {Chord.parse(symbol).quality for symbol, _ in TONES} == set(QUALITIES)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("Cm", "Cmin"),
        ("Cm7", "Cmin7"),
        ("Cm6", "Cmin6"),
        ("Cm7b5", "Cmin7b5"),
        ("Cm7b5", "Cm7♭5"),
        ("C", "Cmaj"),
        ("Csus", "Csus4"),
        ("B♭m7", "Bbm7"),
        ("F♯", "F#"),
    ],
)
def test_two_ways_of_writing_one_chord(one: str, other: str) -> None:
    """``m`` and ``min`` both mean minor; ``sus`` means the fourth."""
    assert Chord.parse(one) == Chord.parse(other)


@given(st.builds(Chord, note_names(2), st.sampled_from(sorted(QUALITIES))))
def test_printed_symbols_are_read_back(chord: Chord) -> None:
    assert Chord.parse(str(chord)) == chord
    assert Chord.parse(chord.text()) == chord
    assert str(chord).isascii()


@pytest.mark.parametrize(
    ("symbol", "nearest"), [("Cmaj77", "maj7"), ("Cdimm", "dim"), ("Cad9", "add9")]
)
def test_an_unknown_quality_names_the_nearest(symbol: str, nearest: str) -> None:
    with pytest.raises(UnknownName) as refused:
        Chord.parse(symbol)
    assert refused.value.what == "chord quality"
    assert refused.value.nearest == nearest


@pytest.mark.parametrize("symbol", ["", "H7", "7", "xyz"])
def test_a_symbol_without_a_root_is_refused(symbol: str) -> None:
    with pytest.raises(UnknownName):
        Chord.parse(symbol)


@settings(max_examples=200)
@given(st.text(alphabet="ABCGHbm#♭♯ajdisu024679 ", max_size=8) | st.text(max_size=8))
def test_any_text_is_read_or_refused_in_words(text: str) -> None:
    try:
        chord = Chord.parse(text)
    except InputError:
        return
    assert chord.quality in QUALITIES
