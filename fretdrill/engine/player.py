"""Who is asked: the neck, the hand, and how they like accidentals."""

from dataclasses import dataclass

from fretdrill.hand.hand import Hand
from fretdrill.neck.neck import Neck


@dataclass(frozen=True)
class Player:
    """What a question needs to know of the player.

    Attributes:
        neck: the instrument's neck.
        hand: the left hand.
        accidentals: one of :data:`fretdrill.theory.pitch.ACCIDENTALS`.
    """

    neck: Neck
    hand: Hand
    accidentals: str = "flats"
