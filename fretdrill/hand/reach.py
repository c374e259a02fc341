"""What a finger costs in a position.

Idea: with finger 1 standing on its fret, another finger either lies over the
wanted fret, stretches to it, or has to pull the whole hand along. The cost of a
stretch grows past the relaxed and again past the comfortable span and is
infinite past the practical one; this is the large-span side of the tables of
Parncutt et al. 1997 (see :mod:`fretdrill.hand.hand`) turned into mm.

Costs have no unit; they order choices. Weights are labelled: [derived] from a
source, [assumption] set by sense and held to the trade facts in the tests.
"""

import math
from dataclasses import dataclass

from fretdrill.hand.hand import PIANO_SEMITONE_MM, Hand
from fretdrill.neck.neck import Neck
from fretdrill.neck.position import POSITION_FRETS

STRETCH_WEIGHT = 0.2  # per unit of stretch, for notes one after another [assumption]
NUT_WEIGHT = 0.1  # more per unit of stretch in positions I and II [assumption]
NUT_POSITIONS = 2  # the string is stiffest to press there (Labro c. 1860, second-hand)
CREEP_COST = 2.5  # the hand moves one fret [assumption]
SHIFT_COST = 3.25  # the hand moves two frets or more [assumption]
SHIFT_COST_PER_FRET = 0.25  # so that a nearer move is the better one [assumption]
WEAK_FINGER_COST = {1: 0.0, 2: 0.0, 3: 0.15, 4: 0.30}
"""Finger → cost a note [assumption; order from Aoki, Furuya & Kinoshita 2005]."""

OFF_REST_COST = 0.6  # a finger reaches where another one lies already [assumption]
ONE_PER_FRET_OFFSETS = {1: 0, 2: 1, 3: 2, 4: 3}
UPRIGHT_OFFSETS = {1: 0, 2: 1, 4: 2}
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


def one_per_fret_is_comfortable(neck: Neck, hand: Hand, position: int) -> bool:
    """Whether fingers 1 and 4 lie comfortably three frets apart."""
    span = neck.span_mm(position, position + POSITION_FRETS - 1)
    return span <= hand.span(1, 4).comfortable


def finger_offsets(neck: Neck, hand: Hand, position: int) -> dict[int, int]:
    """Return finger → frets above the position, for the hand's finger system."""
    if hand.system == "one-per-fret":
        return ONE_PER_FRET_OFFSETS
    if hand.system == "reach" and one_per_fret_is_comfortable(neck, hand, position):
        return ONE_PER_FRET_OFFSETS
    return UPRIGHT_OFFSETS


def resting_frets(neck: Neck, hand: Hand, position: int) -> dict[int, int]:
    """Return finger → fret where the fingers rest; beyond the neck left out."""
    offsets = finger_offsets(neck, hand, position)
    return {
        finger: position + offset
        for finger, offset in offsets.items()
        if position + offset <= neck.frets
    }


def pair_stretch(hand: Hand, finger: int, other: int, span_mm: float) -> float:
    """Return how much two fingers stretch to part so far, infinite if they can't.

    One unit is half a piano semitone past the relaxed span, as in the source.
    """
    relaxed, comfortable, practical = hand.span(finger, other)
    if span_mm > practical:
        return math.inf
    past = max(0.0, span_mm - relaxed) + max(0.0, span_mm - comfortable)
    return 2.0 / PIANO_SEMITONE_MM * past


def stretch(hand: Hand, finger: int, span_mm: float) -> float:
    """Return how much a finger stretches from finger 1, infinite if it can't."""
    if finger == 1:
        return 0.0 if span_mm == 0 else math.inf
    return pair_stretch(hand, 1, finger, span_mm)


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
    weak = WEAK_FINGER_COST[finger]
    if math.isfinite(strain):
        near_nut = NUT_WEIGHT if position <= NUT_POSITIONS else 0.0
        return (STRETCH_WEIGHT + near_nut) * strain + weak, 0
    moves = _position_for(neck, hand, position, fret, finger) - position
    if not moves:  # it would have to rest there, and does not get so far
        return math.inf, 0
    move = CREEP_COST if abs(moves) == 1 else SHIFT_COST + SHIFT_COST_PER_FRET * abs(moves)
    return move + weak, moves


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
