"""What the hand reaches in a position, in mm.

A stretch grows past the relaxed span and again past the comfortable one and is
infinite past the practical one; this is the large-span side of the tables of
Parncutt et al. 1997 (see :mod:`fretdrill.hand.hand`) turned into mm. One finger per fret is what
the hand does where fingers 1 and 4 reach it comfortably, 1-2-4 elsewhere.
"""

import math

from fretdrill.hand.hand import PIANO_SEMITONE_MM, Hand
from fretdrill.neck.neck import Neck
from fretdrill.neck.position import POSITION_FRETS

ONE_PER_FRET_OFFSETS = {1: 0, 2: 1, 3: 2, 4: 3}
UPRIGHT_OFFSETS = {1: 0, 2: 1, 4: 2}


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
