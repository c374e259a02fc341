"""Sessions made from a line, from its hard spots, and from lines that leave nothing to ask."""

from dataclasses import replace
from fractions import Fraction
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.engine.kinds.ahead import AheadStage
from fretdrill.engine.lines import Lines
from fretdrill.engine.piece import Piece, plan_of
from fretdrill.engine.player import Player
from fretdrill.engine.question import FingerAhead, Question, Shown
from fretdrill.engine.registry import kind_named
from fretdrill.errors import InputError, NothingToAsk
from fretdrill.hand.advice import playable
from fretdrill.hand.hand import Hand
from fretdrill.neck.neck import Neck
from fretdrill.neck.tuning import Tuning
from fretdrill.practice.library import find_line, line_files
from fretdrill.practice.program import Program
from fretdrill.practice.session import Session, State
from fretdrill.practice.spots import NOTES_BEFORE, QUESTIONS, line_program, spot_program
from fretdrill.theory.line import Line
from tests.conftest import FakeClock
from tests.hand.lines import abc_line
from tests.strategies import lines

BASS = Player(Neck(), Hand())
PLAYERS = {
    "4-string": BASS,
    "5-string": Player(Neck(Tuning.parse("5-string")), Hand.parse("small", "1-2-4")),
    "guitar": Player(Neck(Tuning.parse("guitar"), 22, 647.7), Hand.parse("large")),
}
SHIPPED = sorted(line_files(None))
KINDS = tuple(QUESTIONS)


@cache
def shipped(name: str) -> Line:
    return find_line(name, None).line


def play(program: Program, player: Player, *, rightly: bool) -> list[Question]:
    """Go through a whole session and return what it asked."""
    session = Session(program, player, 4, FakeClock())
    asked = []
    while (question := session.ask()) is not None:
        asked.append(question)
        verdict = session.answer(question.right if rightly else None)
        assert verdict.points == (100 if rightly else 0)
    assert session.state is State.OVER
    return asked


def stages_of(program: Program) -> tuple[AheadStage, ...]:
    (drill,) = program.drills
    assert drill.kind == "ahead"
    assert all(isinstance(stage, AheadStage) for stage in drill.stages)
    return drill.stages


# From all the decisions of a line


@pytest.mark.parametrize("tuning", PLAYERS)
@pytest.mark.parametrize("name", SHIPPED)
def test_every_line_that_ships_makes_a_session(name: str, tuning: str) -> None:
    player, line = PLAYERS[tuning], shipped(name)
    if not playable(line, player.neck).kept:
        return
    program = line_program(name, line, player)
    assert program.title == line.title
    program.check(player)
    kinds = [drill.kind for drill in program.drills]
    assert kinds == [kind for kind in KINDS if kind in kinds]
    assert kinds[0] == "ahead"
    asked = play(program, player, rightly=True)
    assert len(asked) == program.length == sum(QUESTIONS[kind] for kind in kinds)
    for question in asked:
        assert question.kind in kinds
    assert play(program, player, rightly=False)


@pytest.mark.parametrize("name", SHIPPED)
def test_nothing_but_the_line_is_asked_about(name: str) -> None:
    line = shipped(name)
    pitches = {note.pitch.midi for note in line.notes}
    for question in play(line_program(name, line, BASS), BASS, rightly=True):
        if isinstance(question.task, FingerAhead):
            assert question.task.piece == Piece(name, line)
        places = question.item_keys
        assert places
        if question.kind == "slur":
            assert {
                BASS.neck.midi(p) for p in (question.task.place, question.task.after)
            } <= pitches  # type: ignore[union-attr]


def test_a_kind_that_finds_nothing_is_left_out() -> None:
    """One position to the end, says the line: there is no shift to ask about."""
    kinds = [d.kind for d in line_program("closed-fifth", shipped("closed-fifth"), BASS).drills]
    assert "shift" not in kinds
    assert "ahead" in kinds
    kinds = [d.kind for d in line_program("open-shift", shipped("open-shift"), BASS).drills]
    assert "shift" in kinds


def test_a_line_of_open_strings_alone() -> None:
    """E A D G, the strings of a bass (common practice): no finger is asked for a shift or slur."""
    line = abc_line("E,,, A,,, D,, G,, D,, A,,,")
    program = line_program("opens", line, BASS)
    asked = play(program, BASS, rightly=True)
    assert {question.kind for question in asked} <= set(KINDS)


def bad_lines() -> dict[str, Line]:
    line = abc_line("C,, D,, E,, F,,")
    return {
        "no notes": replace(line, notes=()),
        "one note": replace(line, notes=line.notes[:1]),
        "all off the neck": abc_line("c'''' d'''' e'''' f''''"),
        "all but one off the neck": abc_line("C,, d'''' e'''' f''''"),
        "below the neck": abc_line("C,,,, D,,,, C,,,, D,,,,"),
    }


@pytest.mark.parametrize("name", bad_lines())
def test_a_line_that_leaves_nothing_to_ask_is_refused_in_a_line(name: str) -> None:
    with pytest.raises(InputError) as caught:
        line_program("mine.abc", bad_lines()[name], BASS)
    assert "mine.abc" in str(caught.value)
    assert "\n" not in str(caught.value)


