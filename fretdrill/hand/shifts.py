"""What it takes to move the hand along the neck: seconds.

Idea: Fitts' law in Shannon's form (P. Fitts 1954; I. S. MacKenzie, HCI 7, 1992), the
target being half the space of the fret that finger 1 goes to [assumption]. Fret spaces shrink with
the neck, so the time depends on the number of frets alone, not on the place or the scale [derived].
"""

import math

from fretdrill.hand.hand import Hand

START_S = 0.05  # a of a + b·log2(A/W + 1): letting go and pressing again [assumption]
_RATIO = 2.0 ** (1.0 / 12.0)

LEAST_AVAILABLE_S = 0.03  # so that a note held to its end leaves a moment [assumption]


def amplitude_over_width(frets: int) -> float:
    """Return how far a shift goes, in half fret spaces of its target.

    Args:
        frets: positive towards the bridge.
    """
    size = abs(frets)
    grown = _RATIO**size - 1.0 if frets > 0 else 1.0 - _RATIO**-size
    return 2.0 * grown / (_RATIO - 1.0)


def shift_s(hand: Hand, frets: int) -> float:
    """Return the seconds that a shift of some frets needs; 0 for none."""
    if frets == 0:
        return 0.0
    return START_S + hand.pace * math.log2(amplitude_over_width(frets) + 1.0)


def laplace_move(frets: int, seconds: float) -> float:
    """Return the move term of Hori & Sagayama (ISMIR 2016, second-hand), frets a second.

    It is -ln of (1/2d)·exp(-|frets|/d). The part ln(2d) is the same for every path.
    """
    return math.log(2.0 * seconds) + abs(frets) / seconds
