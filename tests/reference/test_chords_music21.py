"""Every chord quality on every root against music21."""

from typing import Any

import pytest

from fretdrill.theory.chord import QUALITIES, Chord
from fretdrill.theory.pitch import NoteName
from tests.reference.music21_names import ROOTS, from_music21, to_music21

# Our quality → music21's word for the kind of chord (the names of MusicXML 4.0's
# ``kind-value``).
KINDS = {
    "maj": "major",
    "min": "minor",
    "7": "dominant-seventh",
    "maj7": "major-seventh",
    "m7": "minor-seventh",
    "m7b5": "half-diminished-seventh",
    "dim": "diminished",
    "dim7": "diminished-seventh",
    "aug": "augmented",
    "sus2": "suspended-second",
    "sus4": "suspended-fourth",
    "6": "major-sixth",
    "m6": "minor-sixth",
    "9": "dominant-ninth",
}

# music21 has no kind for these: a major triad with the ninth put on top, spelled by hand
# (common practice, no source).
BY_HAND = {
    "add9": {
        "C": "C E G D", "G": "G B D A", "D": "D F# A E", "A": "A C# E B", "E": "E G# B F#",
        "B": "B D# F# C#", "F#": "F# A# C# G#", "C#": "C# E# G# D#", "F": "F A C G",
        "Bb": "Bb D F C", "Eb": "Eb G Bb F", "Ab": "Ab C Eb Bb", "Db": "Db F Ab Eb",
        "Gb": "Gb Bb Db Ab", "Cb": "Cb Eb Gb Db", "G#": "G# B# D# A#", "D#": "D# Fx A# E#",
        "A#": "A# Cx E# B#", "E#": "E# Gx B# Fx", "B#": "B# Dx Fx Cx", "Fb": "Fb Ab Cb Gb",
    },
}  # fmt: skip


@pytest.fixture(scope="module")
def music21() -> Any:
    """The oracle; slow to import, so only here."""
    return pytest.importorskip("music21")


def test_every_quality_is_checked_one_way_or_the_other() -> None:
    assert set(KINDS) | set(BY_HAND) == set(QUALITIES)


@pytest.mark.parametrize("root", ROOTS, ids=str)
@pytest.mark.parametrize("quality", KINDS)
def test_chord_tones_on_every_root(music21: Any, quality: str, root: NoteName) -> None:
    oracle = music21.harmony.ChordSymbol(root=to_music21(root), kind=KINDS[quality])
    assert Chord(root, quality).tones == tuple(from_music21(p) for p in oracle.pitches)


@pytest.mark.parametrize("quality", BY_HAND)
def test_chord_tones_spelled_by_hand(quality: str) -> None:
    table = BY_HAND[quality]
    assert {NoteName.parse(root) for root in table} == set(ROOTS)
    for root, tones in table.items():
        expected = tuple(map(NoteName.parse, tones.split()))
        assert Chord(NoteName.parse(root), quality).tones == expected
