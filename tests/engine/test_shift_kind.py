"""When the hand moves: every moment against planning anew with both positions settled."""

import math
import os
import random
import subprocess
import sys
from dataclasses import replace
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.engine.figures import FIGURES
from fretdrill.engine.kinds.shift import (
    LEAST_FRETS,
    LEAST_NOTES,
    Moment,
    ShiftKind,
    ShiftStage,
    moments_of,
)
from fretdrill.engine.line_reasons import Dearer, NoShiftThere, ShiftAfter
from fretdrill.engine.lines import Lines
from fretdrill.engine.piece import Piece, plan_of
from fretdrill.engine.player import Player
from fretdrill.engine.question import (
    AfterNote,
    Answer,
    AnswerForm,
    ChooseShift,
    Grade,
    Question,
    Verdict,
)
from fretdrill.errors import NothingToAsk
from fretdrill.hand.cost import CostModel
from fretdrill.hand.failure import NoFingering
from fretdrill.hand.hand import Hand
from fretdrill.hand.plan import Plan, TakenFrom
from fretdrill.hand.planner import Planner
from fretdrill.hand.states import Pin, states_of
from fretdrill.neck.neck import Neck
from fretdrill.neck.tuning import Tuning
from fretdrill.practice.library import find_line, line_files
from fretdrill.practice.session import judge
from fretdrill.theory.key import Key
from fretdrill.theory.line import Line
from tests.hand.enumeration import Case, parts, ways
from tests.hand.lines import abc_line
from tests.hand.validator import can_join, faults, fret_mm
from tests.strategies import hands, lines, small_necks

SHIFT = ShiftKind()
BASS = Player(Neck(), Hand())
SMALL = Player(Neck(Tuning.parse("5-string")), Hand.parse("small", "1-2-4"))
SHIPPED = sorted(line_files(None))
REACH = 4
AS_GOOD = 0.5  # a cost that is not worth a word (an assumption of the hand's reasons)


@cache
def shipped(name: str) -> Piece:
    return Piece(name, find_line(name, None).line)


def stage_of(piece: Piece, reach: int = REACH) -> ShiftStage:
    return ShiftStage(Lines((piece,)), reach)


def questions(player: Player, reach: int = REACH) -> list[Question]:
    """Return every question about the lines that ship."""
    stages = [stage_of(shipped(name), reach) for name in SHIPPED]
    return [SHIFT.ask(player, s, focus) for s in stages for focus in SHIFT.foci(player, s)]


ASKED = [*questions(BASS), *questions(SMALL)]


def task_of(asked: Question) -> ChooseShift:
    assert isinstance(asked.task, ChooseShift)
    return asked.task


def right_of(asked: Question) -> int:
    assert isinstance(asked.right, AfterNote)
    return asked.right.number


def positions(task: ChooseShift, number: int) -> list[int]:
    """Return where the hand stands at each note if it moves after the n-th."""
    count = len(task.piece.line.notes)
    return [task.from_position] * number + [task.to_position] * (count - number)


def pins_of(task: ChooseShift, number: int) -> dict[int, Pin]:
    return {i: Pin(position=at) for i, at in enumerate(positions(task, number))}


def anew(task: ChooseShift, player: Player, number: int) -> float:
    """Plan the phrase from scratch; inf where it cannot be played so."""
    planner = Planner(CostModel(player.neck, player.hand))
    try:
        return planner.solve(task.piece.line, pins_of(task, number)).cost
    except NoFingering:
        return math.inf


def unreached(task: ChooseShift, player: Player, number: int) -> list[int]:
    """Return the notes, from 0, that nothing takes with the hand standing there."""
    return [
        index
        for index, (note, at) in enumerate(
            zip(task.piece.line.notes, positions(task, number), strict=True)
        )
        if not any(s.anchor == at for s in states_of(player.neck, player.hand, note.pitch.midi))
    ]


def needs_s(player: Player, start: int, end: int) -> float:
    """Return what a shift takes: half the new fret space is aimed at (Fitts; MacKenzie 1992)."""
    far = abs(fret_mm(player.neck.scale_mm, start) - fret_mm(player.neck.scale_mm, end))
    space = fret_mm(player.neck.scale_mm, end) - fret_mm(player.neck.scale_mm, end - 1)
    return 0.05 + player.hand.pace * math.log2(2 * far / space + 1)


def answered(asked: Question, number: int | None) -> Verdict:
    given_ = None if number is None else AfterNote(number)
    return judge(asked, Answer(given_, 0.1), 60.0)


# Every moment


