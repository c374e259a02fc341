"""Coming notes of a line: verdicts against counting and planning anew, and what they say.

``test_ahead_regret`` holds regrets on the lines that ship; here are short lines of every sort on
necks of every sort, and the numbers in the reasons.
"""

import math
import os
import random
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from itertools import islice, pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from fretdrill.engine.figures import FIGURES
from fretdrill.engine.kinds.ahead import MADE_ASKED, TOLERANCE, Ahead, AheadStage
from fretdrill.engine.line_reasons import (
    AsGood,
    Dearer,
    NoWayToTake,
    Planned,
    PlayedOn,
    TakesHandAlong,
)
from fretdrill.engine.lines import Lines
from fretdrill.engine.piece import Piece, model_of, plan_of
from fretdrill.engine.player import Player
from fretdrill.engine.question import (
    Answer,
    AnswerForm,
    FingerAhead,
    Fingering,
    Grade,
    Judgement,
    Question,
    Shown,
    Verdict,
)
from fretdrill.engine.reasons import GaveUp, Slow
from fretdrill.errors import NothingToAsk
from fretdrill.hand import reasons as why
from fretdrill.hand.cost import CostModel
from fretdrill.hand.gap import gap_between
from fretdrill.hand.hand import Hand
from fretdrill.hand.plan import Plan
from fretdrill.hand.planner import Planner
from fretdrill.hand.states import Choice, Pin, State
from fretdrill.neck.neck import Neck, Place
from fretdrill.neck.tuning import Tuning
from fretdrill.practice.library import find_line, line_files
from fretdrill.practice.session import judge
from fretdrill.theory.key import Key
from tests.hand.enumeration import Case, parts, ways
from tests.hand.lines import abc_line
from tests.hand.validator import faults as faults_of
from tests.hand.validator import fret_mm, mm_between
from tests.strategies import hands, lines, pieces, small_necks

AHEAD = Ahead()
BASS = Player(Neck(), Hand())
SHIPPED = sorted(line_files(None))
TUNINGS = ("4-string", "5-string", "6-string", "drop-d", "bead", "guitar")
IN_TIME = 60.0
# Published with the model: letting go and pressing again, then so much a bit; the target is
# half the fret space that finger 1 goes to (Fitts's law in Shannon's form, MacKenzie 1992).
LET_GO_S = 0.05
FRET_MM = 25.0  # from so much further on, a longer way counts as a shift more
SEMITONE_MM = 13.75  # 6.5-in octave (Boyle, Boyle & Booker 2015)
COMFORTABLE = {(1, 2): 3, (1, 3): 5, (1, 4): 8}  # semitones (Parncutt et al. 1997, table 1)
UP_TO_FIRST = 2  # open strings are no trouble up to this position


@cache
def shipped(name: str) -> Piece:
    return Piece(name, find_line(name, None).line)


def stage_of(piece: Piece, count: int = 1, shown: Shown = Shown.NAMES) -> AheadStage:
    return AheadStage(Lines((piece,)), count, shown)


def question(
    piece: Piece, player: Player, index: int, count: int, shown: Shown = Shown.NAMES
) -> Question:
    return AHEAD.ask(player, stage_of(piece, count, shown), f"{piece}:{index + 1}")


def asked_of(asked: Question) -> tuple[FingerAhead, Plan]:
    assert isinstance(asked.task, FingerAhead)
    return asked.task, plan_of(asked.task.piece, asked.player)


def answered(asked: Question, *choices: Choice, seconds: float = 0.1) -> Verdict:
    return judge(asked, Answer(Fingering(choices), seconds), IN_TIME)


def played_in(judgement: Judgement | Verdict) -> PlayedOn:
    (played,) = (reason for reason in judgement.reasons if isinstance(reason, PlayedOn))
    return played


def needs_s(player: Player, start: int, end: int) -> float:
    """Return what a shift takes, from the frets' places in mm."""
    if start == end:
        return 0.0
    scale = player.neck.scale_mm
    far = abs(fret_mm(scale, start) - fret_mm(scale, end))
    target = (fret_mm(scale, end) - fret_mm(scale, end - 1)) / 2
    return LET_GO_S + player.hand.pace * math.log2(far / target + 1)


