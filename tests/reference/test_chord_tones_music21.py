"""The spelled tones of every chord on every root, against intervals of music21."""

from itertools import product
from typing import Any

import pytest

from fretdrill.engine.kinds.chord import ChordTones
from fretdrill.engine.question import FindTones
from fretdrill.theory.chord import QUALITIES, Chord
from fretdrill.theory.interval import Interval
from fretdrill.theory.pitch import NoteName
from tests.engine import tones
from tests.engine.cases import instrument
from tests.reference.music21_names import ROOTS, from_music21, to_music21

# Degree → music21's name for the interval above the root; a degree counts steps of the major
# scale, b lowers it and # raises it (common practice, no source).
INTERVALS = {
    "1": "P1", "2": "M2", "b3": "m3", "3": "M3", "4": "P4", "b5": "d5", "5": "P5", "#5": "A5",
    "6": "M6", "bb7": "d7", "b7": "m7", "7": "M7", "9": "M9",
}  # fmt: skip

# What each quality is made of, from music21's point of view: names of intervals above the root,
# written from the chords' names (common practice, no source).
BUILT = {
    "maj": "M3 P5",
    "min": "m3 P5",
    "7": "M3 P5 m7",
    "maj7": "M3 P5 M7",
    "m7": "m3 P5 m7",
    "m7b5": "m3 d5 m7",
    "dim": "m3 d5",
    "dim7": "m3 d5 d7",
    "aug": "M3 A5",
    "sus2": "M2 P5",
    "sus4": "P4 P5",
    "6": "M3 P5 M6",
    "m6": "m3 P5 M6",
    "add9": "M3 P5 M9",
    "9": "M3 P5 m7 M9",
}


@pytest.fixture(scope="module")
def music21() -> Any:
    """The oracle; slow to import, so only here."""
    return pytest.importorskip("music21")


def above(music21: Any, interval: str, root: NoteName) -> Any:
    """Return the pitch an interval above a root, spelled by music21."""
    low = music21.pitch.Pitch(f"{to_music21(root)}2")
    return music21.interval.Interval(interval).transposePitch(low)


def test_there_are_seven_letters_with_three_signs_and_a_row_for_every_quality() -> None:
    assert len(set(ROOTS)) == 21
    assert set(BUILT) == set(QUALITIES)


@pytest.mark.parametrize("quality", QUALITIES)
def test_every_chord_on_every_root_is_spelled_by_its_intervals(music21: Any, quality: str) -> None:
    for root in ROOTS:
        oracle = [above(music21, name, root) for name in f"P1 {BUILT[quality]}".split()]
        spelled = Chord(root, quality).tones
        assert spelled == tuple(map(from_music21, oracle)), root
        assert [name.pitch_class for name in spelled] == [pitch.pitchClass for pitch in oracle]


@pytest.mark.parametrize("degree", INTERVALS)
def test_every_degree_on_every_root(music21: Any, degree: str) -> None:
    for root in ROOTS:
        oracle = above(music21, INTERVALS[degree], root)
        assert Interval.degree(degree).above(root) == from_music21(oracle), root


def test_degrees_of_a_quality_are_its_intervals() -> None:
    for quality, degrees in QUALITIES.items():
        named = [INTERVALS[degree] for degree in degrees.split()]
        assert named == f"P1 {BUILT[quality]}".split()


@pytest.mark.parametrize(
    ("symbol", "spelled"),
    [
        # Common practice, no source: the seventh of C is B♭ and never A♯.
        ("C7", "C E G Bb"),
        ("Cdim7", "C Eb Gb Bbb"),
        ("F#7", "F# A# C# E"),
        ("Ebm7b5", "Eb Gb Bbb Db"),
        ("G#aug", "G# B# D##"),
        ("Fbmin", "Fb Abb Cb"),
    ],
)
def test_spellings_that_go_wrong_easily(symbol: str, spelled: str) -> None:
    assert [str(tone) for tone in Chord.parse(symbol).tones] == spelled.split()


@pytest.mark.parametrize("ascii_only", [False, True])
def test_a_printed_symbol_is_read_as_the_same_chord(ascii_only: bool) -> None:
    for root, quality in product(ROOTS, QUALITIES):
        chord = Chord(root, quality)
        assert Chord.parse(chord.text(ascii_only=ascii_only)) == chord


@pytest.mark.parametrize("root", ROOTS, ids=str)
def test_tones_asked_together_are_named_as_music21_spells_them(
    music21: Any, root: NoteName
) -> None:
    """Chords that need a triple accidental are left out, all others are asked."""
    kind, player = ChordTones(), instrument(accidentals="both").player
    asked = set()
    chords = " ".join(QUALITIES)
    (stage,) = tones.stages("chord", scope="frets 1-12", notes=str(root), chord=chords, tones="all")
    for focus in kind.foci(player, stage):
        question = kind.ask(player, stage, focus)
        task, right = question.task, question.right
        assert isinstance(task, FindTones)
        assert isinstance(right, frozenset)
        assert task.context.root == root
        asked.add(task.context.quality)
        oracle = {above(music21, INTERVALS[degree], root) for degree in task.degrees}
        assert {question.name_at(place) for place in right} == set(map(from_music21, oracle))
    for quality, names in BUILT.items():
        alters = [abs(above(music21, name, root).alter) for name in names.split()]
        assert (quality in asked) == (max(alters) < 3)
