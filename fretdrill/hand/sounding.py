"""How long a note of a plan sounds: what its marks and the hand's moves leave of it.

Source of the shares: see :mod:`fretdrill.hand.gap`. A note without a mark is counted whole:
what a player leaves between plain notes is a matter of style, not of the fingering.
"""

from fretdrill.hand.plan import Plan
from fretdrill.theory.line import Articulation

STACCATO_SHARE = 0.5  # of the written length (MIDI exam convention)


def sounding_share(plan: Plan, index: int) -> float:
    """Return which share of its written length a note, counted from 0, sounds: 0 to 1.

    A move of the hand after it takes its time from the end of the note, which staccato
    may have ended before.
    """
    marks = plan.line.notes[index].articulations
    share = STACCATO_SHARE if Articulation.STACCATO in marks else 1.0
    shift = plan.shift_after(index)
    return share if shift is None else min(share, 1.0 - shift.share)