def settled(states: tuple[State, ...]) -> dict[int, Pin]:
    return {i: Pin(s.finger, s.string, s.fret, s.anchor) for i, s in enumerate(states)}


def pinned(first: int, choices: tuple[Choice, ...]) -> dict[int, Pin]:
    return {i: Pin(c.finger, c.string, c.fret) for i, c in enumerate(choices, start=first)}


@st.composite
def situations(draw: st.DrawFn, max_notes: int = 8) -> tuple[Question, tuple[Choice, ...]]:
    """A question about any line, hand and neck, and what somebody might give."""
    neck = draw(small_necks() | st.builds(Neck, st.sampled_from(TUNINGS).map(Tuning.parse)))
    player = Player(neck, draw(hands()))
    piece = draw(pieces(neck, 2, max_notes))
    count = draw(st.integers(1, min(3, len(piece.line.notes) - 1)))
    index = draw(st.integers(0, len(piece.line.notes) - 1 - count))
    asked = question(piece, player, index, count)
    task, plan = asked_of(asked)
    layers = plan.solution.problem.layers
    choices = tuple(draw(st.sampled_from(layers[at].choices)) for at in task.asked)
    return asked, choices


# Regret


@settings(max_examples=60, deadline=None)
@given(situations())
def test_the_regret_is_that_of_planning_anew(drawn: tuple[Question, tuple[Choice, ...]]) -> None:
    asked, choices = drawn
    task, plan = asked_of(asked)
    player, line = asked.player, task.piece.line
    stood = settled(plan.states[: task.index + 1])
    planner = Planner(CostModel(player.neck, player.hand))
    assert isinstance(asked.right, Fingering)
    own, given_ = (
        planner.solve(line, stood | pinned(task.index + 1, some)).cost
        for some in (asked.right.choices, choices)
    )
    judged = AHEAD.judge(asked, Fingering(choices))
    assert judged.regret is not None
    assert parts(judged.regret) == parts(given_ - own)


@settings(max_examples=40, deadline=None)
@given(st.data())
def test_the_regret_is_that_of_counting_all_ways(data: st.DataObject) -> None:
    """All notes after the asked ones are free, but few enough to try everything."""
    neck, hand = data.draw(small_necks()), data.draw(hands())
    count = data.draw(st.integers(1, 3))
    total = data.draw(st.integers(count + 1, 5))
    piece = Piece("test", data.draw(lines(neck, total, total)))
    index = data.draw(st.integers(max(0, total - count - 3), total - count - 1))
    asked = question(piece, Player(neck, hand), index, count)
    task, plan = asked_of(asked)
    drawn = tuple(
        data.draw(st.sampled_from(plan.solution.problem.layers[at].choices)) for at in task.asked
    )
    stood = settled(plan.states[: index + 1])
    assert isinstance(asked.right, Fingering)
    counted = []
    for choices in (asked.right.choices, drawn):
        case = Case(CostModel(neck, hand), piece.line, stood | pinned(index + 1, choices))
        if math.prod(map(len, case.layers)) > 20_000:
            assume(False)
        counted.append(min(way.total for way in ways(case)))
    judged = AHEAD.judge(asked, Fingering(drawn))
    assert judged.regret is not None
    assert parts(judged.regret) == counted[1] - counted[0]


@settings(max_examples=40, deadline=None)
@given(situations())
def test_both_ways_can_be_played_and_differ_by_the_regret(
    drawn: tuple[Question, tuple[Choice, ...]],
) -> None:
    asked, choices = drawn
    task, plan = asked_of(asked)
    judged = AHEAD.judge(asked, Fingering(choices))
    played = played_in(judged)
    line, pins = task.piece.line, settled(plan.states[: task.index + 1])
    assert faults_of(plan.solution, played.best.path, line, pins) == []
    given_pins = pins | pinned(task.index + 1, choices)
    assert faults_of(plan.solution, played.yours.path, line, given_pins) == []
    assert judged.regret is not None
    assert parts(played.yours.cost - played.best.cost) == parts(judged.regret)
    assert played.first == task.index
    assert task.asked[-1] <= played.last < len(line.notes)
    first, last = played.first, played.last
    assert played.yours.states[: first + 1] == played.best.states[: first + 1]
    if last + 1 < len(line.notes):
        assert played.yours.states[last:] == played.best.states[last:]


