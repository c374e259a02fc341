"""Turning keys into answers: one small machine for each form of answer.

They know nothing of screens, so they are tested without one. ``press`` takes a key
as Textual names it, with the character it types, and says whether it meant anything.
"""

from collections.abc import Mapping, Sequence

from fretdrill.engine.question import Given
from fretdrill.hand.states import Choice
from fretdrill.neck.neck import Neck, Place
from fretdrill.neck.scope import Scope
from fretdrill.practice.settings import KEYS_A_ROW, ROWS
from fretdrill.theory.pitch import LETTERS, NoteName

UP, DOWN, LEFT, RIGHT = "up", "down", "left", "right"
FLATS, SHARPS = "b♭-", "#♯+"
MOST_ACCIDENTALS = 2
FINGERS = 5


class AnswerInput:
    """What is being answered.

    Attributes:
        marks: places marked so far.
        cursor: the place under the cursor, if there is one.
        coming: choices for coming notes so far.
        complete: whether the last key was a whole answer by itself.
        answers_itself: whether every answer is, so that none is ever to be given.
    """

    answers_itself = False

    def __init__(self) -> None:
        """Begin with nothing given."""
        self.marks: frozenset[Place] = frozenset()
        self.cursor: Place | None = None
        self.coming: tuple[Choice, ...] = ()
        self.complete = False

    @property
    def given(self) -> Given | None:
        """The answer as it stands, None if it is not one yet."""
        raise NotImplementedError

    @property
    def hints(self) -> Mapping[Place, str]:
        """Place → the key that marks it."""
        return {}

    def press(self, key: str, character: str | None) -> bool:
        """Take a key; False if it means nothing here."""
        raise NotImplementedError

    def toggle(self, place: Place) -> bool:
        """Take a click on a place; False if it means nothing here."""
        return False


class PlacesInput(AnswerInput):
    """Marking places with arrows, a mouse or the keyboard's rows."""

    cursor: Place

    def __init__(
        self, neck: Neck, scope: Scope, key_rows: Sequence[str], *, mirrored: bool = False
    ) -> None:
        """Begin with nothing marked.

        Args:
            neck: the neck.
            scope: where the cursor may go.
            key_rows: four rows of keys, top to bottom.
            mirrored: the neck is drawn for a left-handed player.
        """
        super().__init__()
        self._frets = scope.frets(neck)
        self._strings = sorted(scope.strings or neck.strings)
        self._rows = _rows_of_strings(len(neck.tuning), key_rows)
        self._mirrored = mirrored
        self._toward_bridge, self._toward_nut = (LEFT, RIGHT) if mirrored else (RIGHT, LEFT)
        self.cursor = Place(self._strings[-1], self._frets[0])

    @property
    def given(self) -> frozenset[Place] | None:
        """The marked places; None while there are none."""
        return self.marks or None

    @property
    def hints(self) -> dict[Place, str]:
        """Place → the key that marks it; the keys reach ten frets around the cursor."""
        start = self._frets.index(self.cursor.fret) // KEYS_A_ROW * KEYS_A_ROW
        frets = self._frets[start : start + KEYS_A_ROW]
        if self._mirrored:  # the left key is for the fret on the left
            frets = frets[::-1]
        return {
            Place(string, fret): key
            for string in self._strings
            for fret, key in zip(frets, self._rows.get(string, ""), strict=False)
            if not key.isspace()
        }

    def press(self, key: str, character: str | None) -> bool:
        """Move, mark, or unmark."""
        if key == "space":
            self.toggle(self.cursor)
        elif key == "backspace":
            self.marks = frozenset()
        elif key in (UP, DOWN, LEFT, RIGHT, "home", "end"):
            self._move(key)
        else:
            place = next((p for p, sign in self.hints.items() if sign == character), None)
            if place is None:
                return False
            self.toggle(place)
        return True

    def toggle(self, place: Place) -> bool:
        """Mark a place, or take its mark away; the cursor goes there."""
        self.marks ^= {place}
        if place.string in self._strings and place.fret in self._frets:
            self.cursor = place
        return True

    def _move(self, key: str) -> None:
        string = self._strings.index(self.cursor.string)
        fret = self._frets.index(self.cursor.fret)
        if key == UP:
            string -= 1
        elif key == DOWN:
            string += 1
        elif key == self._toward_bridge:
            fret += 1
        elif key == self._toward_nut:
            fret -= 1
        else:
            fret = 0 if key == "home" else len(self._frets) - 1
        string = min(max(string, 0), len(self._strings) - 1)
        fret = min(max(fret, 0), len(self._frets) - 1)
        self.cursor = Place(self._strings[string], self._frets[fret])


def _rows_of_strings(strings: int, key_rows: Sequence[str]) -> dict[int, str]:
    """Return string → its row of keys, low strings on low rows.

    With five to seven strings the lowest ones have the lowest rows with Shift.
    """
    rows = {string: key_rows[string - 1] for string in range(1, min(strings, ROWS) + 1)}
    extra = min(strings - ROWS, ROWS - 1)
    for number in range(1, extra + 1):
        row = key_rows[number - extra - 1]
        rows[ROWS + number] = "".join(_shifted(key) for key in row)
    return rows


def _shifted(key: str) -> str:
    """Return what a key types with Shift; a blank where that depends on the layout."""
    upper = key.upper()
    return upper if upper != key and len(upper) == 1 else " "


class NoteInput(AnswerInput):
    """Naming a note: a letter, then an accidental; or the arrows."""

    def __init__(self) -> None:
        """Begin with no letter."""
        super().__init__()
        self._letter = ""
        self._alter = 0

    @property
    def given(self) -> NoteName | None:
        """The note, None before there is a letter."""
        return NoteName(self._letter, self._alter) if self._letter else None

    def press(self, key: str, character: str | None) -> bool:
        """Take a letter, an accidental, an arrow or a step back."""
        sign = character or ""
        if key == "backspace":
            if self._alter:
                self._alter = 0
            else:
                self._letter = ""
        elif key in (LEFT, RIGHT):
            step = 1 if key == RIGHT else -1
            index = LETTERS.index(self._letter) + step if self._letter else 0
            self._letter, self._alter = LETTERS[index % len(LETTERS)], 0
        elif self._letter and key in (UP, DOWN):
            self._alter = max(-1, min(1, self._alter + (1 if key == UP else -1)))
        elif self._letter and sign and sign in FLATS + SHARPS:
            self._alter_by(1 if sign in SHARPS else -1)
        elif sign and sign.upper() in LETTERS:
            self._letter, self._alter = sign.upper(), 0
        else:
            return False
        return True

    def _alter_by(self, step: int) -> None:
        """Add an accidental; one of the other sort takes its place."""
        same_sort = self._alter * step > 0
        alter = self._alter + step if same_sort else step
        if abs(alter) <= MOST_ACCIDENTALS:
            self._alter = alter


class FingerInput(AnswerInput):
    """Giving a finger: a digit answers at once; the arrows choose."""

    def __init__(self) -> None:
        """Begin with no finger."""
        super().__init__()
        self._finger: int | None = None

    @property
    def given(self) -> int | None:
        """The finger, None before one is chosen."""
        return self._finger

    def press(self, key: str, character: str | None) -> bool:
        """Take a digit or an arrow."""
        if key in (LEFT, RIGHT):
            step = 1 if key == RIGHT else -1
            self._finger = 1 if self._finger is None else (self._finger + step) % FINGERS
            return True
        if character and character in "01234":
            self._finger = int(character)
            self.complete = True
            return True
        return False
