"""What each finger costs for a note with the hand in a position.

Idea: with finger 1 standing on its fret, another finger either lies over the
wanted fret, stretches to it, or has to pull the whole hand along. The costs are the
terms of :mod:`fretdrill.hand.terms`, the move being one that is not hurried.
"""

import math
from dataclasses import dataclass

from fretdrill.hand.hand import Hand
from fretdrill.hand.reach import (
    ONE_PER_FRET_OFFSETS,
    UPRIGHT_OFFSETS,
    finger_offsets,
    stretch,
)
from fretdrill.hand.terms import finger_cost, move_cost, stretch_cost
from fretdrill.hand.weights import WEIGHT_SETS
from fretdrill.neck.neck import Neck

WEIGHTS = WEIGHT_SETS["bass"]
UNHURRIED_S = 0.6  # a quarter at 100 a minute [assumption]
OFF_REST_COST = 0.6  # a finger reaches where another one lies already [assumption]
REACHABLE_OFFSETS = {1: (0, 0), 2: (1, 2), 3: (1, 3), 4: (2, 4)}
"""Finger → least and most frets above finger 1 that it can be laid without the
others getting in its way; the stretch decides whether it gets there."""


@dataclass(frozen=True, slots=True)
class FingerChoice:
    """One finger for one fret, with the hand in a position.

    Attributes:
        finger: 1 to 4.
        rests_on: the fret that the finger lies over at rest, None if it has none.
        moves: frets that the hand would have to move, 0 if it can stay; up is
            positive.
        span_mm: from finger 1 at its fret to this finger at the wanted one.
        comfortable_mm: how far these two part comfortably; 0 for finger 1.
        regret: what the choice costs more than the best one.
    """

    finger: int
    rests_on: int | None
    moves: int
    span_mm: float
    comfortable_mm: float
    regret: float


def finger_choices(neck: Neck, hand: Hand, position: int, fret: int) -> tuple[FingerChoice, ...]:
    """Return what each finger costs on a stopped fret, best first.

    A finger that cannot reach from the position as it stands, or would cross
    another, takes the hand along to where it lies by the finger system. A finger
    that does not get there at all, or would leave finger 1 behind the nut, is none
    of the choices. The finger that lies over the fret at rest is the best one by
    definition of the position; where none does, it is the cheapest that leaves the
    hand where it is.
    Ties go to the lower finger.
    """
    offsets = finger_offsets(neck, hand, position)
    usable = UPRIGHT_OFFSETS if hand.system == "1-2-4" else ONE_PER_FRET_OFFSETS
    resting = next((f for f, offset in offsets.items() if position + offset == fret), None)
    costs = {finger: _cost(neck, hand, position, fret, finger) for finger in usable}
    costs = {
        finger: (cost, moves)
        for finger, (cost, moves) in costs.items()
        if finger == resting or (math.isfinite(cost) and position + moves >= 1)
    }
    best = resting or min(costs, key=lambda f: (costs[f][1] != 0, costs[f][0], f))
    regrets = {f: max(OFF_REST_COST, cost - costs[best][0]) for f, (cost, _) in costs.items()}
    regrets[best] = 0.0
    choices = [
        FingerChoice(
            finger,
            position + offsets[finger] if finger in offsets else None,
            moves,
            neck.span_mm(position, fret),
            0.0 if finger == 1 else hand.span(1, finger).comfortable,
            regrets[finger],
        )
        for finger, (_, moves) in costs.items()
    ]
    return tuple(sorted(choices, key=lambda choice: (choice.regret, choice.finger)))


def _cost(neck: Neck, hand: Hand, position: int, fret: int, finger: int) -> tuple[float, int]:
    """Return the cost of a finger on a fret and the frets that the hand moves."""
    least, most = REACHABLE_OFFSETS[finger]
    strain = math.inf
    if least <= fret - position <= most:
        strain = stretch(hand, finger, neck.span_mm(position, fret))
    weak = finger_cost(WEIGHTS, finger)
    if math.isfinite(strain):
        return stretch_cost(WEIGHTS, position, strain) + weak, 0
    moves = _position_for(neck, hand, position, fret, finger) - position
    if not moves:  # it would have to rest there, and does not get so far
        return math.inf, 0
    return move_cost(WEIGHTS, hand, moves, UNHURRIED_S) + weak, moves


def _position_for(neck: Neck, hand: Hand, position: int, fret: int, finger: int) -> int:
    """Return the position nearest to ``position`` in which a finger rests on a fret.

    Where it rests there in none, finger 1 goes one fret lower for each finger between.
    """
    resting = [
        near
        for near in range(max(1, fret - finger + 1), fret + 1)
        if finger_offsets(neck, hand, near).get(finger) == fret - near
    ]
    return min(resting, key=lambda near: (abs(near - position), near), default=fret - finger + 1)