# Points and grades


def shifts_of(plan: Plan, first: int, last: int) -> list[tuple[float, bool]]:
    """Return how far the hand goes from a note to another, and where it comes late."""
    model, line = plan.solution.problem.model, plan.line
    player = Player(model.neck, model.hand)
    found = []
    for index in range(first, last):
        start, end = plan.states[index].anchor, plan.states[index + 1].anchor
        if start != end:
            note, after = line.notes[index : index + 2]
            there = line.seconds_between(note.onset, after.onset)
            late = needs_s(player, start, end) > there
            found.append((mm_between(model, start, end), late))
    return found


def grade_of(judged: Judgement) -> Grade:
    assert judged.regret is not None
    if judged.regret < TOLERANCE:
        return Grade.EASIEST
    played = played_in(judged)
    best = shifts_of(played.best, played.first, played.last)
    yours = shifts_of(played.yours, played.first, played.last)
    if sum(late for _, late in yours) > sum(late for _, late in best):
        return Grade.NO_FINGER
    further = sum(mm for mm, _ in yours) - sum(mm for mm, _ in best)
    if len(yours) > len(best) or further >= FRET_MM:
        return Grade.SHIFT
    return Grade.WORKS


@settings(max_examples=60, deadline=None)
@given(situations())
def test_the_grade_says_what_the_way_on_takes(drawn: tuple[Question, tuple[Choice, ...]]) -> None:
    asked, choices = drawn
    judged = AHEAD.judge(asked, Fingering(choices))
    assert judged.grade is grade_of(judged)


@pytest.mark.parametrize("name", SHIPPED)
def test_points_fall_with_the_regret(name: str) -> None:
    asked = AHEAD.ask(BASS, stage_of(shipped(name)), AHEAD.foci(BASS, stage_of(shipped(name)))[0])
    task, plan = asked_of(asked)
    layer = plan.solution.problem.layers[task.index + 1]
    verdicts = [answered(asked, choice) for choice in layer.choices]
    verdicts.sort(key=lambda verdict: verdict.regret or 0.0)
    points = [verdict.points for verdict in verdicts]
    assert points == sorted(points, reverse=True)
    for verdict in verdicts:
        assert verdict.regret is not None
        if verdict.regret < TOLERANCE:
            assert verdict.points == 100
        else:  # an e-th for every three units (an assumption of the scoring)
            assert verdict.points == round(100 * math.exp(-verdict.regret / 3))
    assert verdicts[0].points == 100
    assert len({verdict.grade for verdict in verdicts}) > 1


def test_too_late_costs_points_but_the_grade_stays() -> None:
    asked = question(shipped("walk-up"), BASS, 0, 1)
    assert isinstance(asked.right, Fingering)
    verdict = judge(asked, Answer(asked.right, 2 * IN_TIME), IN_TIME)
    assert (verdict.points, verdict.grade, verdict.right) == (75, Grade.EASIEST, True)
    assert any(isinstance(reason, Slow) for reason in verdict.reasons)


def strangers(layers_choices: tuple[Choice, ...], neck: Neck) -> list[Choice]:
    """Return choices that nobody can take a note by."""
    choices = []
    for choice in layers_choices[:6]:
        wrong_finger = choice._replace(finger=0 if choice.finger else 1)
        choices += [wrong_finger, choice._replace(fret=(choice.fret + 1) % neck.frets)]
    return [choice for choice in choices if choice not in layers_choices]