def check_moments(task: ChooseShift, player: Player) -> None:
    moments = moments_of(task, player)
    costs = [anew(task, player, number) for number in range(1, len(task.piece.line.notes))]
    assert len(moments) == len(costs)
    least = min(costs)
    for number, (moment, cost) in enumerate(zip(moments, costs, strict=True), start=1):
        beyond = unreached(task, player, number)
        assert (moment.plan is None) == math.isinf(cost) == bool(beyond)
        if moment.plan is None:
            assert math.isinf(moment.regret)
            assert moment.unreached in beyond
            continue
        assert parts(moment.regret) == parts(cost - least)
        plan = moment.plan
        assert [state.anchor for state in plan.states] == positions(task, number)
        pins = pins_of(task, number)
        assert faults(plan.solution, plan.path, task.piece.line, pins) == []


@pytest.mark.parametrize("number", range(len(ASKED)))
def test_every_moment_costs_what_planning_anew_says(number: int) -> None:
    check_moments(task_of(ASKED[number]), ASKED[number].player)


@settings(max_examples=40, deadline=None)
@given(st.data())
def test_moments_of_any_phrase(data: st.DataObject) -> None:
    """Positions that the line would never have, too."""
    neck, hand = data.draw(small_necks()), data.draw(hands())
    line = data.draw(lines(neck, 2, 5))
    start, end = data.draw(
        st.lists(st.integers(1, neck.frets), min_size=2, max_size=2, unique=True)
    )
    task = ChooseShift(Piece("test", line), start, end)
    player = Player(neck, hand)
    if all(math.isinf(anew(task, player, n)) for n in range(1, len(line.notes))):
        assert all(moment.plan is None for moment in moments_of(task, player))
    else:
        check_moments(task, player)


@settings(max_examples=25, deadline=None)
@given(st.data())
def test_moments_against_counting(data: st.DataObject) -> None:
    neck, hand = data.draw(small_necks()), data.draw(hands())
    line = data.draw(lines(neck, 2, 4))
    start = data.draw(st.integers(1, neck.frets - 3))
    task = ChooseShift(Piece("test", line), start, start + 2)
    for number, moment in enumerate(moments_of(task, Player(neck, hand)), start=1):
        case = Case(CostModel(neck, hand), line, pins_of(task, number))
        totals = [way.total for way in ways(case)]
        assert (moment.plan is None) == (not totals)
        if moment.plan is not None:
            assert parts(moment.plan.cost) == min(totals)


# Questions


@pytest.mark.parametrize("player", [BASS, SMALL], ids=["4-string", "5-string small 1-2-4"])
@pytest.mark.parametrize("reach", [2, 3, 4, 8])
@pytest.mark.parametrize("name", SHIPPED)
def test_a_phrase_has_one_shift_of_its_line(name: str, reach: int, player: Player) -> None:
    piece, stage = shipped(name), stage_of(shipped(name), reach)
    foci = SHIFT.foci(player, stage)
    assert len(set(foci)) == len(foci)
    plan = plan_of(piece, player)
    anchors = [state.anchor for state in plan.states]
    for focus in foci:
        asked = SHIFT.ask(player, stage, focus)
        assert asked.focus == focus
        task = task_of(asked)
        assert asked.form is AnswerForm.MOMENT
        notes = task.piece.line.notes
        assert LEAST_NOTES <= len(notes) <= 2 * reach
        first = plan.line.notes.index(notes[0])
        assert plan.line.notes[first : first + len(notes)] == notes
        there = anchors[first : first + len(notes)]
        assert (there[0], there[-1]) == (task.from_position, task.to_position)
        moved = [i for i in range(1, len(there)) if there[i] != there[i - 1]]
        assert len(moved) == 1
        assert max(moved[0], len(there) - moved[0]) <= reach
        assert abs(task.to_position - task.from_position) >= LEAST_FRETS


@pytest.mark.parametrize("name", SHIPPED)
def test_every_shift_that_is_far_enough_is_asked_about(name: str) -> None:
    """Those with a note more on either side in the same hand, so that there are moments."""
    anchors = [state.anchor for state in plan_of(shipped(name), BASS).states]
    moves = [
        (one, two)
        for before, one, two, after in zip(
            anchors, anchors[1:], anchors[2:], anchors[3:], strict=False
        )
        if before == one and two == after and abs(two - one) >= LEAST_FRETS
    ]
    stage = stage_of(shipped(name))
    tasks = [task_of(SHIFT.ask(BASS, stage, focus)) for focus in SHIFT.foci(BASS, stage)]
    asked = [(task.from_position, task.to_position) for task in tasks]
    for move in set(moves):
        assert asked.count(move) >= moves.count(move)


@pytest.mark.parametrize("number", range(len(ASKED)))
def test_the_right_moment_is_a_cheapest_one(number: int) -> None:
    asked = ASKED[number]
    task, right = task_of(asked), right_of(asked)
    costs = [anew(task, asked.player, n) for n in range(1, len(task.piece.line.notes))]
    assert parts(costs[right - 1]) == parts(min(costs))
    verdict = answered(asked, right)
    assert (verdict.points, verdict.grade) == (100, Grade.EASIEST)
    told = [reason for reason in verdict.reasons if isinstance(reason, ShiftAfter)]
    assert [reason.index for reason in told] == [right - 1]


