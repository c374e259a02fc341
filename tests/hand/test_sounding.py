"""How much of its written length a note sounds.

Expected shares are computed here from the parts of a shift: the seconds that it needs, the rest
there is, the written length. That a staccato note sounds half is a convention of MIDI exams.
"""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.hand.cost import CostModel
from fretdrill.hand.plan import Plan, TakenFrom
from fretdrill.hand.planner import Planner
from fretdrill.hand.sounding import sounding_share
from fretdrill.theory.line import Articulation, Line
from tests.hand.lines import settled_plan
from tests.strategies import hands, lines, small_necks

# String, fret, finger, position.
G = (4, 3, 1, 3)
C = (3, 3, 1, 3)
OPEN_A = (3, 0, 0, 3)
C_UP = (4, 8, 1, 8)


def seconds(line: Line, index: int) -> float:
    """Return a note's written length in seconds."""
    note = line.notes[index]
    return line.seconds_between(note.onset, note.end)


def test_a_hand_that_stays_lets_everything_sound():
    plan = settled_plan("G,,,C,,G,,,C,,", G, C, G, C)
    assert [sounding_share(plan, index) for index in range(4)] == [1.0] * 4


def test_staccato_sounds_half():
    plan = settled_plan("G,,,.C,,G,,,.C,,", G, C, G, C)
    assert [sounding_share(plan, index) for index in range(4)] == [1.0, 0.5, 1.0, 0.5]


def test_accent_and_tenuto_sound_whole():
    plan = settled_plan("!tenuto!G,,,!>!C,,", G, C)
    assert [sounding_share(plan, index) for index in range(2)] == [1.0, 1.0]


def test_a_shift_takes_its_time_from_the_end_of_the_note():
    plan = settled_plan("G,,,C,,", G, C_UP, bpm=60)
    (shift,) = plan.shifts
    assert shift.taken_from is TakenFrom.NOTE_LENGTH
    assert sounding_share(plan, 0) == pytest.approx(1.0 - shift.needs_s / 1.0)
    assert sounding_share(plan, 1) == 1.0


def test_staccato_may_have_ended_before_the_shift_begins():
    slow = settled_plan(".G,,,C,,", G, C_UP, bpm=60)
    assert slow.shifts[0].needs_s < 0.5
    assert sounding_share(slow, 0) == 0.5
    quick = settled_plan(".G,,,C,,", G, C_UP, bpm=180)
    assert 1.0 - quick.shifts[0].needs_s / (60 / 180) < 0.5
    assert sounding_share(quick, 0) == pytest.approx(1.0 - quick.shifts[0].share)


def test_a_rest_gives_the_shift_its_time():
    plan = settled_plan("G,,,zC,,", G, C_UP, bpm=60)
    assert plan.shifts[0].taken_from is TakenFrom.REST
    assert sounding_share(plan, 0) == 1.0


def test_a_short_rest_gives_a_part_of_it():
    plan = settled_plan("G,,,7zC,,8", G, C_UP, unit="1/32", bpm=60)
    (shift,) = plan.shifts
    rest_s, length_s = 1 / 8, 7 / 8
    assert shift.needs_s > rest_s
    assert sounding_share(plan, 0) == pytest.approx(1 - (shift.needs_s - rest_s) / length_s)


def test_an_open_string_sounds_while_the_hand_moves():
    plan = settled_plan("C,,A,,,C,,", C, OPEN_A, C_UP, bpm=60)
    assert [shift.taken_from for shift in plan.shifts] == [TakenFrom.OPEN_STRING]
    assert sounding_share(plan, 1) == 1.0


def test_a_slide_sounds_while_the_hand_moves():
    plan = settled_plan("(G,,,C,,)", G, C_UP, bpm=60)
    assert plan.shifts[0].taken_from is TakenFrom.NONE
    assert sounding_share(plan, 0) == 1.0


def test_the_last_note_sounds_whole():
    plan = settled_plan("G,,,C,,", G, C_UP, bpm=240)
    assert sounding_share(plan, 1) == 1.0


@st.composite
def plans(draw: st.DrawFn) -> Plan:
    neck = draw(small_necks())
    line = draw(lines(neck, min_notes=1, max_notes=6))
    solution = Planner(CostModel(neck, draw(hands()))).solve(line)
    return Plan(line, solution, solution.best())


@settings(deadline=None, max_examples=60)
@given(plans())
def test_it_is_the_lesser_of_what_the_marks_and_the_move_leave(plan):
    for index, note in enumerate(plan.line.notes):
        marked = 0.5 if Articulation.STACCATO in note.articulations else 1.0
        moves = [shift for shift in plan.shifts if shift.index == index]
        left = 1.0
        if moves and moves[0].taken_from is TakenFrom.NOTE_LENGTH:
            length_s = seconds(plan.line, index)
            following = plan.line.notes[index + 1].onset
            rest_s = plan.line.seconds_between(note.end, following)
            left = max(0.0, 1.0 - max(0.0, moves[0].needs_s - rest_s) / length_s)
        assert sounding_share(plan, index) == pytest.approx(min(marked, left))
        assert 0.0 <= sounding_share(plan, index) <= 1.0