@pytest.mark.parametrize("name", SHIPPED)
@pytest.mark.parametrize("count", [1, 2, 3])
def test_what_cannot_be_taken_leaves_no_finger(name: str, count: int) -> None:
    piece = shipped(name)
    for focus in AHEAD.foci(BASS, stage_of(piece, count))[:4]:
        asked = AHEAD.ask(BASS, stage_of(piece, count), focus)
        task, plan = asked_of(asked)
        assert isinstance(asked.right, Fingering)
        for number, index in enumerate(task.asked):
            for stranger in strangers(plan.solution.problem.layers[index].choices, BASS.neck):
                choices = list(asked.right.choices)
                choices[number] = stranger
                verdict = answered(asked, *choices)
                assert (verdict.points, verdict.grade) == (0, Grade.NO_FINGER)
                assert verdict.reasons[0] == NoWayToTake(plan, index, *stranger)
                assert verdict.regret is None


def test_the_first_impossible_choice_is_told() -> None:
    asked = question(shipped("walk-up"), BASS, 0, 3)
    task, _ = asked_of(asked)
    assert isinstance(asked.right, Fingering)
    right = asked.right.choices
    verdict = answered(asked, right[0], Choice(1, 1, 0), Choice(1, 1, 0))
    reason = verdict.reasons[0]
    assert isinstance(reason, NoWayToTake)
    assert reason.index == task.index + 2


# Reasons: their numbers


def reasons_on_lines(per_focus: int = 6) -> Iterator[tuple[Question, Fingering, Judgement]]:
    """Judge chance answers to questions about the lines that ship."""
    rng = random.Random(11)
    for tuning, hand in (("4-string", Hand()), ("5-string", Hand.parse("small", "1-2-4"))):
        player = Player(Neck(Tuning.parse(tuning)), hand)
        for name, count in ((name, count) for name in SHIPPED for count in (1, 3)):
            stage = stage_of(shipped(name), count)
            for focus in AHEAD.foci(player, stage)[::3]:
                asked = AHEAD.ask(player, stage, focus)
                task, plan = asked_of(asked)
                layers = plan.solution.problem.layers
                for _ in range(per_focus):
                    choices = [rng.choice(layers[index].choices) for index in task.asked]
                    given_ = Fingering(tuple(choices))
                    yield asked, given_, AHEAD.judge(asked, given_)


@pytest.fixture(scope="module")
def judged() -> list[tuple[Question, Fingering, Judgement]]:
    return list(reasons_on_lines())


def test_a_dear_answer_has_one_reason_and_the_way_on(
    judged: list[tuple[Question, Fingering, Judgement]],
) -> None:
    seen = set()
    for _, _, judgement in judged:
        *reasons, played = judgement.reasons
        assert isinstance(played, PlayedOn)
        assert judgement.regret is not None
        if judgement.regret >= TOLERANCE:
            assert len(reasons) == 1
            assert isinstance(reasons[0], Planned | TakesHandAlong | Dearer)
        else:
            assert all(isinstance(reason, Planned | AsGood) for reason in reasons)
        seen |= {type(reason) for reason in reasons}
    assert {Planned, TakesHandAlong, Dearer} <= seen


def test_what_takes_the_hand_along_says_how_far(
    judged: list[tuple[Question, Fingering, Judgement]],
) -> None:
    seen = 0
    for asked, given_, judgement in judged:
        for reason in judgement.reasons:
            if not isinstance(reason, TakesHandAlong):
                continue
            seen += 1
            task, _ = asked_of(asked)
            one, two = reason.yours.states[reason.index - 1 : reason.index + 1]
            stays, there = reason.best.states[reason.index - 1 : reason.index + 1]
            assert one.anchor != two.anchor
            assert stays.anchor == there.anchor
            assert two.choice == given_.choices[reason.index - task.index - 1]
            assert there.choice != two.choice
            shift = reason.yours.shift_after(reason.index - 1)
            assert shift is not None
            scale = asked.player.neck.scale_mm
            mm = abs(scale * (2 ** (-one.anchor / 12) - 2 ** (-two.anchor / 12)))
            assert shift.frets == two.anchor - one.anchor
            assert shift.distance_mm == pytest.approx(mm)
            assert shift.needs_s == pytest.approx(needs_s(asked.player, one.anchor, two.anchor))
            notes = task.piece.line.notes
            between = task.piece.line.seconds_between(
                notes[reason.index - 1].onset, notes[reason.index].onset
            )
            assert shift.late == (shift.needs_s > between)
    assert seen > 20


