"""Reasons of drills about chord tones, reading and slurs, as data."""

from dataclasses import dataclass
from enum import Enum

from fretdrill.neck.neck import Place
from fretdrill.theory.key import Key
from fretdrill.theory.pitch import NoteName, Pitch


@dataclass(frozen=True, slots=True)
class ToneMissed:
    """A tone of the chord that was not marked.

    Attributes:
        place: where it lies.
        degree, name: which tone it is.
        strings, frets: how to get there from the root; toward the highest string and toward
            the bridge are positive.
    """

    place: Place
    degree: str
    name: NoteName
    strings: int
    frets: int


@dataclass(frozen=True, slots=True)
class OtherTone:
    """A marked place that is none of the tones asked for.

    Attributes:
        place: the mark.
        sounds: the note there.
        degree: which degree of the chord that is, None if it is none.
        asked: the degree that lies nearest to it on its string, if one does.
        frets: how far that is, positive toward the bridge.
    """

    place: Place
    sounds: NoteName
    degree: str | None
    asked: str | None
    frets: int


@dataclass(frozen=True, slots=True)
class BeyondHand:
    """A marked place sounds a tone that was asked for, but lies beyond the hand."""

    place: Place
    position: int


@dataclass(frozen=True, slots=True)
class OtherOctave:
    """A marked place sounds a note of the figure in another octave.

    Attributes:
        place: the mark.
        pitch: what the staff shows.
        octaves: how far the mark is from it; up is positive.
    """

    place: Place
    pitch: Pitch
    octaves: int


@dataclass(frozen=True, slots=True)
class SignatureForgotten:
    """A marked place sounds a note of the figure without what alters it.

    Attributes:
        place: the mark.
        sounds: the note there.
        pitch: what the staff shows.
        key: the key whose signature alters it; None if an accidental before the note does.
    """

    place: Place
    sounds: NoteName
    pitch: Pitch
    key: Key | None


@dataclass(frozen=True, slots=True)
class NotOnStaff:
    """A marked place sounds a note that the figure does not have.

    Attributes:
        place: the mark.
        sounds: the pitch there.
        nearest: the pitch of the figure that is nearest to it.
        steps: how many steps of the staff lie between, negative if the mark is too low.
    """

    place: Place
    sounds: Pitch
    nearest: Pitch
    steps: int


@dataclass(frozen=True, slots=True)
class NoteMissed:
    """A note of the figure that was not marked.

    Attributes:
        pitch: what the staff shows.
        places: where it lies in the scope.
    """

    pitch: Pitch
    places: tuple[Place, ...]


class Bound(Enum):
    """What decides how two notes can be joined."""

    UP = "the higher note is struck by a higher finger"
    UP_FROM_OPEN = "a finger strikes the string that rings open"
    DOWN = "the lower finger is down already"
    DOWN_TO_OPEN = "the finger pulls off the string"
    TOO_FAR = "no two fingers part so far"
    NO_PAIR = "no two fingers lie there in this position"
    STRINGS = "a slur needs one string"
    NO_FINGER = "nothing slides to or from an open string"


@dataclass(frozen=True, slots=True)
class Joined:
    """How two notes can be joined, and what makes it so.

    Attributes:
        place, after: the two notes.
        bound: what decides.
        fingers: the fingers of a slur, 0 for an open string; None if it is none.
        span_mm: how far the two frets lie apart.
        limit_mm: how far the fingers that come nearest part at the most.
    """

    place: Place
    after: Place
    bound: Bound
    fingers: tuple[int, int] | None
    span_mm: float
    limit_mm: float


class Bar(Enum):
    """What speaks against a way of joining."""

    UP_ONLY = "a hammer-on goes up"
    DOWN_ONLY = "a pull-off goes down"
    NO_FINGER = "a slide needs a finger on both notes"
    NOT_NEEDED = "the left hand alone can bring out the second note"


@dataclass(frozen=True, slots=True)
class NotJoinedSo:
    """Two notes are not joined as was given.

    Attributes:
        place, after: the two notes.
        bar: what speaks against it.
    """

    place: Place
    after: Place
    bar: Bar


@dataclass(frozen=True, slots=True)
class SlideMoves:
    """A slide would do it too, but takes the hand along.

    Attributes:
        position: where the hand stands.
        frets: how far the slide takes it.
        span_mm: the same in mm.
    """

    position: int
    frets: int
    span_mm: float


ToneReason = (
    ToneMissed
    | OtherTone
    | BeyondHand
    | OtherOctave
    | SignatureForgotten
    | NotOnStaff
    | NoteMissed
    | Joined
    | NotJoinedSo
    | SlideMoves
)
