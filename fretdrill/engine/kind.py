"""What a kind of drill has to offer.

A drill goes through stages, from easy to hard; what a stage is, is the kind's own
affair: a part of the neck, lines and how many of their notes are asked for at once.

To add one: write a module in ``fretdrill/engine/kinds/`` with a small class that
fits :class:`Kind`, add its line to :mod:`fretdrill.engine.registry`, and word its
task and any new reasons in :mod:`fretdrill.presentation.words`.
"""

from collections.abc import Callable, Mapping
from typing import Any, Protocol, TypeVar

from fretdrill.engine.player import Player
from fretdrill.engine.question import Given, Judgement, Question
from fretdrill.engine.reasons import Reason
from fretdrill.engine.table import Setting
from fretdrill.errors import UnknownName
from fretdrill.theory.line import Line

FindLine = Callable[[str], Line]
"""Reads a line by name or path; raises InputError where it cannot."""

S = TypeVar("S")


class Kind(Protocol[S]):
    """A kind of drill with stages of type ``S``; it has no state."""

    @property
    def name(self) -> str:
        """One word, as typed on the command line and written in packs."""

    @property
    def about(self) -> str:
        """What the player is asked to do, as the end of a sentence."""

    def settings(self, find_line: FindLine) -> Mapping[str, Setting]:
        """Return the settings of a drill of this kind, beside those that all drills have."""

    def stages(self, values: Mapping[str, Any]) -> tuple[S, ...]:
        """Return the stages that such settings mean, easy to hard; at least one.

        Raises:
            InputError: the settings do not go together.
        """

    def wording(self, stages: tuple[S, ...]) -> str:
        """Return the stages as text, the same for the same ones."""

    def check(self, player: Player, stage: S) -> None:
        """Make sure that there is something to ask.

        Raises:
            InputError: the stage does not fit the neck.
            NothingToAsk: nothing in it can be asked.
        """

    def foci(self, player: Player, stage: S) -> tuple[str, ...]:
        """Return everything that can be asked about, in a teacher's order."""

    def ask(self, player: Player, stage: S, focus: str) -> Question:
        """Make the question about one focus; the focus decides all of it."""

    def subject(self, focus: str) -> str:
        """Return what of a focus is not asked about twice in a row."""

    def judge(self, question: Question, given: Given) -> Judgement:
        """Say how right what was given is."""

    def explain(self, question: Question) -> tuple[Reason, ...]:
        """Return what leads to the answer, for who gave up."""


def no_lines(name: str) -> Line:
    """Know no line at all."""
    raise UnknownName("line", name, ())