def total_of(plan: Plan, first: int, choices: tuple[Choice, ...]) -> float:
    """Plan anew with choices from a note on, all before it as in the plan."""
    model = plan.solution.problem.model
    pins = settled(plan.states[:first]) | pinned(first, choices)
    return Planner(model).solve(plan.line, pins).cost


def test_what_a_plan_gains_is_counted_anew(
    judged: list[tuple[Question, Fingering, Judgement]],
) -> None:
    """The first choice that made the line dearer is told, and by how much it did."""
    seen: dict[type, int] = {}
    for asked, given_, judgement in judged:
        if judgement.regret is None or judgement.regret < TOLERANCE:
            continue
        task, plan = asked_of(asked)
        for reason in judgement.reasons:
            if not isinstance(reason, Planned):
                continue
            told = reason.reason
            seen[type(told)] = seen.get(type(told), 0) + 1
            count = told.index - task.index
            assert isinstance(told, why.FreesFinger | why.AvoidsShift | why.AvoidsOpen
                              | why.WithinReach | why.SavesSlur)  # fmt: skip
            assert told.instead == given_.choices[count - 1]
            costs = [
                total_of(plan, task.index + 1, given_.choices[:n]) - plan.cost
                for n in range(1, count + 1)
            ]
            assert all(cost < TOLERANCE for cost in costs[:-1])
            assert parts(told.regret) == parts(costs[-1])
            assert reason.plan.states[told.index].choice == told.chosen
            if isinstance(told, why.AvoidsOpen):
                assert told.instead.finger == 0
                assert told.position == reason.plan.states[told.index].anchor > UP_TO_FIRST
            else:
                check_payment(asked.player, reason.plan, told)
    assert len(seen) >= 3


def check_payment(
    player: Player,
    plan: Plan,
    told: why.FreesFinger | why.AvoidsShift | why.WithinReach | why.SavesSlur,
) -> None:
    """Hold mm and seconds against geometry, on the way that the other choice goes on."""
    before = plan.states[told.index - 1]
    steps = plan.solution.onward(told.index, (told.instead,), before)
    states = [step.state for step in islice(steps, told.at - told.index + 1)]
    one, two = states[-2:]
    scale = player.neck.scale_mm
    if isinstance(told, why.WithinReach):
        span = abs(scale * (2 ** (-two.fret / 12) - 2 ** (-two.anchor / 12)))
        comfortable = COMFORTABLE[1, two.finger] * SEMITONE_MM * player.hand.scale
        assert told.span_mm == pytest.approx(span)
        assert told.comfortable_mm == pytest.approx(comfortable)
        assert span > comfortable
    if isinstance(told, why.FreesFinger):
        assert told.finger == plan.states[told.at].finger
        assert told.chosen[:2] == told.instead[:2]
    move = getattr(told, "move", None)
    if move is not None:
        mm = abs(scale * (2 ** (-one.anchor / 12) - 2 ** (-two.anchor / 12)))
        assert move.frets == two.anchor - one.anchor != 0
        assert move.mm == pytest.approx(mm)
        assert move.needs_s == pytest.approx(needs_s(player, one.anchor, two.anchor))
        notes = plan.line.notes
        gap = gap_between(plan.line, notes[told.at - 1], notes[told.at])
        assert 0 < move.available_s <= max(gap.ioi_s, 0.03) + 1e-9


def test_what_is_dearer_adds_up(judged: list[tuple[Question, Fingering, Judgement]]) -> None:
    """The terms that cost more, and those that are left out, are together the regret."""
    seen = 0
    for _, _, judgement in judged:
        for reason in judgement.reasons:
            if not isinstance(reason, Dearer):
                continue
            seen += 1
            played = played_in(judgement)
            more: dict[str, float] = {}
            for plan, sign in ((played.yours, 1), (played.best, -1)):
                for name, cost in terms_of(plan).items():
                    more[name] = more.get(name, 0.0) + sign * cost
            assert sum(more.values()) == pytest.approx(judgement.regret, abs=1e-6)
            told = dict(reason.terms)
            assert told == {
                name: pytest.approx(cost, abs=1e-6) for name, cost in more.items() if cost >= 0.1
            }
            assert list(told.values()) == sorted(told.values(), reverse=True)
    assert seen


