"""A long practice through the real app: nothing piles up and nothing gives way."""

import gc
import tracemalloc

import pytest

from fretdrill.engine.drill import Drill
from fretdrill.engine.noteset import NoteSet
from fretdrill.engine.part import Part as Stage
from fretdrill.neck.scope import Scope
from fretdrill.practice.home import Home
from fretdrill.practice.program import Program
from fretdrill.practice.session import State
from fretdrill.tui.screens.result import ResultScreen
from tests.conftest import FakeClock
from tests.tui.stage import on_stage

QUESTIONS = 400
WARM_UP = 100
MOST_BYTES_A_QUESTION = 8_000  # a verdict is kept for the Result screen; little else may be


def long_program() -> Program:
    scopes = tuple(map(Scope.parse, ("position 5", "frets 4-9")))
    drills = [
        Drill(
            kind,
            tuple(Stage(scope, NoteSet.parse("chromatic")) for scope in scopes),
            count=QUESTIONS // 4,
        )
        for kind in ("find", "name", "finger", "find")
    ]
    return Program("Long", tuple(drills))


@pytest.mark.slow
async def test_hundreds_of_questions_leave_the_app_as_it_was(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock, program=long_program()) as stage:
        session = stage.drill.session
        widgets = len(stage.app.screen.query("*"))
        tracemalloc.start()
        held_before = 0
        for number in range(1, QUESTIONS + 1):
            assert stage.state is State.ASKING
            if number % 3:
                await stage.answer_rightly()
            elif number % 2:
                await stage.press("f2")
            else:
                for keys in (("z", "1"), ("enter",), ("f2",)):  # often wrong, or no answer at all
                    if stage.state is State.ASKING:
                        await stage.press(*keys)
            assert len(session.verdicts) == number
            if number == WARM_UP:
                gc.collect()
                held_before = tracemalloc.get_traced_memory()[0]
            if number == QUESTIONS:
                gc.collect()
                held = tracemalloc.get_traced_memory()[0] - held_before
                tracemalloc.stop()
                assert held < MOST_BYTES_A_QUESTION * (QUESTIONS - WARM_UP)
                assert len(stage.app.screen.query("*")) <= widgets + 2
            await stage.press("space")
        assert isinstance(stage.app.screen, ResultScreen)
