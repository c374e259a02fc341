"""What a kind of drill has to offer.

To add one: write a module in ``fretdrill/engine/kinds/`` with a small class that
fits :class:`Kind`, add its line to :mod:`fretdrill.engine.registry`, and word its
task and any new reasons in :mod:`fretdrill.presentation.words`.
"""

from typing import Protocol

from fretdrill.engine.noteset import NoteSet
from fretdrill.engine.player import Player
from fretdrill.engine.question import Given, Judgement, Question
from fretdrill.engine.reasons import Reason
from fretdrill.neck.scope import Scope


class Kind(Protocol):
    """A kind of drill; it has no state."""

    @property
    def name(self) -> str:
        """One word, as typed on the command line and written in packs."""

    @property
    def about(self) -> str:
        """What the player is asked to do, as the end of a sentence."""

    def foci(self, player: Player, scope: Scope, notes: NoteSet) -> tuple[str, ...]:
        """Return everything that can be asked about, in a teacher's order."""

    def ask(self, player: Player, scope: Scope, notes: NoteSet, focus: str) -> Question:
        """Make the question about one focus; the focus decides all of it."""

    def subject(self, focus: str) -> str:
        """Return what of a focus is not asked about twice in a row."""

    def judge(self, question: Question, given: Given) -> Judgement:
        """Say how right what was given is."""

    def explain(self, question: Question) -> tuple[Reason, ...]:
        """Return what leads to the answer, for who gave up."""
