"""The verdict on coming notes is what planning the line anew with them costs more."""

import math
from fractions import Fraction
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.engine.kinds.ahead import TOLERANCE, Ahead, AheadStage
from fretdrill.engine.line_reasons import PlayedOn
from fretdrill.engine.lines import Lines
from fretdrill.engine.piece import Piece, plan_of
from fretdrill.engine.player import Player
from fretdrill.engine.question import Fingering, Grade, Question, Shown
from fretdrill.hand.cost import CostModel
from fretdrill.hand.hand import Hand
from fretdrill.hand.planner import Planner
from fretdrill.hand.states import Choice, Pin
from fretdrill.neck.neck import Neck
from fretdrill.practice.library import find_line, line_files
from fretdrill.theory.key import Key
from fretdrill.theory.line import Bar, Line, Note
from fretdrill.theory.metre import Metre

PLAYER = Player(Neck(), Hand())
SHIPPED = sorted(line_files(None))
AHEAD = Ahead()
HANDS = (Hand(), Hand.parse("small", "1-2-4"), Hand.parse("large", "one-per-fret"))
LENGTHS = tuple(Fraction(1, n) for n in (2, 4, 8, 16))


@cache
def shipped(name: str) -> Piece:
    return Piece(name, find_line(name, None).line)


@st.composite
def made(draw: st.DrawFn) -> Piece:
    """A wandering line from E1 to G3."""
    steps = draw(st.lists(st.integers(28, 55), min_size=4, max_size=9))
    key, onset, notes = Key.parse("C major"), Fraction(0), []
    for midi in steps:
        duration = draw(st.sampled_from(LENGTHS))
        notes.append(Note(onset, duration, key.spell(midi)))
        onset += duration
    bars = [Bar(n + 1, Fraction(n), Fraction(1), Metre()) for n in range(int(onset) + 1)]
    return Piece("made", Line("made", tuple(notes), tuple(bars)))


def question(piece: Piece, player: Player, index: int, count: int) -> Question:
    stage = AheadStage(Lines((piece,)), count, Shown.NAMES)
    return AHEAD.ask(player, stage, f"{piece}:{index + 1}")


def planned_anew(piece: Piece, player: Player, index: int, choices: tuple[Choice, ...]) -> float:
    """Plan the whole line from scratch: all up to a note as it was, then these choices."""
    plan = plan_of(piece, player)
    pins = {
        at: Pin(state.finger, state.string, state.fret, state.anchor)
        for at, state in enumerate(plan.states[: index + 1])
    }
    for at, (string, fret, finger) in enumerate(choices, start=index + 1):
        pins[at] = Pin(finger, string, fret)
    return Planner(CostModel(player.neck, player.hand)).solve(piece.line, pins).cost


def choices_for(piece: Piece, player: Player, at: int) -> list[Choice]:
    return list(plan_of(piece, player).solution.problem.layers[at].choices)


def check(piece: Piece, player: Player, index: int, given_choices: tuple[Choice, ...]) -> None:
    asked = question(piece, player, index, len(given_choices))
    assert isinstance(asked.right, Fingering)
    verdict = AHEAD.judge(asked, Fingering(given_choices))
    least = planned_anew(piece, player, index, asked.right.choices)
    regret = planned_anew(piece, player, index, given_choices) - least
    assert verdict.regret == pytest.approx(regret, abs=1e-6)
    assert regret >= -1e-9
    assert (verdict.grade is Grade.EASIEST) == (regret < TOLERANCE)
    assert (verdict.accuracy == 1.0) == (regret < TOLERANCE)
    if regret >= TOLERANCE:
        assert verdict.accuracy == pytest.approx(math.exp(-regret / 3.0))
    (played,) = (reason for reason in verdict.reasons if isinstance(reason, PlayedOn))
    more = played.yours.path.cost - played.best.path.cost
    assert more == pytest.approx(regret, abs=1e-6)
    assert played.yours.states[: index + 1] == played.best.states[: index + 1]
    assert played.yours.states[played.last + 1 :] == played.best.states[played.last + 1 :]
    taken = played.yours.states[index + 1 : index + 1 + len(given_choices)]
    assert tuple(state.choice for state in taken) == given_choices


@settings(max_examples=40, deadline=None)
@given(st.data())
def test_on_lines_that_ship(data):
    piece = shipped(data.draw(st.sampled_from(SHIPPED)))
    player = Player(Neck(), data.draw(st.sampled_from(HANDS)))
    count = data.draw(st.integers(1, 3))
    index = data.draw(st.integers(0, len(piece.line.notes) - 1 - count))
    drawn = [
        data.draw(st.sampled_from(choices_for(piece, player, index + 1 + n))) for n in range(count)
    ]
    check(piece, player, index, tuple(drawn))


@settings(max_examples=60, deadline=None)
@given(made(), st.sampled_from(HANDS), st.data())
def test_on_wandering_lines(piece, hand, data):
    player = Player(Neck(), hand)
    count = data.draw(st.integers(1, min(3, len(piece.line.notes) - 1)))
    index = data.draw(st.integers(0, len(piece.line.notes) - 1 - count))
    drawn = [
        data.draw(st.sampled_from(choices_for(piece, player, index + 1 + n))) for n in range(count)
    ]
    check(piece, player, index, tuple(drawn))


@pytest.mark.parametrize("name", SHIPPED)
def test_the_own_answer_is_as_easy_as_it_gets(name):
    piece = shipped(name)
    for count in (1, 2, 3):
        stage = AheadStage(Lines((piece,)), count, Shown.PLACES)
        for focus in AHEAD.foci(PLAYER, stage):
            asked = AHEAD.ask(PLAYER, stage, focus)
            assert asked == AHEAD.ask(PLAYER, stage, focus)
            verdict = AHEAD.judge(asked, asked.right)
            assert (verdict.accuracy, verdict.regret) == (1.0, 0.0)
            assert verdict.grade is Grade.EASIEST


def test_a_finger_that_cannot_be_laid_leaves_none():
    piece = shipped("walk-up")
    asked = question(piece, PLAYER, 0, 1)
    (right,) = asked.right.choices
    for wrong in (right._replace(finger=0), right._replace(fret=right.fret + 1)):
        verdict = AHEAD.judge(asked, Fingering((wrong,)))
        assert (verdict.accuracy, verdict.grade) == (0.0, Grade.NO_FINGER)


def test_time_shrinks_down_to_the_tempo_of_the_line():
    """Walk Up has quarters at 96 a minute: 0.625 s each (60 / 96)."""
    asked = question(shipped("walk-up"), PLAYER, 0, 2)
    assert asked.least_s == pytest.approx(2 * 60 / 96)