def test_giving_up_shows_the_moment() -> None:
    for asked in ASKED:
        verdict = answered(asked, None)
        assert verdict.points == 0
        told = [reason for reason in verdict.reasons if isinstance(reason, ShiftAfter)]
        assert [reason.index for reason in told] == [right_of(asked) - 1]


# Verdicts


def all_verdicts() -> list[tuple[Question, int, Moment, Verdict]]:
    return [
        (asked, number, moment, answered(asked, number))
        for asked in ASKED
        for number, moment in enumerate(moments_of(task_of(asked), asked.player), start=1)
    ]


def test_points_fall_with_the_regret() -> None:
    seen = set()
    for _, _, moment, verdict in all_verdicts():
        seen.add(verdict.grade)
        if moment.plan is None:
            assert (verdict.points, verdict.grade) == (0, Grade.NO_FINGER)
            assert verdict.regret is None
        elif moment.regret < AS_GOOD:
            assert (verdict.points, verdict.grade) == (100, Grade.EASIEST)
        else:
            assert verdict.points == round(100 * math.exp(-moment.regret / 3))
            assert verdict.regret == moment.regret
            assert verdict.grade in (Grade.WORKS, Grade.NO_FINGER)
    assert {Grade.EASIEST, Grade.NO_FINGER, Grade.WORKS} <= seen


def test_a_moment_that_is_too_late_has_no_finger_left() -> None:
    """Too late: the shift needs longer than from note to note."""
    for asked, number, moment, verdict in all_verdicts():
        if moment.plan is None or moment.regret < AS_GOOD:
            continue
        task = task_of(asked)
        note, after = task.piece.line.notes[number - 1 : number + 1]
        there = task.piece.line.seconds_between(note.onset, after.onset)
        late = needs_s(asked.player, task.from_position, task.to_position) > there
        assert (verdict.grade is Grade.NO_FINGER) == late


def test_a_note_that_is_out_of_reach_is_named() -> None:
    seen = 0
    for asked, number, moment, verdict in all_verdicts():
        if moment.plan is not None:
            continue
        seen += 1
        reason = verdict.reasons[0]
        assert isinstance(reason, NoShiftThere)
        assert reason.index == number - 1
        assert reason.unreached in unreached(task_of(asked), asked.player, number)
        assert reason.position == positions(task_of(asked), number)[reason.unreached]
    assert seen > 5


def test_the_players_moment_is_told_before_the_easiest() -> None:
    for asked, number, moment, verdict in all_verdicts():
        if moment.plan is None or moment.regret < AS_GOOD:
            continue
        told = [reason for reason in verdict.reasons if isinstance(reason, ShiftAfter)]
        assert [(reason.index, reason.given) for reason in told] == [
            (number - 1, True),
            (right_of(asked) - 1, False),
        ]
        for reason in verdict.reasons:
            if isinstance(reason, Dearer):
                costs = [cost for _, cost in reason.terms]
                assert all(cost >= 0.1 for cost in costs)
                assert costs == sorted(costs, reverse=True)


def shortened_by_hand(plan: Plan, line: Line, index: int, player: Player) -> float:
    """Return by how much a note sounds shorter: what a rest or the open string does not give."""
    one, two = plan.states[index : index + 2]
    note, after = line.notes[index : index + 2]
    model = plan.solution.problem.model
    same_finger = note.join is not None and one.finger and one.finger == two.finger
    if same_finger and can_join(model, one, two) and one.fret != two.fret:
        return 0.0  # a slide sounds
    if one.finger == 0:
        return 0.0
    rest = line.seconds_between(note.end, after.onset)
    sounding = line.seconds_between(note.onset, note.end)
    return min(sounding, max(0.0, needs_s(player, one.anchor, two.anchor) - rest))


def test_what_a_note_loses_is_what_the_move_needs_beyond_the_rest() -> None:
    sources = set()
    for asked, number, moment, _ in all_verdicts():
        if moment.plan is None:
            continue
        line, player = task_of(asked).piece.line, asked.player
        shift = moment.plan.shift_after(number - 1)
        assert shift is not None
        sources.add(shift.taken_from)
        needs = needs_s(player, shift.from_position, shift.to_position)
        assert shift.needs_s == pytest.approx(needs)
        wanted = shortened_by_hand(moment.plan, line, number - 1, player)
        assert shift.shortened_s == pytest.approx(wanted)
        note = line.notes[number - 1]
        sounding = line.seconds_between(note.onset, note.end)
        assert shift.share == pytest.approx(wanted / sounding)
    assert {TakenFrom.NOTE_LENGTH, TakenFrom.OPEN_STRING} <= sources


