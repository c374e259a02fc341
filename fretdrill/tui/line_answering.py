"""Turning keys into answers about lines: fingers, places and fingers, moments, joins."""

from collections.abc import Mapping

from fretdrill.engine.piece import plan_of
from fretdrill.engine.question import (
    AfterNote,
    ChooseShift,
    FingerAhead,
    Fingering,
    Joining,
    Question,
)
from fretdrill.hand.states import Choice
from fretdrill.neck.neck import Place
from fretdrill.neck.position import POSITION_FRETS
from fretdrill.tui.answering import DOWN, LEFT, RIGHT, UP, AnswerInput

PLACE_KEYS = "abcdefghij"
DIGITS = "0123456789"
FINGER_KEYS = "01234"


class FingersInput(AnswerInput):
    """A finger for each of the coming notes, whose places are given."""

    answers_itself = True

    def __init__(self, question: Question) -> None:
        """Begin with no finger."""
        super().__init__()
        if not isinstance(question.right, Fingering):
            raise TypeError("fingers are asked for one by one where places are given")
        self._places = [Place(*choice[:2]) for choice in question.right.choices]

    @property
    def given(self) -> Fingering | None:
        """The fingering, None before every note has a finger."""
        return Fingering(self.coming) if len(self.coming) == len(self._places) else None

    def press(self, key: str, character: str | None) -> bool:
        """Take a finger for the next note, or the last one back."""
        if key == "backspace":
            self.coming = self.coming[:-1]
        elif character and character in FINGER_KEYS:
            place = self._places[len(self.coming)]
            self.coming = (*self.coming, Choice(*place, int(character)))
            self.complete = self.given is not None
        else:
            return False
        return True


class FingeringInput(AnswerInput):
    """A place and a finger for each of the coming notes.

    Arrows and letters go from one place of the note to another; a finger takes it there.
    """

    answers_itself = True

    def __init__(self, question: Question) -> None:
        """Begin at the place of the first note that is nearest to the hand."""
        super().__init__()
        task = question.task
        if not isinstance(task, FingerAhead):
            raise TypeError("places and fingers are given for coming notes")
        self._neck, plan = question.player.neck, plan_of(task.piece, question.player)
        self._anchor = plan.states[task.index].anchor
        self._midis = [plan.line.notes[index].pitch.midi for index in task.asked]
        self._point()

    def _point(self) -> None:
        """Go to the place of the next note that is nearest to the hand as it stood."""
        if len(self.coming) < len(self._midis):
            self.cursor = min(self._places, key=self._distance)

    def _distance(self, place: Place) -> tuple[int, Place]:
        """Return how many frets a place lies beyond the hand, the string breaking ties."""
        beyond = max(self._anchor - place.fret, place.fret - self._anchor - POSITION_FRETS + 1, 0)
        return beyond, place

    @property
    def _places(self) -> tuple[Place, ...]:
        return self._neck.places_of(self._midis[len(self.coming)])

    @property
    def given(self) -> Fingering | None:
        """The fingering, None before every note has its finger."""
        return Fingering(self.coming) if len(self.coming) == len(self._midis) else None

    @property
    def hints(self) -> Mapping[Place, str]:
        """Place of the next note → the key that goes there."""
        if self.given is not None:
            return {}
        return dict(zip(self._places, PLACE_KEYS, strict=False))

    def press(self, key: str, character: str | None) -> bool:
        """Go to another place, take a finger there, or take the last note back."""
        if key == "backspace":
            self.coming = self.coming[:-1]
            self._point()
        elif key in (UP, DOWN, LEFT, RIGHT):
            step = 1 if key in (UP, LEFT) else -1  # the higher string has the lower fret
            places = self._places
            at = places.index(self.cursor) if self.cursor in places else 0
            self.cursor = places[(at + step) % len(places)]
        elif character and character in FINGER_KEYS and self.cursor is not None:
            self.coming = (*self.coming, Choice(*self.cursor, int(character)))
            self.complete = self.given is not None
            self._point()
        else:
            place = next((p for p, sign in self.hints.items() if sign == character), None)
            if place is None:
                return False
            self.cursor = place
        return True

    def toggle(self, place: Place) -> bool:
        """Go to a place that was clicked, if the next note lies there."""
        if self.given is not None or place not in self._places:
            return False
        self.cursor = place
        return True


class MomentInput(AnswerInput):
    """A moment of a phrase: the number of the note before it, or the arrows."""

    def __init__(self, question: Question) -> None:
        """Begin with no moment."""
        super().__init__()
        if not isinstance(question.task, ChooseShift):
            raise TypeError("moments are chosen in phrases")
        self._most = len(question.task.piece.line.notes) - 1
        self._number = 0

    @property
    def given(self) -> AfterNote | None:
        """The moment, None before one is chosen."""
        return AfterNote(self._number) if self._number else None

    @property
    def choices(self) -> tuple[str, ...]:
        """All moments, by the number of the note before."""
        return tuple(str(number) for number in range(1, self._most + 1))

    def press(self, key: str, character: str | None) -> bool:
        """Take a number, digit by digit or whole, or an arrow."""
        if key in (LEFT, RIGHT):
            step = 1 if key == RIGHT else -1
            self._number = min(max(1, self._number + step), self._most)
        elif key == "backspace":
            self._number = 0
        elif character and character.isdecimal() and character.isascii():
            joined = int(f"{self._number}{character}")
            number = joined if joined <= self._most else int(character)
            if not 1 <= number <= self._most:
                return False
            self._number = number
        else:
            return False
        return True


class JoiningInput(AnswerInput):
    """How two notes are joined: the number of the way answers at once, arrows choose."""

    ways = tuple(Joining)

    def __init__(self) -> None:
        """Begin with no way."""
        super().__init__()
        self._way: Joining | None = None

    @property
    def given(self) -> Joining | None:
        """The way, None before one is chosen."""
        return self._way

    @property
    def choices(self) -> tuple[str, ...]:
        """All ways, with the number that stands for each."""
        return tuple(f"{number} {way.value}" for number, way in enumerate(self.ways, start=1))

    def press(self, key: str, character: str | None) -> bool:
        """Take a number or an arrow."""
        if key in (LEFT, RIGHT):
            at = -1 if self._way is None else self.ways.index(self._way)
            step = 1 if key == RIGHT else -1
            self._way = self.ways[(at + step) % len(self.ways)] if at >= 0 else self.ways[0]
            return True
        digit = (character or " ")[0]
        if not digit.isascii() or not digit.isdecimal() or not 1 <= int(digit) <= len(self.ways):
            return False
        self._way = self.ways[int(digit) - 1]
        self.complete = True
        return True
