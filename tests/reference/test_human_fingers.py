"""The planner beside fingers that people printed.

Guitar editions are a proxy: a shorter scale, an older style, and editors print what does
not go without saying. No open set of electric-bass lines with human fingers was found, so
nothing here measures how well bass players are served; the bass weights are held to
facts of the trade elsewhere and not bent to these numbers. What is tested is what is
reached, and no more: every printed fingering can be planned, and the planner agrees with
print more often than always taking the lowest fret. It does not beat two stronger simple
ways: the nearest place (54 %) and the fewest shifts (55 %) agreed a little more often than
the bass weights (53 %) when this was written. The guitar weights, fitted on the odd half,
agreed with 65 % of the even half.
:mod:`tests.reference.fingers_report` prints the figures.
"""

from pathlib import Path

import pytest

from fretdrill.hand.weights import WEIGHT_SETS
from tests.reference.finger_baselines import BASELINES
from tests.reference.fingers_report import (
    EVEN,
    ODD,
    baseline_score,
    halves,
    planned_changes,
    score,
    unplannable,
)
from tests.reference.printed_fingers import NOTES_FILE, RUNS_FILE, Run, read_runs

DATA = Path(__file__).parents[3] / "shared" / "data" / "mutopia-fingered"

pytestmark = pytest.mark.skipif(
    not all((DATA / name).exists() for name in (RUNS_FILE, NOTES_FILE)),
    reason="the shared folder of open data is not here",
)


@pytest.fixture(scope="module")
def runs() -> list[Run]:
    return read_runs(DATA)


def test_all_that_is_printed_is_read(runs: list[Run]) -> None:
    """The numbers that come with the data."""
    assert len(runs) == 39
    assert sum(len(run.line.notes) for run in runs) == 543
    assert sum(len(run.printed) for run in runs) == 385
    assert {str(run.neck.tuning) for run in runs} == {"E1 A1 D2 G2", "D1 A1 D2 G2"}


def test_printed_strings_and_frets_sound_the_printed_pitch(runs: list[Run]) -> None:
    """14 notes carry both."""
    both = [(run, note) for run in runs for note in run.line.notes if note.fret is not None]
    assert len(both) == 14
    for run, note in both:
        assert (note.string, note.fret) in run.neck.places_of(note.pitch.midi), note.where


def test_no_half_holds_a_run_of_the_other(runs: list[Run]) -> None:
    parted = halves(runs)
    assert {run.music for run in parted[EVEN]}.isdisjoint(run.music for run in parted[ODD])
    assert len(parted[EVEN]) + len(parted[ODD]) == len(runs)


@pytest.mark.parametrize("name", WEIGHT_SETS)
def test_every_run_can_be_planned_with_its_printed_fingers(runs: list[Run], name: str) -> None:
    assert unplannable(runs, WEIGHT_SETS[name]) == []


def test_the_bass_weights_agree_more_often_than_the_lowest_fret_does(runs: list[Run]) -> None:
    lowest = baseline_score(runs, "lowest fret, position I")
    assert score(runs, WEIGHT_SETS["bass"]).agreed > lowest.agreed


@pytest.mark.parametrize("name", BASELINES)
def test_the_simple_ways_give_every_note_a_finger(runs: list[Run], name: str) -> None:
    for run in runs:
        midis = [note.pitch.midi for note in run.line.notes]
        fingers = BASELINES[name](run.neck, midis)
        assert len(fingers) == len(midis)
        opened = {pitch.midi for pitch in run.neck.tuning.strings}
        assert all(f in range(5) for f in fingers)
        assert all(f or m in opened for f, m in zip(fingers, midis, strict=True))


def test_the_commonest_change_a_semitone_apart_is_the_printed_one(runs: list[Run]) -> None:
    """One finger on for a semitone, both ways: the commonest in 91 pieces surveyed (54 and
    66 %) and in our plans with the weights that are fitted to such editions.
    """
    changes = planned_changes(runs, WEIGHT_SETS["guitar"])
    for step in (1, -1):
        fingers = [change.fingers for change in changes if change.semitones == step]
        assert max(set(fingers), key=fingers.count) == step


def test_weights_fitted_on_one_half_agree_with_the_other_more_than_every_simple_way(
    runs: list[Run],
) -> None:
    """The guitar weights never saw the even half."""
    held_out = halves(runs)[EVEN]
    fitted = score(held_out, WEIGHT_SETS["guitar"])
    for name in BASELINES:
        assert fitted.agreed > baseline_score(held_out, name).agreed, name
    assert fitted.near >= 0.85 * fitted.printed