def test_a_rest_gives_the_time() -> None:
    """G, A, B around fret 3, a rest of two beats, C, D, E around fret 10."""
    line = abc_line("G,,, A,,, B,,, z2 C, D, E,", bpm=120)
    task = ChooseShift(Piece("rest", line), 2, 9)
    moment = moments_of(task, BASS)[2]
    assert moment.plan is not None
    shift = moment.plan.shift_after(2)
    assert shift is not None
    assert (shift.taken_from, shift.shortened_s) == (TakenFrom.REST, 0.0)
    assert min(m.regret for m in moments_of(task, BASS)) == moment.regret


@pytest.mark.parametrize("number", [0, -1, 99])
def test_a_moment_outside_the_phrase_is_no_answer(number: int) -> None:
    with pytest.raises(TypeError):
        SHIFT.judge(ASKED[0], AfterNote(number))


# Lines with nothing to ask


def test_a_line_in_one_position_leaves_nothing_to_ask() -> None:
    """The shipped line that says so in its own title."""
    with pytest.raises(NothingToAsk):
        SHIFT.check(BASS, stage_of(shipped("closed-fifth")))


@pytest.mark.parametrize("count", [0, 1, 2])
def test_too_few_notes_leave_nothing_to_ask(count: int) -> None:
    line = abc_line("C,, c")
    piece = Piece("short", replace(line, notes=line.notes[:count]))
    with pytest.raises(NothingToAsk):
        SHIFT.check(BASS, stage_of(piece))


def test_notes_off_the_neck_leave_nothing_to_ask() -> None:
    with pytest.raises(NothingToAsk):
        SHIFT.check(BASS, stage_of(Piece("high", abc_line("c'''' d'''' e'''' f'''' g''''"))))


# Made lines


def made_stage(figures: tuple[str, ...], *keys: str, reach: int = 3) -> ShiftStage:
    return ShiftStage(Lines((), figures, tuple(map(Key.parse, keys))), reach)


@pytest.mark.parametrize("tuning", ["4-string", "6-string"])
def test_questions_about_made_lines(tuning: str) -> None:
    rng = random.Random(3)
    player = Player(Neck(Tuning.parse(tuning)), Hand())
    for figure in FIGURES:
        stage = made_stage((figure,), "G major", "D minor")
        try:
            SHIFT.check(player, stage)
        except NothingToAsk:
            continue
        foci = SHIFT.foci(player, stage)
        assert len(set(foci)) == len(foci)
        for focus in rng.sample(foci, 3):
            asked = SHIFT.ask(player, stage, focus)
            assert asked.focus == focus
            assert answered(asked, right_of(asked)).points == 100


@pytest.mark.parametrize(
    ("figure", "size", "name"),
    [("arpeggio", "medium", "arpeggio in Bb major 6"), ("octave", "180 mm", "octave in F major 5")],
)
def test_what_passed_the_check_can_be_asked_whatever_comes_first(
    figure: str, size: str, name: str
) -> None:
    """On a guitar few of these lines move the hand: many lie between one and the next."""
    player = Player(Neck(Tuning.parse("guitar")), Hand.parse(size))
    stage = ShiftStage(Lines((), (figure,)), 3)
    SHIFT.check(player, stage)
    assert f"{name}:1" in SHIFT.foci(player, stage)
    asked = SHIFT.ask(player, stage, f"{name}:1")
    assert answered(asked, right_of(asked)).points == 100


SCRIPT = """
from fretdrill.engine.kinds.shift import ShiftKind, ShiftStage
from fretdrill.engine.lines import Lines
from fretdrill.engine.piece import Piece
from fretdrill.engine.player import Player
from fretdrill.hand.hand import Hand
from fretdrill.neck.neck import Neck
from fretdrill.practice.library import find_line
from fretdrill.theory.key import Key

player, shift = Player(Neck(), Hand()), ShiftKind()
pieces = tuple(Piece(n, find_line(n, None).line) for n in ("long-note-shift", "walk-up"))
stage = ShiftStage(Lines(pieces, ("octave",), (Key.parse("D minor"),)), 3)
for focus in shift.foci(player, stage):
    asked = shift.ask(player, stage, focus)
    task = asked.task
    print(focus, task.piece, task.from_position, task.to_position, asked.right, asked.item_keys)
"""


def test_the_same_focus_is_the_same_question_in_every_process() -> None:
    said = [
        subprocess.run(
            [sys.executable, "-c", SCRIPT],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
            text=True,
        ).stdout
        for seed in ("1", "4242")
    ]
    assert said[0] == said[1]
    assert "octave in D minor" in said[0]
    assert "long-note-shift:1 " in said[0]
