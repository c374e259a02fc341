"""The room that a made-up line has on a neck.

Idea: a line is made of neighbouring scale tones, a little more than a hand covers in one
position, so that it mostly lies under the hand and now and then asks for a move. The
figures count in places: 0 is the lowest tone of the room, one more is a scale step up.
"""

from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from random import Random

from fretdrill.neck.neck import Neck
from fretdrill.theory.key import Key
from fretdrill.theory.pitch import NoteName, Pitch

HIGHEST_FRET = 12
HIGHEST_ALONE = 17  # where the strings alone give less than LEAST_SEMITONES
LEAST_SEMITONES = 18
ROOM_SIZES = (15, 16)  # scale tones: two octaves, so that every root has its octave
OCTAVE = 7  # scale steps


@dataclass(frozen=True)
class Room:
    """The tones that one line may use.

    Attributes:
        key: its key.
        tones: neighbouring tones of the scale, low to high; at least seven.
        sounding: the MIDI numbers that lie on the neck around them.
    """

    key: Key
    tones: tuple[Pitch, ...]
    sounding: range

    def __len__(self) -> int:
        return len(self.tones)

    @cached_property
    def degrees(self) -> tuple[int, ...]:
        """The degree of the scale at each place, 1 to 7."""
        return tuple(self.key.scale.index(tone.name) + 1 for tone in self.tones)

    @cached_property
    def home(self) -> int:
        """The place of the tonic in the lower half of the room."""
        return min(self.places(1), key=lambda place: abs(place - len(self) // 4))

    def places(self, *degrees: int) -> list[int]:
        """Return the places of degrees of the scale, counted on past 7, in order."""
        asked = {(degree - 1) % OCTAVE + 1 for degree in degrees}
        return [place for place, degree in enumerate(self.degrees) if degree in asked]

    def chord(self, root: int) -> list[int]:
        """Return the places of the triad on a degree of the scale."""
        return self.places(root, root + 2, root + 4)

    def folded(self, place: int) -> int:
        """Return a place, or the nearest octave of it in the room."""
        while place >= len(self):
            place -= OCTAVE
        while place < 0:
            place += OCTAVE
        return place

    def risen(self, midi: int) -> Pitch:
        """Spell a pitch that leads up: from outside the scale as a step raised."""
        return self._led(midi, midi - 1, 1)

    def fallen(self, midi: int) -> Pitch:
        """Spell a pitch that leads down: from outside the scale as a step lowered."""
        return self._led(midi, midi + 1, -1)

    def _led(self, midi: int, step: int, alter: int) -> Pitch:
        """Double accidentals only where the key has no simpler name."""
        usual = self.key.spell(midi)
        if usual.name in self.key.scale:
            return usual
        name = self.key.spell(step).name
        altered = name.alter + alter
        if abs(altered) > max(1, abs(usual.name.alter)):
            return usual
        return Pitch(midi, NoteName(name.letter, altered))


def room_on(neck: Neck, key: Key, rng: Random) -> Room:
    """Draw the room of a line, more often low on the neck than high."""
    sounding = sounding_on(neck)
    names = {name.pitch_class: name for name in key.scale}
    tones = [Pitch(midi, names[midi % 12]) for midi in sounding if midi % 12 in names]
    size = min(len(tones), rng.choice(ROOM_SIZES))
    lowest = range(len(tones) - size + 1)
    start = min(rng.choice(lowest), rng.choice(lowest))
    return Room(key, tuple(tones[start : start + size]), sounding)


def sounding_on(neck: Neck) -> range:
    """Return the longest run of neighbouring MIDI numbers up to the twelfth fret.

    One string alone goes on some frets further.
    """
    run = _longest_run(neck, HIGHEST_FRET)
    return run if len(run) > LEAST_SEMITONES else _longest_run(neck, HIGHEST_ALONE)


def _longest_run(neck: Neck, highest_fret: int) -> range:
    frets = range(min(neck.frets, highest_fret) + 1)
    midis = sorted({pitch.midi + fret for pitch in neck.tuning.strings for fret in frets})
    starts = [0, *(i + 1 for i, (one, two) in enumerate(pairwise(midis)) if two > one + 1)]
    ends = [*starts[1:], len(midis)]
    runs = [
        range(midis[start], midis[end - 1] + 1) for start, end in zip(starts, ends, strict=True)
    ]
    return max(runs, key=len)
