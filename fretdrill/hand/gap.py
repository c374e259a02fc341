"""What lies between two notes of a line: how long, and how much of it the hand may use.

Shares of a note that must sound follow the lengths of MIDI-exam practice: staccato half,
normal four fifths, tenuto and slur all of it.
"""

from typing import NamedTuple

from fretdrill.hand.shifts import LEAST_AVAILABLE_S
from fretdrill.theory.line import Articulation, Join, Line, Note

FAST_S = 0.15  # one finger taps 5 to 7 times a second (Fujii et al. 2009)
PLAIN_SHARE = 0.5  # of a note must sound: as short as staccato (MIDI exam convention)
NORMAL_SHARE = 0.8  # where it is meant to be heard out
HELD_SHARE = 1.0  # tenuto or slur


class Timing(NamedTuple):
    """Seconds to move in: from a stopped note, on a guide finger, from an open string."""

    stopped_s: float
    guided_s: float
    open_s: float


class Gap(NamedTuple):
    """What lies between two notes.

    Attributes:
        ioi_s: seconds from onset to onset.
        rest_s: seconds of it that are rest.
        join: how the first leads into the second.
        held: whether the first is to sound to its end.
        staccato: whether either is staccato.
    """

    ioi_s: float
    rest_s: float
    join: Join | None = None
    held: bool = False
    staccato: bool = False

    @property
    def sounding_s(self) -> float:
        """Seconds of the first note's written length."""
        return self.ioi_s - self.rest_s

    @property
    def fast(self) -> bool:
        """Whether one finger could hardly play both notes."""
        return self.ioi_s < FAST_S

    def available_s(self, share: float) -> float:
        """Return the seconds to move in, if a share of the first note must sound."""
        return max(LEAST_AVAILABLE_S, self.rest_s + (1.0 - share) * self.sounding_s)

    @property
    def timing(self) -> "Timing":
        """The seconds to move in.

        Inside a slur only a slide moves the hand while it sounds; a slur that breaks is
        a note that is heard out.
        """
        share = HELD_SHARE if self.held else PLAIN_SHARE
        return Timing(
            self.available_s(share if self.join is None else NORMAL_SHARE),
            self.available_s(share),
            max(LEAST_AVAILABLE_S, self.ioi_s),
        )


def gap_between(line: Line, note: Note, after: Note) -> Gap:
    """Return what lies between two notes of a line."""
    marks = note.articulations | after.articulations
    return Gap(
        line.seconds_between(note.onset, after.onset),
        0.0 if note.end == after.onset else line.seconds_between(note.end, after.onset),
        note.join,
        Articulation.TENUTO in note.articulations,
        Articulation.STACCATO in marks,
    )
