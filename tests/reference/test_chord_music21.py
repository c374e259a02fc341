"""What the drill on chord tones shows and spells, against intervals of music21."""

from typing import Any

import pytest

from fretdrill.engine.question import FindTones
from fretdrill.theory.chord import QUALITIES
from fretdrill.theory.pitch import NoteName
from tests.engine import tones
from tests.engine.cases import instrument
from tests.reference.music21_names import ROOTS, from_music21, to_music21

# Degree against the major scale → music21's name of the interval (common practice, no source).
INTERVALS = {
    "2": "M2", "b3": "m3", "3": "M3", "4": "P4", "b5": "d5", "5": "P5", "#5": "A5", "6": "M6",
    "bb7": "d7", "b7": "m7", "7": "M7", "9": "M9",
}  # fmt: skip
MOST_ACCIDENTALS = 2  # a chord that needs more on one note is left out


@pytest.fixture(scope="module")
def music21() -> Any:
    """The oracle; slow to import, so only here."""
    return pytest.importorskip("music21")


@pytest.mark.parametrize("root", ROOTS, ids=str)
def test_every_tone_of_every_chord_on_every_root(music21: Any, root: NoteName) -> None:
    player = instrument().player
    left_out = set()
    for quality in QUALITIES:
        (stage,) = tones.stages(
            "chord", scope="frets 1-6", notes=str(root), chord=quality, tones="one"
        )
        asked = tones.questions("chord", player, stage, most=1000)
        spelled = {}
        for question in asked:
            assert isinstance(question.task, FindTones)
            (degree,) = question.task.degrees
            tone = music21.interval.Interval(INTERVALS[degree]).transposePitch(
                music21.pitch.Pitch(to_music21(root) + "2")
            )
            names = {question.name_at(place) for place in question.right}
            assert names == {from_music21(tone)}
            assert {player.neck.midi(p) % 12 for p in question.right} == {tone.midi % 12}
            spelled[degree] = names
        if asked:
            assert set(spelled) <= set(QUALITIES[quality].split()[1:])
        else:
            left_out.add(quality)
    for quality in left_out:
        alters = [
            music21.interval.Interval(INTERVALS[degree])
            .transposePitch(music21.pitch.Pitch(to_music21(root)))
            .alter
            for degree in QUALITIES[quality].split()[1:]
        ]
        assert max(map(abs, alters)) > MOST_ACCIDENTALS, quality


def test_every_degree_of_every_quality_is_held_against_one() -> None:
    degrees = {degree for tones in QUALITIES.values() for degree in tones.split()}
    assert degrees == set(INTERVALS) | {"1"}
