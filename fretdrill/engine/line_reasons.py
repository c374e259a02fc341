"""Reasons that come from the plan of a line, as data."""

from dataclasses import dataclass
from typing import Self

from fretdrill.hand.plan import Plan
from fretdrill.hand.reasons import Reason as PlanReason

LEAST_TERM = 0.1  # of a cost: less is not worth naming [assumption]


@dataclass(frozen=True, slots=True)
class Planned:
    """What a plan gains over the choice that was given.

    Attributes:
        plan: the plan.
        reason: why its choice is easier than the one given.
    """

    plan: Plan
    reason: PlanReason


@dataclass(frozen=True, slots=True)
class NoWayToTake:
    """A note cannot be taken as was given, however the hand stands.

    Attributes:
        plan: the plan.
        index: the note, from 0.
        string, fret, finger: what was given.
    """

    plan: Plan
    index: int
    string: int
    fret: int
    finger: int


@dataclass(frozen=True, slots=True)
class AsGood:
    """Another choice than the plan's, and about as easy by the end.

    Attributes:
        plan: the plan.
        index: the first note, from 0, that was taken otherwise.
        regret: what it costs more by the end.
    """

    plan: Plan
    index: int
    regret: float


@dataclass(frozen=True, slots=True)
class TakesHandAlong:
    """The choice that was given moves the hand to a note that lies under it.

    Attributes:
        best, yours: the two ways.
        index: the note, from 0.
    """

    best: Plan
    yours: Plan
    index: int


@dataclass(frozen=True, slots=True)
class Dearer:
    """By what the way that was given costs more, where no one note tells it.

    Attributes:
        plan: the plan.
        terms: name of a term of the cost → how much more, the dearest first.
    """

    plan: Plan
    terms: tuple[tuple[str, float], ...]

    @classmethod
    def by(cls, yours: Plan, best: Plan, notes: range) -> Self:
        """Compare two ways to play some notes."""
        more: dict[str, float] = {}
        for index in notes:
            for plan, sign in ((yours, 1), (best, -1)):
                for name, cost in plan.terms(index).items():
                    more[name] = more.get(name, 0.0) + sign * cost
        ranked = sorted(more.items(), key=lambda item: -item[1])
        return cls(best, tuple((name, cost) for name, cost in ranked if cost >= LEAST_TERM))


@dataclass(frozen=True, slots=True)
class PlayedOn:
    """How a line goes on with the easiest hand and with the one that was given.

    Attributes:
        best, yours: the two ways; the same one where the easiest was given.
        first, last: the notes, from 0, from where the hand stood to where both hands are the
            same again.
    """

    best: Plan
    yours: Plan
    first: int
    last: int


@dataclass(frozen=True, slots=True)
class ShiftAfter:
    """What moving the hand after a note takes.

    Attributes:
        plan: the phrase, played so.
        index: the note after which the hand moves, from 0.
        given: whether it is the player's moment, and not the easiest one.
    """

    plan: Plan
    index: int
    given: bool


@dataclass(frozen=True, slots=True)
class NoShiftThere:
    """With the hand moving after a note, another note cannot be reached.

    Attributes:
        plan: the phrase, as it is easiest.
        index: the note after which the hand was to move, from 0.
        unreached: the note that then lies beyond the hand, from 0.
        position: where the hand would stand at it.
    """

    plan: Plan
    index: int
    unreached: int
    position: int


LineReason = (
    Planned | NoWayToTake | AsGood | TakesHandAlong | Dearer | PlayedOn | ShiftAfter | NoShiftThere
)
