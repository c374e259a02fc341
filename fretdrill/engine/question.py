"""What a drill asks, what the player gives, what comes of it.

All of it is plain immutable data. A question holds what to show and what counts
as an answer, never how it looks; an answer is the same type whether it came from
keys, a mouse, an instrument or a line of text.
"""

from dataclasses import dataclass
from enum import Enum

from fretdrill.engine.piece import Piece
from fretdrill.engine.player import Player
from fretdrill.engine.reasons import Reason
from fretdrill.hand.states import Choice
from fretdrill.neck.neck import Place
from fretdrill.neck.scope import Scope
from fretdrill.theory.chord import Chord
from fretdrill.theory.key import Key
from fretdrill.theory.pitch import NoteName, Pitch, simple_name


class AnswerForm(Enum):
    """What the player gives."""

    PLACES = "places"
    NOTE = "note"
    FINGER = "finger"
    FINGERS = "a finger for each note"
    FINGERING = "a place and a finger for each note"
    MOMENT = "a moment of the phrase"
    JOINING = "how two notes are joined"


class Shown(Enum):
    """How coming notes are shown."""

    PLACES = "places"
    NAMES = "names"
    STAFF = "staff"


class Joining(Enum):
    """How the second of two notes is brought out."""

    HAMMER_ON = "hammer-on"
    PULL_OFF = "pull-off"
    SLIDE = "slide"
    PLUCKED = "plucked only"


Context = Key | Chord
"""What a note belongs to, and is spelled by."""


# Tasks: what is asked. Each has a place that is asked about and a context that spells
# its notes, or None.


@dataclass(frozen=True, slots=True)
class FindNote:
    """Mark every place of a note, which may belong to a key or a chord."""

    name: NoteName
    context: Context | None = None
    place = None


@dataclass(frozen=True, slots=True)
class NamePlace:
    """Name the note at a place, spelled for the key or chord if there is one."""

    place: Place
    context: Context | None = None


@dataclass(frozen=True, slots=True)
class FingerPlace:
    """Give the finger that takes a place from a position."""

    place: Place
    position: int
    context = None


@dataclass(frozen=True, slots=True)
class FindTones:
    """Mark tones of a chord near the hand, its root being shown.

    Attributes:
        context: the chord.
        degrees: which of its degrees, such as ``("3", "b7")``.
        place: where the root is shown.
    """

    context: Chord
    degrees: tuple[str, ...]
    place: Place


@dataclass(frozen=True, slots=True)
class ReadNotes:
    """Mark where notes on the staff lie.

    Attributes:
        pitches: the sounding pitches, spelled, in the order of the figure.
        context: the key of the signature.
    """

    pitches: tuple[Pitch, ...]
    context: Key
    place = None


@dataclass(frozen=True, slots=True)
class JoinNotes:
    """Say how two notes can be joined in a position.

    Attributes:
        place: the first note's place.
        after: the second note's.
        position: where the hand stands.
    """

    place: Place
    after: Place
    position: int
    context = None


@dataclass(frozen=True, slots=True)
class FingerAhead:
    """Take the coming notes of a line, the hand standing as it does.

    Attributes:
        piece: the line.
        index: the note that the hand stands at, from 0.
        count: how many of the next notes are asked for.
        shown: how they are shown.
    """

    piece: Piece
    index: int
    count: int
    shown: Shown
    place = None

    @property
    def context(self) -> Key | None:
        """The key of the line."""
        return self.piece.line.key

    @property
    def asked(self) -> range:
        """The indexes of the notes that are asked for."""
        return range(self.index + 1, self.index + 1 + self.count)


@dataclass(frozen=True, slots=True)
class ChooseShift:
    """Say after which note of a phrase the hand moves.

    Attributes:
        piece: the phrase.
        from_position, to_position: the fret under finger 1 at its beginning and its end.
    """

    piece: Piece
    from_position: int
    to_position: int
    place = None

    @property
    def context(self) -> Key | None:
        """The key of the line."""
        return self.piece.line.key


Task = (
    FindNote
    | NamePlace
    | FingerPlace
    | FindTones
    | ReadNotes
    | JoinNotes
    | FingerAhead
    | ChooseShift
)


# Answers


