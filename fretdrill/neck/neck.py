"""The neck: a tuning, a number of frets and a scale length.

A :class:`Place` is a string and a fret; fret 0 is the open string. Pitches are
sounding MIDI numbers. Places are listed from the lowest string up and from the
nut outward, so every list of places has one order.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import cached_property
from typing import NamedTuple

from fretdrill.errors import InputError
from fretdrill.neck.geometry import MAX_SCALE_MM, MIN_SCALE_MM, SCALES_MM, span_mm
from fretdrill.neck.tuning import Tuning
from fretdrill.theory.pitch import NoteName

_PLACE = re.compile(r"(\d{1,2})/(\d{1,2})")

MIN_FRETS, MAX_FRETS = 12, 36
SINGLE_DOTS = frozenset({3, 5, 7, 9, 15, 17, 19, 21, 27, 29, 31, 33})
DOUBLE_DOTS = frozenset({12, 24, 36})


class Place(NamedTuple):
    """A place on the neck: string (1 = highest) and fret (0 = open)."""

    string: int
    fret: int

    @classmethod
    def parse(cls, text: str) -> "Place":
        """Read ``"3/5"``: string 3, fret 5.

        Raises:
            InputError: the text is not two numbers with a stroke between.
        """
        match = _PLACE.fullmatch(text)
        if match is None:
            raise InputError(f"'{text}' is not a place such as 3/5 (string 3, fret 5)")
        return cls(int(match[1]), int(match[2]))

    def __str__(self) -> str:
        return f"{self.string}/{self.fret}"


def in_order(places: Iterable[Place]) -> list[Place]:
    """Return places from the lowest string up and from the nut outward."""
    return sorted(places, key=lambda place: (-place.string, place.fret))


@dataclass(frozen=True)
class Neck:
    """An instrument's neck.

    Attributes:
        tuning: the open strings.
        frets: number of frets, 12 to 36.
        scale_mm: scale length in mm, 300 to 1200.
    """

    tuning: Tuning = field(default_factory=lambda: Tuning.parse("4-string"))
    frets: int = 24
    scale_mm: float = SCALES_MM["long"]

    def __post_init__(self) -> None:
        if not MIN_FRETS <= self.frets <= MAX_FRETS:
            raise InputError(f"a neck has {MIN_FRETS} to {MAX_FRETS} frets, not {self.frets}")
        if not MIN_SCALE_MM <= self.scale_mm <= MAX_SCALE_MM:
            raise InputError(
                f"a scale is {MIN_SCALE_MM:g} to {MAX_SCALE_MM:g} mm long, not {self.scale_mm:g}"
            )
        highest = max(pitch.midi for pitch in self.tuning.strings) + self.frets
        if highest > 127:
            raise InputError("the highest fret would sound above every MIDI pitch")

    @cached_property
    def strings(self) -> tuple[int, ...]:
        """String numbers, 1 first."""
        return tuple(range(1, len(self.tuning) + 1))

    @cached_property
    def places(self) -> tuple[Place, ...]:
        """Every place, open strings included."""
        return tuple(
            Place(string, fret)
            for string in reversed(self.strings)
            for fret in range(self.frets + 1)
        )

    def midi(self, place: Place) -> int:
        """Return the sounding MIDI number at a place."""
        return self.tuning.strings[place.string - 1].midi + place.fret

    def places_of(self, midi: int) -> tuple[Place, ...]:
        """Return every place that sounds a MIDI number."""
        return tuple(
            Place(string, fret)
            for string in reversed(self.strings)
            if 0 <= (fret := midi - self.tuning.strings[string - 1].midi) <= self.frets
        )

    def sounds(self, place: Place, name: NoteName) -> bool:
        """Whether a place sounds a note, in whatever octave and under whatever name."""
        return self.midi(place) % 12 == name.pitch_class

    def nearest_on_string(
        self, place: Place, name: NoteName, among: Iterable[Place] | None = None
    ) -> Place | None:
        """Return where a note lies on a place's string, nearest to it, if anywhere.

        Ties go to the lower fret.

        Args:
            place: where to look from.
            name: the note.
            among: the places that count; None for the whole neck.
        """
        candidates = self.places if among is None else among
        on_string = (candidate for candidate in candidates if candidate.string == place.string)
        sounding = [candidate for candidate in on_string if self.sounds(candidate, name)]
        return min(sounding, key=lambda p: (abs(p.fret - place.fret), p.fret), default=None)

    def span_mm(self, fret: float, other_fret: float) -> float:
        """Return the distance between two frets in mm."""
        return span_mm(self.scale_mm, fret, other_fret)

    def __contains__(self, place: Place) -> bool:
        return 1 <= place.string <= len(self.tuning) and 0 <= place.fret <= self.frets
