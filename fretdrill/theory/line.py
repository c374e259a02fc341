"""A written line: one part that sounds one note at a time.

Conventions: onsets and durations are exact fractions of a whole note, counted
from the beginning of the line, pickup included. Pitches are sounding. Tied notes
are one note. What is not filled by notes is rest. Repeats are played out: a bar
that is played twice stands twice in :attr:`Line.bars`, both times with its
written number.
"""

from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from enum import Enum
from fractions import Fraction
from functools import cached_property
from itertools import pairwise
from typing import NamedTuple

from fretdrill.errors import InputError
from fretdrill.theory.key import Key
from fretdrill.theory.metre import Metre
from fretdrill.theory.pitch import Pitch

DEFAULT_BPM = 120.0  # Standard MIDI Files 1.1: 120 quarters a minute where nothing is said
MIN_BPM, MAX_BPM = 5.0, 1000.0


class Articulation(Enum):
    """How a note is to sound."""

    STACCATO = "staccato"
    TENUTO = "tenuto"
    ACCENT = "accent"


class Join(Enum):
    """How a note leads into the next one without a new pluck."""

    SLUR = "slur"
    SLIDE = "slide"


@dataclass(frozen=True, slots=True)
class Note:
    """One note of a line.

    Attributes:
        onset: where it begins, in whole notes from the beginning of the line.
        duration: its written length in whole notes, tied notes added up.
        pitch: its sounding pitch, spelled.
        articulations: the marks on it.
        join: how it leads into the note after it; None if that is plucked.
        finger: the finger written on it, 0 for open; None if none is.
        string: the string written on it, 1 = highest.
        fret: the fret written on it.
        where: its place in the source, such as ``"line 7, column 3"``.
    """

    onset: Fraction
    duration: Fraction
    pitch: Pitch
    articulations: frozenset[Articulation] = frozenset()
    join: Join | None = None
    finger: int | None = None
    string: int | None = None
    fret: int | None = None
    where: str = ""

    @property
    def end(self) -> Fraction:
        """Where its written length ends."""
        return self.onset + self.duration


class Bar(NamedTuple):
    """One bar as it is played.

    Attributes:
        number: its written number from 1; 0 for a pickup.
        onset: where it begins, in whole notes from the beginning of the line.
        length: how long it is; less than the metre says for a pickup.
        metre: its metre.
        start: the place in the metre that it begins at: a pickup of one quarter in
            4/4 begins at 3/4.
    """

    number: int
    onset: Fraction
    length: Fraction
    metre: Metre
    start: Fraction = Fraction(0)

    @property
    def end(self) -> Fraction:
        """Where it ends."""
        return self.onset + self.length


class Tempo(NamedTuple):
    """A tempo and where it begins.

    Attributes:
        onset: in whole notes from the beginning of the line.
        bpm: beats a minute.
        beat: which note value is a beat.
    """

    onset: Fraction = Fraction(0)
    bpm: float = DEFAULT_BPM
    beat: Fraction = Fraction(1, 4)

    @property
    def whole_s(self) -> float:
        """Seconds that a whole note lasts."""
        return 60.0 / (self.bpm * float(self.beat))


class KeyChange(NamedTuple):
    """A key and where it begins."""

    onset: Fraction
    key: Key


class Rest(NamedTuple):
    """A silence between notes, or after the last one, in whole notes."""

    onset: Fraction
    duration: Fraction


