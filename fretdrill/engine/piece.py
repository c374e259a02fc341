"""A line to be asked about, and its plan for a player.

Idea: a plan takes some milliseconds; the last ones are kept, so that a question about
a line that was planned before costs next to nothing. Notes that the neck does not have
are left out: the rest of the line can still be practised.
"""

from dataclasses import dataclass
from functools import lru_cache

from fretdrill.engine.player import Player
from fretdrill.hand.advice import playable
from fretdrill.hand.cost import CostModel
from fretdrill.hand.hand import Hand
from fretdrill.hand.plan import Plan
from fretdrill.hand.planner import Planner
from fretdrill.neck.neck import Neck
from fretdrill.theory.line import Line

PLANS_KEPT = 64
MODELS_KEPT = 4


@dataclass(frozen=True)
class Piece:
    """A line and the name that it goes by.

    Attributes:
        name: as it is found again, such as a file's name without its ending.
        line: the line.
    """

    name: str
    line: Line

    def __hash__(self) -> int:
        return hash(self.name)  # a line's own hash would go through all its notes

    def __str__(self) -> str:
        return self.name


def plan_of(piece: Piece, player: Player) -> Plan:
    """Return the easiest way to play a piece, without the notes off the neck."""
    return _plan(piece, player.neck, player.hand)


@lru_cache(maxsize=MODELS_KEPT)
def model_of(neck: Neck, hand: Hand) -> CostModel:
    """Return the costs for a neck and a hand; one model, since it learns as it is used."""
    return CostModel(neck, hand)


@lru_cache(maxsize=PLANS_KEPT)
def _plan(piece: Piece, neck: Neck, hand: Hand) -> Plan:
    line = playable(piece.line, neck).line
    solution = Planner(model_of(neck, hand)).solve(line)
    return Plan(line, solution, solution.best())