@dataclass(frozen=True, slots=True)
class Fingering:
    """A place and a finger for each of some notes in a row."""

    choices: tuple[Choice, ...]


@dataclass(frozen=True, slots=True)
class AfterNote:
    """A moment of a phrase: after its n-th note, from 1."""

    number: int


Given = frozenset[Place] | NoteName | int | Fingering | AfterNote | Joining


@dataclass(frozen=True)
class Question:
    """One question.

    Attributes:
        kind: name of the kind of drill.
        player: the neck and the hand it is asked for.
        scope: the part of the neck it is about.
        task: what is asked.
        focus: what the question is about within its drill, as text; the same
            focus is the same question.
        right: a full answer; other answers may score as much.
        item_keys: what is learnt by it, one key an item.
        position: where the hand rests, or None if it is free.
        least_s: the time below which full speed is never asked for, where the task
            has one of its own, in s.
    """

    kind: str
    player: Player
    scope: Scope
    task: Task
    focus: str
    right: Given
    item_keys: tuple[str, ...]
    position: int | None = None
    least_s: float | None = None

    @property
    def form(self) -> AnswerForm:
        """What the player has to give."""
        match self.task:
            case FindNote() | FindTones() | ReadNotes():
                return AnswerForm.PLACES
            case NamePlace():
                return AnswerForm.NOTE
            case FingerPlace():
                return AnswerForm.FINGER
            case FingerAhead(shown=Shown.PLACES):
                return AnswerForm.FINGERS
            case FingerAhead():
                return AnswerForm.FINGERING
            case ChooseShift():
                return AnswerForm.MOMENT
            case JoinNotes():
                return AnswerForm.JOINING

    def name_at(self, place: Place) -> NoteName:
        """Return the note at a place, spelled as this question would."""
        midi = self.player.neck.midi(place)
        name = self.task.name if isinstance(self.task, FindNote) else self.right
        if isinstance(name, NoteName) and name.pitch_class == midi % 12:
            return name
        context = self.task.context
        if isinstance(context, Key):
            return context.spell(midi).name
        if isinstance(context, Chord):
            for tone in context.tones:
                if tone.pitch_class == midi % 12:
                    return tone
        return simple_name(midi, sharps=self.player.accidentals == "sharps")

    @property
    def units(self) -> int:
        """How many things have to be given, to compare times."""
        if isinstance(self.right, Fingering):
            return len(self.right.choices)
        return len(self.right) if isinstance(self.right, frozenset) else 1


@dataclass(frozen=True, slots=True)
class Answer:
    """What the player gave.

    Attributes:
        given: what the question's form asks for, a finger of 0 being an open string; None
            for giving up.
        seconds: time from the question being shown to the answer.
    """

    given: Given | None
    seconds: float


class Grade(Enum):
    """How a fingering fares by the end of the line, the hand being what it is."""

    EASIEST = "as easy as it gets"
    WORKS = "works"
    SHIFT = "costs a shift"
    NO_FINGER = "no finger left"


@dataclass(frozen=True, slots=True)
class Judgement:
    """How right an answer is, before time is counted.

    Attributes:
        accuracy: 0 to 1.
        reasons: what to tell the player, most important first.
        regret: cost beyond the best choice, for finger drills.
        grade: the same in a word.
    """

    accuracy: float
    reasons: tuple[Reason, ...] = ()
    regret: float | None = None
    grade: Grade | None = None


@dataclass(frozen=True, slots=True)
class Verdict:
    """What an answer is worth.

    Attributes:
        question, answer: what was asked and given.
        points: 0 to 100, accuracy × speed.
        accuracy, speed: the two factors, 0 to 1.
        target_s: the time that full speed allows.
        reasons: what to tell the player, most important first.
        regret: cost beyond the best choice, for finger drills.
        grade: the same in a word.
    """

    question: Question
    answer: Answer
    points: int
    accuracy: float
    speed: float
    target_s: float
    reasons: tuple[Reason, ...]
    regret: float | None = None
    grade: Grade | None = None

    @property
    def right(self) -> bool:
        """Whether nothing was missing and nothing wrong."""
        return self.accuracy >= 1.0

    @property
    def in_time(self) -> bool:
        """Whether the answer came within the target."""
        return self.answer.seconds <= self.target_s