def test_what_is_off_the_neck_is_not_asked_about() -> None:
    line = abc_line("C,, D,,,, E,, d'''' G,, A,, B,, C,")
    asked = play(line_program("gaps", line, BASS), BASS, rightly=True)
    assert asked
    for question in asked:
        if isinstance(question.task, FingerAhead):
            plan = plan_of(question.task.piece, BASS)
            assert [str(note.pitch) for note in plan.line.notes] == ["C2", "E2", "G2", "A2", "B2",
                                                                     "C3"]  # fmt: skip


def test_a_line_without_bars_or_key_can_be_asked_about() -> None:
    line = replace(abc_line("C,, D,, E,, F,, G,, A,,"), keys=())
    assert play(line_program("bare", line, BASS), BASS, rightly=True)


@settings(max_examples=15, deadline=None)
@given(st.sampled_from(sorted(PLAYERS)), st.data())
def test_any_line_makes_a_session_or_is_refused(tuning: str, data: st.DataObject) -> None:
    player = PLAYERS[tuning]
    line = data.draw(lines(player.neck, 0, 9))
    try:
        program = line_program("any", line, player)
    except InputError as fault:
        assert len(line.notes) < 2
        assert "any" in str(fault)
        return
    assert len(play(program, player, rightly=True)) == program.length


# From one spot


@pytest.mark.parametrize("tuning", PLAYERS)
@pytest.mark.parametrize("name", SHIPPED)
def test_every_spot_of_every_line_makes_a_session(name: str, tuning: str) -> None:
    player, line = PLAYERS[tuning], shipped(name)
    part = playable(line, player.neck)
    for note in range(0, len(line.notes), 3):
        if len(part.kept) < 2:
            with pytest.raises(NothingToAsk):
                spot_program(name, line, note, player)
            continue
        program = spot_program(name, line, note, player)
        program.check(player)
        assert program.title == f"{line.title}, note {note + 1}"
        assert [stage.count for stage in stages_of(program)] == [1, 2, 3][: len(part.kept) - 1]
        for stage in stages_of(program):
            foci = kind_named("ahead").foci(player, stage)
            assert foci
            for focus in foci:
                task = kind_named("ahead").ask(player, stage, focus).task
                assert isinstance(task, FingerAhead)
                assert task.shown is Shown.PLACES
                near_spot(task, part.kept, note, len(line.notes))


def near_spot(task: FingerAhead, kept: tuple[int, ...], note: int, total: int) -> None:
    """The hand stands at most so many notes before the spot, at its end as near as can be."""
    spot = next((i for i, index in enumerate(kept) if index >= note), len(kept))
    assert task.index <= max(0, spot - 1)
    assert task.index >= min(max(0, spot - NOTES_BEFORE), len(kept) - 1 - task.count)
    assert task.asked[-1] < len(kept)


@pytest.mark.parametrize("name", SHIPPED)
def test_the_spot_itself_is_asked_for(name: str) -> None:
    """Where the choice at the spot matters, some question has it among its notes."""
    line = shipped(name)
    for spot in plan_of(Piece(name, line), BASS).hard_spots:
        if spot.index == 0:
            continue
        seen = set()
        for stage in stages_of(spot_program(name, line, spot.index, BASS)):
            for focus in kind_named("ahead").foci(BASS, stage):
                task = kind_named("ahead").ask(BASS, stage, focus).task
                assert isinstance(task, FingerAhead)
                seen |= set(task.asked)
        assert spot.index in seen


def test_a_session_about_a_spot_is_played_to_its_end() -> None:
    for note in (0, 1, 20, len(shipped("walk-up").notes) - 1):
        program = spot_program("walk-up", shipped("walk-up"), note, BASS)
        assert len(play(program, BASS, rightly=True)) == program.length
        assert len(play(program, BASS, rightly=False)) == program.length


def test_a_spot_off_the_neck_goes_on_to_the_next_note_on_it() -> None:
    line = abc_line("C,, E,, d'''' d'''' G,, A,, B,,")
    program = spot_program("gaps", line, 2, BASS)
    same = spot_program("gaps", line, 4, BASS)
    assert stages_of(program) == stages_of(same)
    assert program.title == "Test, note 3"


@pytest.mark.parametrize("name", bad_lines())
def test_a_spot_of_a_line_with_too_few_notes_is_refused(name: str) -> None:
    line = bad_lines()[name]
    with pytest.raises(NothingToAsk, match=r"mine\.abc"):
        spot_program("mine.abc", line, 0, BASS)


def test_two_notes_are_enough() -> None:
    line = abc_line("C,, E,,")
    for note in (0, 1):
        (stage,) = stages_of(spot_program("two", line, note, BASS))
        assert (stage.count, stage.within) == (1, (0, 0))
        assert play(spot_program("two", line, note, BASS), BASS, rightly=True)


@settings(max_examples=25, deadline=None)
@given(st.data())
def test_any_spot_of_any_line(data: st.DataObject) -> None:
    line = data.draw(lines(BASS.neck, 2, 9))
    note = data.draw(st.integers(0, len(line.notes) - 1))
    program = spot_program("any", line, note, BASS)
    assert len(play(program, BASS, rightly=True)) == program.length


def test_a_spot_and_its_line_are_known_apart_in_the_journal() -> None:
    """What is remembered of one drill is not taken for the other."""
    line = shipped("walk-up")
    lines_of = Lines((Piece("walk-up", line),))
    (spot,) = spot_program("walk-up", line, 20, BASS).drills
    whole = next(d for d in line_program("walk-up", line, BASS).drills if d.kind == "ahead")
    assert spot.key != whole.key
    assert lines_of.written[0].line.length == Fraction(12)
