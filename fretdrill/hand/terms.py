"""The terms of the cost of a fingering: small functions in mm, seconds, frets.

Each takes the weights and what it weighs. :mod:`fretdrill.hand.cost` adds them up,
:mod:`fretdrill.hand.in_position` uses them for one finger in one position.
"""

import math

from fretdrill.hand.hand import Hand
from fretdrill.hand.shifts import laplace_move, shift_s
from fretdrill.hand.states import State
from fretdrill.hand.weights import Weights

NUT_POSITIONS = 1  # the half position: the string is stiffest there (Labro c. 1860, second-hand)
CROWDED_MM = 17.0  # two fingers side by side [assumption]
OPEN_POSITIONS = 2  # above these, closed fingerings are the norm (common practice)
MOST_OVER_OPEN = 5  # frets to shift over one open string [assumption]


def place_cost(weights: Weights, position: int) -> float:
    """Weigh where on the neck the hand stands."""
    return weights.place * math.log(1 + position)


def finger_cost(weights: Weights, finger: int) -> float:
    """Weigh a finger, 1 to 4."""
    return (weights.finger_1, weights.finger_2, weights.finger_3, weights.finger_4)[finger - 1]


def stretch_cost(weights: Weights, position: int, units: float) -> float:
    """Weigh units of stretch, see :func:`fretdrill.hand.reach.pair_stretch`."""
    near_nut = weights.stretch_near_nut if position <= NUT_POSITIONS else 0.0
    return (weights.stretch + near_nut) * units


def reach_cost(weights: Weights, position: int, units: float, past_mm: float) -> float:
    """Weigh a reach from finger 1: a stretch, or a pivot where that is the lesser evil.

    Args:
        weights: what it weighs.
        position: where the hand stands.
        units: of stretch, infinite past the practical span.
        past_mm: how far past the practical span it goes.
    """
    if past_mm > 0:
        return weights.pivot + weights.pivot_far * past_mm
    return min(stretch_cost(weights, position, units), weights.pivot)


def bend_cost(weights: Weights, finger: int, offset: int) -> float:
    """Weigh a finger that lies so many frets from the anchor in no usual frame."""
    return weights.bent * max(1, abs(offset - (finger - 1)))


def crowding_cost(weights: Weights, finger: int, fret_space_mm: float) -> float:
    """Weigh that a finger has others beside it in a narrow fret space."""
    return weights.crowded if finger > 1 and fret_space_mm < CROWDED_MM else 0.0


def open_high_cost(weights: Weights, position: int) -> float:
    """Weigh an open string with the hand further up, where it covers no shift."""
    return weights.open_high * max(0, position - OPEN_POSITIONS)


def open_leap_cost(weights: Weights, frets: int) -> float:
    """Weigh a shift over one open string that is too long for it."""
    return weights.open_leap if abs(frets) > MOST_OVER_OPEN else 0.0


def string_cost(weights: Weights, strings: int) -> float:
    """Weigh strings crossed."""
    return weights.string * abs(strings)


def move_cost(
    weights: Weights, hand: Hand, frets: int, available_s: float, *, strict: bool = False
) -> float:
    """Weigh a move along the neck; infinite if a strict player has no time for it."""
    if frets == 0:
        return 0.0
    share = shift_s(hand, frets) / available_s
    if share > 1.0 and strict:
        return math.inf
    time = weights.shift_time * share * (weights.no_time if share > 1.0 else 1.0)
    if abs(frets) == 1:
        return weights.creep + (time if share > 1.0 else 0.0)
    return weights.shift + weights.shift_fret * (abs(frets) - 2) + time


def frets_a_second_cost(frets: int, available_s: float) -> float:
    """Weigh a move as Hori & Sagayama do, without the part that every path shares."""
    return laplace_move(frets, available_s) - laplace_move(0, available_s)


def same_hand_cost(
    weights: Weights, one: State, two: State, *, fast: bool, staccato: bool, joined: bool
) -> float:
    """Weigh two stopped notes in one position by their fingers."""
    if one.place == two.place:
        return 0.0 if one.finger == two.finger else weights.swap
    if one.finger == two.finger:
        if joined and one.string == two.string:  # a slide
            return weights.roll
        if one.fret == two.fret and abs(one.string - two.string) == 1:
            return weights.roll + (weights.too_fast if fast or staccato else 0.0)
        return weights.hop + (weights.too_fast if fast else 0.0)
    if one.fret == two.fret:  # the hand slants: the lower finger takes the lower string
        slanted = (one.string - two.string) * (two.finger - one.finger) > 0
        return 0.0 if slanted else weights.slant
    crossed = (two.fret - one.fret) * (two.finger - one.finger) < 0
    return weights.order if crossed else 0.0
