"""Pitches and lengths of ABC against music21.

Only what music21 reads as the standard says: it passes over accidentals in K:, the
locrian mode, transposition, clefs, invisible rests and rests of several bars. Without
the version line it takes an accidental to hold for its note only.
"""

from fractions import Fraction
from typing import Any

import pytest

from fretdrill.scores.abc import read_abc
from fretdrill.theory.key import Key
from fretdrill.theory.line import Line
from tests.reference.music21_names import from_music21
from tests.strategies import all_keys

MODES = {
    "major": "",
    "minor": "m",
    "mixolydian": "Mix",
    "dorian": "Dor",
    "phrygian": "Phr",
    "lydian": "Lyd",
}

# music21 takes F flat lydian for no key at all; §3.1.14 lists it with seven flats.
READ_RIGHT = [key for key in all_keys() if key.mode in MODES and str(key) != "Fb lydian"]


@pytest.fixture(scope="module")
def music21() -> Any:
    """The oracle; slow to import, so only here."""
    return pytest.importorskip("music21")


def tune(body: str, key: str = "C", more: str = "") -> str:
    return f"%abc-2.1\nX:1\nT:t\nM:4/4\nL:1/8\n{more}K:{key}\n{body}\n"


def ours(line: Line) -> list[tuple[int, str, Fraction, Fraction]]:
    return [
        (note.pitch.midi, str(note.pitch.name), note.onset * 4, note.duration * 4)
        for note in line.notes
    ]


def theirs(music21: Any, text: str) -> list[tuple[int, str, Fraction, Fraction]]:
    score = music21.converter.parse(text, format="abc").stripTies()
    return [
        (
            note.pitch.midi,
            str(from_music21(note.pitch)),
            Fraction(note.offset),
            Fraction(note.quarterLength),
        )
        for note in score.flatten().notes
    ]


@pytest.mark.parametrize(
    ("key", "body"),
    [
        ("C", "A>B c<d e>>f g<<a|"),
        ("C", "(3ABc (3:2:4A2B2cd d2|(5ABcde f6"),
        ("C", "^f8-|f4 f4|"),
        ("Bb", "B4-B4|B4 ^B4|"),
        ("C", "c4-c4-|c8-|c2 d6|"),
        ("C", "C3/2D/ E//F// G/4A3/4 B7/4 c4|"),
        ("C", "C,,C'c,c''C,',D,,,|"),
        ("C", "_A__B^^c=d^E_F|"),
        ("G", "=F2^G2 F4|f2 ^f2 _f2 =f2|"),
        ("Ebm", "z2 C2 z4|z/C/ z3 C4-|C8|"),
        ("A", "((3cde) (f2g2)|!trill!a2 .b2 c'4|"),
    ],
)
def test_notes_and_lengths(music21: Any, key: str, body: str) -> None:
    text = tune(body, key)
    assert ours(read_abc(text, "t").line) == theirs(music21, text)


@pytest.mark.parametrize("reach", ["not", "octave", "pitch"])
def test_the_reach_of_accidentals(music21: Any, reach: str) -> None:
    text = tune("^CCc_D dD|Cc =F f F, ^f F|", "G", f"%%propagate-accidentals {reach}\n")
    assert ours(read_abc(text, "t").line) == theirs(music21, text)


@pytest.mark.parametrize("key", READ_RIGHT, ids=str)
def test_signatures(music21: Any, key: Key) -> None:
    text = tune("CDEFGABc|", f"{key.tonic}{MODES[key.mode]}")
    assert ours(read_abc(text, "t").line) == theirs(music21, text)


def test_repeats_with_endings(music21: Any) -> None:
    text = tune("|:C4 D4|1E8:|2F8|]")
    score = music21.converter.parse(text, format="abc").expandRepeats()
    played = [(note.pitch.midi, Fraction(note.offset)) for note in score.flatten().notes]
    line = read_abc(text, "t").line
    assert [(note.pitch.midi, note.onset * 4) for note in line.notes] == played
