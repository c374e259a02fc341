"""Sets the app up as the command line does, but with a clock that tests move."""

import re
import sqlite3
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager, closing
from dataclasses import dataclass

from textual.pilot import Pilot
from textual.widgets import Static

from fretdrill.engine.drill import Drill
from fretdrill.engine.question import AnswerForm, Question
from fretdrill.neck.neck import Place
from fretdrill.practice.home import Home
from fretdrill.practice.program import Program
from fretdrill.practice.session import State
from fretdrill.practice.settings import Settings, load_settings
from fretdrill.practice.start import Practice
from fretdrill.tui.app import FretdrillApp
from fretdrill.tui.notices import Notices
from fretdrill.tui.screens.drill import DrillScreen
from fretdrill.tui.widgets.neck import NeckWidget
from tests.conftest import FakeClock
from tests.engine.cases import stage as part

QWERTY = ("1234567890", "qwertyuiop", "asdfghjkl;", "zxcvbnm,./")
SEED = 7
CALM_S = 2.0  # well past any gap that a held key would have


def program(
    kind: str, scope: str = "position 5", notes: str = "naturals", count: int = 3
) -> Program:
    """Return a session of one kind."""
    drill = Drill(kind, (part(scope, notes),), "listed", count)
    return Program(kind.capitalize(), (drill,))


@dataclass
class Stage:
    """An app that is running, and what moves it."""

    app: FretdrillApp
    pilot: Pilot[None]
    clock: FakeClock
    notices: Notices

    async def press(self, *keys: str, gap_s: float = CALM_S) -> None:
        """Press keys one after another, each after a gap."""
        for key in keys:
            self.clock.advance(gap_s)
            await self.pilot.press(key)

    @property
    def drill(self) -> DrillScreen:
        assert isinstance(self.app.screen, DrillScreen), self.app.screen
        return self.app.screen

    @property
    def question(self) -> Question:
        question = self.drill.session.question
        assert question is not None
        return question

    @property
    def state(self) -> State:
        return self.drill.session.state

    def text(self, selector: str) -> str:
        """Return what a Static of the open screen says."""
        return str(self.app.screen.query_one(selector, Static).content)

    @property
    def neck(self) -> NeckWidget:
        return self.app.screen.query_one("#neck", NeckWidget)

    @property
    def marked(self) -> set[Place]:
        """Places that carry a mark in the drawing."""
        return set(self.neck.view.marks)

    def offset(self, place: Place) -> tuple[int, int]:
        """Return where a place is drawn within the neck, by its wires."""
        drawing = self.neck.drawing
        layout = drawing.layout
        index = place.fret - layout.first_fret
        left = layout.wires[index - 1] + 1 if index else 6
        column = 3 if place.fret == 0 else (left + layout.wires[index]) // 2
        if layout.mirrored:
            column = layout.width - 1 - column
        return column, drawing.string_rows[place.string]

    async def answer_rightly(self) -> None:
        """Answer by keys: rows for places, letters for notes, digits for fingers."""
        right = self.question.right
        if self.question.form is AnswerForm.FINGER:
            await self.press(str(right))
            return
        if isinstance(right, frozenset):
            frets = self.question.scope.frets(self.question.player.neck)
            assert len(frets) <= 10
            await self.press(
                *(key_name(QWERTY[place.string - 1][frets.index(place.fret)]) for place in right)
            )
        else:
            await self.press(*map(key_name, str(right).lower()))
        await self.press("enter")


def key_name(sign: str) -> str:
    """Return what Textual calls the key that types a sign."""
    names = {
        "#": "number_sign",
        ";": "semicolon",
        ",": "comma",
        ".": "full_stop",
        "/": "slash",
        "?": "question_mark",
    }
    return names.get(sign, sign)


@asynccontextmanager
async def on_stage(
    home: Home,
    clock: FakeClock,
    *,
    size: tuple[int, int] = (80, 24),
    settings: Settings | None = None,
    program: Program | None = None,
) -> AsyncIterator[Stage]:
    """Run the app as ``fretdrill.cli`` does."""
    notices = Notices()
    settings = settings or load_settings(home.settings)
    with Practice(home, settings, notices.tell, clock) as practice:
        app = FretdrillApp(practice, notices, program, SEED)
        async with app.run_test(size=size, notifications=True) as pilot:
            await pilot.pause()
            yield Stage(app, pilot, clock, notices)


def attempts_in(home: Home) -> int:
    """Count the attempts in the journal's file."""
    with closing(sqlite3.connect(home.journal)) as journal:
        return int(journal.execute("SELECT COUNT(*) FROM attempt").fetchone()[0])


def squeezed(text: str) -> str:
    """Return a text with every run of blanks made one."""
    return re.sub(r"\s+", " ", text)
