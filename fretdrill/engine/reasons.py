"""Reasons as data: what was wrong, and what would have led to the answer.

The front ends word them (:mod:`fretdrill.presentation.words`); nothing here is
text. Distances on the neck are in frets and strings, spans in mm, times in s.
"""

from dataclasses import dataclass
from enum import Enum

from fretdrill.engine.line_reasons import LineReason
from fretdrill.engine.tone_reasons import ToneReason
from fretdrill.neck.neck import Neck, Place
from fretdrill.theory.chord import Chord
from fretdrill.theory.key import Key
from fretdrill.theory.pitch import NoteName


class Relation(Enum):
    """How one place leads to another."""

    STEPS = "steps along one string"
    UNISON = "unison"
    OCTAVE = "octave"
    TWO_OCTAVES = "two octaves"


@dataclass(frozen=True, slots=True)
class Landmark:
    """A place from which a note can be found.

    Attributes:
        start: the place one knows, or an open string.
        relation: what lies between the two.
        strings, frets: how to get from ``start`` to the note; toward the
            highest string and toward the bridge are positive.
    """

    start: Place
    relation: Relation
    strings: int
    frets: int


@dataclass(frozen=True, slots=True)
class Missed:
    """A place of the note was not marked."""

    place: Place
    landmark: Landmark


@dataclass(frozen=True, slots=True)
class WrongPlace:
    """A marked place sounds another note.

    Attributes:
        place: the mark.
        sounds: the note there.
        wanted: the note that was asked for.
        nearest: the nearest place of the wanted note on that string, if any.
    """

    place: Place
    sounds: NoteName
    wanted: NoteName
    nearest: Place | None


@dataclass(frozen=True, slots=True)
class OutsideScope:
    """A marked place is the right note in the wrong part of the neck."""

    place: Place


@dataclass(frozen=True, slots=True)
class OtherSpelling:
    """The right fret under another name than the one asked for.

    Attributes:
        given, fitting: the two names.
        context: the key or chord that asks for the fitting one, if there is one.
    """

    given: NoteName
    fitting: NoteName
    context: Key | Chord | None


@dataclass(frozen=True, slots=True)
class NoteThere:
    """The note at a place, and how it can be found.

    Attributes:
        place: the place asked about.
        name: its note.
        landmark: how to get there.
    """

    place: Place
    name: NoteName
    landmark: Landmark


@dataclass(frozen=True, slots=True)
class WrongName:
    """Another note was named.

    Attributes:
        place: the place asked about.
        given: the note that was named.
        given_at: where that lies on the place's string, nearest to it.
    """

    place: Place
    given: NoteName
    given_at: Place | None


@dataclass(frozen=True, slots=True)
class OtherFinger:
    """A finger other than the one that lies there.

    Attributes:
        place: the place asked about.
        position: the hand's position.
        given, best: fingers.
        rests_on: the fret that ``given`` lies over at rest, None if it has none.
        moves: frets that the hand has to move for ``given``; 0 if it stays.
        span_mm, comfortable_mm: the stretch from finger 1 and what is comfortable.
    """

    place: Place
    position: int
    given: int
    best: int
    rests_on: int | None
    moves: int
    span_mm: float
    comfortable_mm: float


class Unfit(Enum):
    """Why a finger cannot take a place."""

    BEHIND_NUT = "it would leave finger 1 behind the nut"
    SYSTEM = "the player's finger system does without it"
    OUT_OF_REACH = "the fret is further from finger 1 than the hand can span"


@dataclass(frozen=True, slots=True)
class UnfitFinger:
    """A finger that cannot take the place at all.

    Attributes:
        place: the place asked about.
        position: the hand's position.
        given, best: fingers.
        why: what is in the way.
        span_mm: from finger 1 to the place.
        limit_mm: how far these two fingers part at the most.
    """

    place: Place
    position: int
    given: int
    best: int
    why: Unfit
    span_mm: float
    limit_mm: float


@dataclass(frozen=True, slots=True)
class OpenNeedsNoFinger:
    """An open string was given a finger, or a stopped note none.

    Attributes:
        best: the finger that takes it, 0 for the open string.
    """

    place: Place
    given: int
    best: int


@dataclass(frozen=True, slots=True)
class GaveUp:
    """The player asked for the answer."""


@dataclass(frozen=True, slots=True)
class Slow:
    """Right, but after the target time."""

    seconds: float
    target_s: float


Reason = (
    Missed
    | WrongPlace
    | OutsideScope
    | OtherSpelling
    | NoteThere
    | WrongName
    | OtherFinger
    | UnfitFinger
    | OpenNeedsNoFinger
    | GaveUp
    | Slow
    | LineReason
    | ToneReason
)


NEAR_FRETS = 5  # a way across strings is easy to see up to here


def landmark(neck: Neck, wanted: Place, known: frozenset[Place]) -> Landmark:
    """Return the shortest way to a place from a known one or an open string.

    Best is a place of the same name; else it is counted along the string, from where
    the next open string sounds if that lies before it.

    Args:
        neck: the neck both lie on.
        wanted: the place to be led to.
        known: places that the player has found.
    """
    relations = {0: Relation.UNISON, 12: Relation.OCTAVE, 24: Relation.TWO_OCTAVES}
    opens = {Place(string, 0) for string in neck.strings}
    ways = []
    for start in (known | opens) - {wanted}:
        relation = relations.get(abs(neck.midi(wanted) - neck.midi(start)))
        strings, frets = start.string - wanted.string, wanted.fret - start.fret
        # An open string needs no finding, however far along the neck the place is.
        out_of_reach = strings != 0 and abs(frets) > NEAR_FRETS and start.fret > 0
        if relation is not None and not out_of_reach:
            rank = (start not in known, abs(frets) + abs(strings), start)
            ways.append((rank, Landmark(start, relation, strings, frets)))
    if ways:
        return min(ways, key=lambda way: way[0])[1]
    start = Place(wanted.string, _fret_to_count_from(neck, wanted))
    return Landmark(start, Relation.STEPS, 0, wanted.fret - start.fret)


def _fret_to_count_from(neck: Neck, wanted: Place) -> int:
    """Return the fret below a place that sounds as the next open string, or 0."""
    if wanted.string > 1:
        fret = neck.midi(Place(wanted.string - 1, 0)) - neck.midi(Place(wanted.string, 0))
        if 0 < fret < wanted.fret:
            return fret
    return 0