def terms_of(plan: Plan) -> dict[str, float]:
    """Return what a whole line costs, term by term, asking the model alone."""
    model, states = plan.solution.problem.model, plan.states
    tables = [model.node_terms(state) for state in states] + [model.end_terms(states[-1])]
    for (one, two), (note, after) in zip(pairwise(states), pairwise(plan.line.notes), strict=True):
        tables.append(model.step_terms(one, two, gap_between(plan.line, note, after)))
    total: dict[str, float] = {}
    for name, cost in (item for table in tables for item in table.items()):
        total[name] = total.get(name, 0.0) + cost / 10_000
    return total


# What is asked


@pytest.mark.parametrize("shown", Shown)
@pytest.mark.parametrize("name", SHIPPED)
def test_a_question_has_its_answer(name: str, shown: Shown) -> None:
    for count in (1, 2, 3):
        stage = stage_of(shipped(name), count, shown)
        foci = AHEAD.foci(BASS, stage)
        assert foci
        assert len(set(foci)) == len(foci)
        for focus in foci:
            asked = AHEAD.ask(BASS, stage, focus)
            task, plan = asked_of(asked)
            assert (asked.focus, task.count, task.shown) == (focus, count, shown)
            places = AnswerForm.FINGERS if shown is Shown.PLACES else AnswerForm.FINGERING
            assert asked.form is places
            assert isinstance(asked.right, Fingering)
            assert len(asked.right.choices) == count == asked.units == len(asked.item_keys)
            for index, choice in zip(task.asked, asked.right.choices, strict=True):
                assert BASS.neck.midi(Place(*choice[:2])) == plan.line.notes[index].pitch.midi
            verdict = judge(asked, Answer(asked.right, 0.1), IN_TIME)
            assert (verdict.points, verdict.grade) == (100, Grade.EASIEST)


@pytest.mark.parametrize("name", SHIPPED)
def test_giving_up_explains_and_scores_nothing(name: str) -> None:
    stage = stage_of(shipped(name), 2)
    for focus in AHEAD.foci(BASS, stage):
        verdict = judge(AHEAD.ask(BASS, stage, focus), Answer(None, 1.0), IN_TIME)
        assert verdict.points == 0
        assert verdict.reasons[0] == GaveUp()
        played = played_in(verdict)
        assert played.yours is played.best


def test_a_line_with_fewer_notes_is_asked_as_far_as_it_goes() -> None:
    piece = Piece("two", abc_line("C,, E,,"))
    asked = AHEAD.ask(BASS, stage_of(piece, 3), "two:1")
    assert asked.units == 1
    assert AHEAD.foci(BASS, stage_of(piece, 3)) == ("two:1",)


@pytest.mark.parametrize("count", [0, 1])
def test_one_note_or_none_leaves_nothing_to_ask(count: int) -> None:
    line = abc_line("C,, D,,")
    stage = stage_of(Piece("short", replace(line, notes=line.notes[:count])), 1)
    assert AHEAD.foci(BASS, stage) == ()
    with pytest.raises(NothingToAsk):
        AHEAD.check(BASS, stage)


def test_all_notes_off_the_neck_leave_nothing_to_ask() -> None:
    stage = stage_of(Piece("high", abc_line("c'''' d'''' e''''")), 1)
    with pytest.raises(NothingToAsk):
        AHEAD.check(BASS, stage)


def test_notes_off_the_neck_are_left_out_of_what_is_asked() -> None:
    """E1 is the lowest note of four strings (ISO 16 and common practice): D1 is off them."""
    piece = Piece("gap", abc_line("C,, D,,,, E,, G,, A,, B,,"))
    for focus in AHEAD.foci(BASS, stage_of(piece, 2)):
        task, plan = asked_of(AHEAD.ask(BASS, stage_of(piece, 2), focus))
        assert len(plan.line.notes) == 5
        assert all(plan.line.notes[at].pitch.midi >= 28 for at in task.asked)


# Made lines