@dataclass(frozen=True)
class Line:
    """A monophonic part.

    Attributes:
        title: what it is called.
        notes: in order; none begins before the one before it has ended.
        bars: in the order played, without gaps.
        tempos: in order; the first one begins at 0.
        keys: in order; empty where the source names none.
    """

    title: str
    notes: tuple[Note, ...]
    bars: tuple[Bar, ...]
    tempos: tuple[Tempo, ...] = (Tempo(),)
    keys: tuple[KeyChange, ...] = field(default=())

    def __post_init__(self) -> None:
        for note in self.notes:
            if note.duration <= 0 or note.onset < 0:
                raise InputError(f"a note of a line must have a length ({note.where})")
        for note, after in pairwise(self.notes):
            if note.end > after.onset:
                raise InputError(f"two notes of a line sound at once ({after.where})")
        if not self.tempos or self.tempos[0].onset:
            raise InputError("a line needs a tempo from its beginning on")

    @property
    def key(self) -> Key | None:
        """The key that the line begins in, if it says one."""
        return self.keys[0].key if self.keys else None

    @property
    def metre(self) -> Metre:
        """The metre that the line begins in."""
        return self.bars[0].metre if self.bars else Metre()

    @property
    def pickup(self) -> Fraction:
        """The length of the pickup bar, 0 if there is none."""
        first = self.bars[0] if self.bars else None
        return first.length if first is not None and first.number == 0 else Fraction(0)

    @property
    def length(self) -> Fraction:
        """The length of the whole line, rests at its end included."""
        ends = [part[-1].end for part in (self.bars, self.notes) if part]
        return max(ends, default=Fraction(0))

    @property
    def rests(self) -> Iterator[Rest]:
        """The silences, in order; before the first note and after the last too."""
        end = Fraction(0)
        for note in self.notes:
            if note.onset > end:
                yield Rest(end, note.onset - end)
            end = note.end
        if self.length > end:
            yield Rest(end, self.length - end)

    def bar_at(self, onset: Fraction) -> Bar:
        """Return the bar that a moment lies in; past the end, the last one.

        Raises:
            InputError: the line has no bars.
        """
        if not self.bars:
            raise InputError("the line has no bars")
        return self.bars[max(0, bisect_right(self._bar_onsets, onset) - 1)]

    def beat_at(self, onset: Fraction) -> Fraction:
        """Return a moment's place in its bar in the metre's beats, from 1."""
        bar = self.bar_at(onset)
        return 1 + (onset - bar.onset + bar.start) / bar.metre.beat

    def seconds_at(self, onset: Fraction) -> float:
        """Return when a moment comes, in seconds from the beginning of the line."""
        index = max(0, bisect_right(self._tempo_onsets, onset) - 1)
        tempo = self.tempos[index]
        return self._tempo_seconds[index] + float(onset - tempo.onset) * tempo.whole_s

    def seconds_between(self, onset: Fraction, later: Fraction) -> float:
        """Return how long it is from one moment to a later one, in seconds.

        Equal lengths in one tempo give equal numbers, wherever they stand.
        """
        index = max(0, bisect_right(self._tempo_onsets, onset) - 1)
        if index + 1 == len(self.tempos) or later <= self.tempos[index + 1].onset:
            return float(later - onset) * self.tempos[index].whole_s
        return self.seconds_at(later) - self.seconds_at(onset)

    def tempo_at(self, onset: Fraction) -> Tempo:
        """Return the tempo in force at a moment."""
        return self.tempos[max(0, bisect_right(self._tempo_onsets, onset) - 1)]

    def at_tempo(self, bpm: float) -> "Line":
        """Return the line at another tempo; changes of tempo keep their proportion.

        Raises:
            InputError: no line is played at that tempo.
        """
        if not MIN_BPM <= bpm <= MAX_BPM:
            raise InputError(f"a tempo is {MIN_BPM:g} to {MAX_BPM:g} beats a minute, not {bpm:g}")
        factor = bpm / self.tempos[0].bpm
        tempos = tuple(tempo._replace(bpm=tempo.bpm * factor) for tempo in self.tempos)
        return replace(self, tempos=tempos)

    def excerpt(self, first: int, last: int) -> "Line":
        """Return some notes of the line, with the bars that they stand in.

        Onsets, and so bars, beats and seconds, stay those of the whole line.

        Args:
            first: the first note, from 0.
            last: the last one.
        """
        notes = self.notes[first : last + 1]
        bars = [b for b in self.bars if b.end > notes[0].onset and b.onset < notes[-1].end]
        return replace(self, notes=notes, bars=tuple(bars))

    def transposed_octaves(self, octaves: int) -> "Line":
        """Return the line some octaves higher, or lower for a negative number.

        Written strings and frets are left out: they belong to the old pitches.

        Raises:
            InputError: a note would leave MIDI's 0 to 127.
        """
        moved = []
        for note in self.notes:
            midi = note.pitch.midi + 12 * octaves
            if not 0 <= midi <= 127:
                raise InputError(f"{octaves:+d} octaves takes {note.pitch} out of every range")
            moved.append(replace(note, pitch=Pitch(midi, note.pitch.name), string=None, fret=None))
        return replace(self, notes=tuple(moved))

    @cached_property
    def _bar_onsets(self) -> list[Fraction]:
        return [bar.onset for bar in self.bars]

    @cached_property
    def _tempo_onsets(self) -> list[Fraction]:
        return [tempo.onset for tempo in self.tempos]

    @cached_property
    def _tempo_seconds(self) -> list[float]:
        seconds = [0.0]
        for tempo, after in pairwise(self.tempos):
            seconds.append(seconds[-1] + float(after.onset - tempo.onset) * tempo.whole_s)
        return seconds
