"""How notes, strings, places and small numbers are called."""

from dataclasses import dataclass

from fretdrill.neck.neck import Neck, Place
from fretdrill.theory.pitch import NoteName, Pitch

_NUMBERS = "zero one two three four five six seven eight nine ten eleven twelve".split()


@dataclass(frozen=True)
class Names:
    """Names things as the player sees them.

    Attributes:
        ascii_only: write b and # for ♭ and ♯.
    """

    ascii_only: bool = False

    def note(self, name: NoteName) -> str:
        """Return a note's name."""
        return name.text(ascii_only=self.ascii_only)

    def string(self, neck: Neck, string: int) -> str:
        """Return a string's name: ``"A string"``, or its number too if two are alike."""
        names = [pitch.name for pitch in neck.tuning.strings]
        name = names[string - 1]
        if names.count(name) > 1:
            return f"string {string} ({self.note(name)})"
        return f"{self.note(name)} string"

    def place(self, neck: Neck, place: Place) -> str:
        """Return where a place is: ``"A string, fret 5"``."""
        if place.fret == 0:
            return f"{self.string(neck, place.string)}, open"
        return f"{self.string(neck, place.string)}, fret {place.fret}"

    def pitch(self, pitch: Pitch) -> str:
        """Return a note's name with its octave."""
        return pitch.text(ascii_only=self.ascii_only)


def frets_away(count: int) -> str:
    """Write a number of frets, whichever way: ``"three frets"``."""
    return "one fret" if abs(count) == 1 else f"{small_number(abs(count))} frets"


def small_number(count: int) -> str:
    """Write a number up to twelve as a word."""
    return _NUMBERS[count] if count < len(_NUMBERS) else str(count)