MADE = AheadStage(Lines((), FIGURES, (Key.parse("Eb major"), Key.parse("E minor"))), 2, Shown.NAMES)


def test_made_lines_are_asked_about_by_their_names() -> None:
    foci = AHEAD.foci(BASS, MADE)
    assert len(set(foci)) == len(foci) == MADE_ASKED * len(MADE.lines.made)
    for focus in foci[:: len(foci) // 25]:
        name = focus.rsplit(":", 1)[0]
        asked = AHEAD.ask(BASS, MADE, focus)
        task, _ = asked_of(asked)
        assert task.piece.name == name
        assert MADE.lines.named(name, BASS) == task.piece
        assert judge(asked, Answer(asked.right, 0.1), IN_TIME).points == 100


@pytest.mark.parametrize("figure", FIGURES)
def test_the_questions_about_one_made_line_differ_as_far_as_it_has_any(figure: str) -> None:
    stage = AheadStage(Lines((), (figure,), (Key.parse("G major"),)), 1, Shown.PLACES)
    for name in stage.lines.made[:6]:
        written = stage_of(stage.lines.named(name, BASS), 1, Shown.PLACES)
        stood = [int(focus.rsplit(":", 1)[1]) - 1 for focus in AHEAD.foci(BASS, written)]
        tasks = [
            asked_of(AHEAD.ask(BASS, stage, f"{name}:{n}"))[0].index
            for n in range(1, MADE_ASKED + 1)
        ]
        assert tasks[: len(stood)] == stood[:MADE_ASKED]


def test_written_and_made_lines_take_turns() -> None:
    stage = AheadStage(
        Lines((shipped("low-f"),), ("arpeggio",), (Key.parse("F major"),)), 1, Shown.NAMES
    )
    foci = AHEAD.foci(BASS, stage)
    written = [focus for focus in foci if focus.startswith("low-f:")]
    assert 0 < len(foci) - len(written) <= len(written)
    for focus in foci:
        task, _ = asked_of(AHEAD.ask(BASS, stage, focus))
        assert (task.piece.name == "low-f") == (focus in written)


# The same again


SCRIPT = """
from fretdrill.engine.kinds.ahead import Ahead, AheadStage
from fretdrill.engine.lines import Lines
from fretdrill.engine.piece import Piece
from fretdrill.engine.player import Player
from fretdrill.engine.question import Shown
from fretdrill.hand.hand import Hand
from fretdrill.neck.neck import Neck, Place
from fretdrill.practice.library import find_line
from fretdrill.theory.key import Key

player, ahead = Player(Neck(), Hand()), Ahead()
lines = Lines((Piece("walk-up", find_line("walk-up", None).line),), ("octave",),
              (Key.parse("D minor"),))
stage = AheadStage(lines, 2, Shown.STAFF)
for focus in ahead.foci(player, stage)[::4]:
    asked = ahead.ask(player, stage, focus)
    print(focus, asked.task.piece, asked.task.index, asked.right, asked.item_keys, asked.least_s)
    print(asked.task.piece.line.title, asked.task.piece.line.tempos)
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
    assert said[0].count("octave in D minor") > 3
    assert said[0].count("walk-up") > 3


def test_the_plan_that_is_kept_belongs_to_the_neck_and_the_hand() -> None:
    """One name, two necks, two hands: nothing of one is answered with another's."""
    piece = shipped("walk-up")
    players = [
        Player(Neck(Tuning.parse(tuning)), Hand.parse("medium", system))
        for tuning in ("4-string", "5-string")
        for system in ("reach", "1-2-4")
    ]
    for player in (*players, *reversed(players)):
        plan = plan_of(piece, player)
        anew = Planner(CostModel(player.neck, player.hand)).solve(piece.line)
        assert plan.states == anew.best().states
        assert plan.solution.problem.model is model_of(player.neck, player.hand)


def test_two_lines_of_one_name_are_two() -> None:
    one, two = (Piece("same", abc_line(music)) for music in ("C,, D,, E,,", "G,, A,, B,,"))
    assert plan_of(one, BASS).line != plan_of(two, BASS).line
    assert plan_of(one, BASS).line == one.line
