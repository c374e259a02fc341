"""When things come in a MIDI file: its tempos, metres and keys.

Conventions: times are *steps*, ticks multiplied so that a quarter has a multiple of
48 of them. Every metre's bar and every place of every grid is then a whole number.
"""

from bisect import bisect_right
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from math import gcd
from typing import NamedTuple, TypeVar

from fretdrill.errors import InputError
from fretdrill.scores.midi_events import (
    KEY_SIGNATURE,
    SET_TEMPO,
    TIME_SIGNATURE,
    Contents,
    Event,
    Track,
)
from fretdrill.scores.reading import Notice, Sort
from fretdrill.theory.key import MAJOR_KEYS, MINOR_KEYS, Key
from fretdrill.theory.line import DEFAULT_BPM, MAX_BPM, MIN_BPM, Bar, KeyChange, Tempo
from fretdrill.theory.metre import Metre

MOST_BARS = 100_000
STEPS = 48  # divides a quarter into triplet thirty-seconds and into sixty-fourths

_FRAMES = {24: Fraction(24), 25: Fraction(25), 29: Fraction(30_000, 1001), 30: Fraction(30)}
"""SMPTE format → frames a second; 29 is the 29.97 of drop frame (SMF 1.1, Header Chunks)."""

_MICROSECONDS = 60_000_000

Value = TypeVar("Value")


class Span(NamedTuple):
    """A bar in steps."""

    onset: int
    length: int
    metre: Metre

    @property
    def end(self) -> int:
        """Where it ends."""
        return self.onset + self.length


class Division(NamedTuple):
    """How ticks become steps.

    Attributes:
        quarter: steps in a quarter.
        scale: steps in a tick.
        in_seconds: whether ticks are parts of a second, which no tempo changes.
    """

    quarter: int
    scale: int
    in_seconds: bool = False

    @classmethod
    def read(cls, division: int, source: str) -> "Division":
        """Read the header's two bytes on time.

        Raises:
            InputError: they say nothing that exists.
        """
        in_seconds = division >= 0x8000
        if in_seconds:
            frames, ticks = 256 - (division >> 8), division & 0xFF
            if frames not in _FRAMES or not ticks:
                told = f"{ticks} parts of 1/{frames} second"
                raise InputError(f"{source} counts time in {told}, which is no SMPTE format")
            quarter = _FRAMES[frames] * ticks * Fraction(60) / Fraction(DEFAULT_BPM)
        else:
            quarter = Fraction(division)
        if not quarter:
            raise InputError(f"{source} gives a quarter no ticks, so no time in it can be told")
        finer = STEPS // gcd(quarter.numerator, STEPS)
        return cls(quarter.numerator * finer, quarter.denominator * finer, in_seconds)

    def whole_notes(self, steps: int) -> Fraction:
        """Return a time in whole notes."""
        return Fraction(steps, 4 * self.quarter)


@dataclass(frozen=True)
class TimeMap:
    """The tempos, metres and keys of one sequence, in steps, each list in order.

    Attributes:
        division: how ticks became steps.
        tempos: quarters a minute; the first one begins at 0.
        metres: the first one begins at 0.
        keys: may be empty.
        notices: what was ignored.
    """

    division: Division
    tempos: Sequence[tuple[int, float]] = ((0, DEFAULT_BPM),)
    metres: Sequence[tuple[int, Metre]] = ((0, Metre()),)
    keys: Sequence[tuple[int, Key]] = ()
    notices: Sequence[Notice] = field(default=())

    def spans(self, end: int, source: str) -> list[Span]:
        """Return the bars up to one that holds or reaches a time.

        A metre that begins inside a bar cuts it short.

        Raises:
            InputError: there are more bars than anyone plays.
        """
        limits = [min(onset, end) for onset, _ in self.metres[1:]] + [end]
        parts = []
        for (onset, metre), limit in zip(self.metres, limits, strict=True):
            length = metre.beats * 4 * self.division.quarter // metre.unit
            parts.append((onset, limit, length, metre))
        count = sum(len(range(onset, limit, length)) for onset, limit, length, _ in parts)
        if count > MOST_BARS:
            raise InputError(f"{source} is {count:,} bars long; the most is {MOST_BARS:,}")
        return [
            Span(place, length if limit == end else min(length, limit - place), metre)
            for onset, limit, length, metre in parts
            for place in range(onset, limit, length)
        ]

    def bars(self, spans: Iterable[Span], end: int) -> tuple[Bar, ...]:
        """Return the bars that a line up to a time needs."""
        whole = self.division.whole_notes
        return tuple(
            Bar(number, whole(span.onset), whole(span.length), span.metre)
            for number, span in enumerate(spans, start=1)
            if span.onset < end
        )

    def line_tempos(self, end: int) -> tuple[Tempo, ...]:
        """Return the tempos of a line up to a time."""
        whole = self.division.whole_notes
        return tuple(Tempo(whole(onset), bpm) for onset, bpm in self.tempos if onset < max(1, end))

    def line_keys(self, end: int) -> tuple[KeyChange, ...]:
        """Return the keys of a line up to a time."""
        whole = self.division.whole_notes
        return tuple(KeyChange(whole(onset), key) for onset, key in self.keys if onset < end)

    def key_at(self, onset: int) -> Key:
        """Return the key in force, C major where none is."""
        index = bisect_right(self.keys, onset, key=lambda change: change[0])
        return self.keys[index - 1][1] if index else _C_MAJOR


_C_MAJOR = Key.parse("C major")


def read_time(contents: Contents, track: Track, division: Division) -> TimeMap:
    """Read the tempos, metres and keys that hold for one track.

    Tempo and metre stand in any track (SMF 1.1 wants them in the first); each
    sequence of a type 2 file has its own. A track's own keys go before the others'.
    """
    tracks = [track] if contents.type == 2 else contents.tracks
    with_keys = (one for one in (track, *tracks) if any(one.metas(KEY_SIGNATURE)))
    key_track = next(with_keys, track)
    notices: list[Notice] = []
    tempos = [] if division.in_seconds else _changes(tracks, SET_TEMPO, _tempo, division, notices)
    metres = _changes(tracks, TIME_SIGNATURE, _metre, division, notices)
    keys = _changes([key_track], KEY_SIGNATURE, _key, division, notices)
    if division.in_seconds:
        message = f"its times are in seconds; written as if at {DEFAULT_BPM:g} beats a minute"
        notices.append(Notice(Sort.CHANGED, "", message))
    return TimeMap(
        division,
        _from_start(tempos, DEFAULT_BPM),
        _from_start(metres, Metre()),
        keys,
        notices,
    )


def _from_start(changes: list[tuple[int, Value]], value: Value) -> list[tuple[int, Value]]:
    if changes and changes[0][0] == 0:
        return changes
    return [(0, value), *(change for i, change in enumerate(changes) if i or change[1] != value)]


def _changes(
    tracks: Iterable[Track],
    kind: int,
    read: Callable[[bytes], Value],
    division: Division,
    notices: list[Notice],
) -> list[tuple[int, Value]]:
    """Collect what changes when; where two tracks disagree the first is believed."""
    by_tick: dict[int, Value] = {}
    refused: list[tuple[str, str]] = []
    for track in tracks:
        own: dict[int, Value] = {}
        for event in track.metas(kind):
            try:
                own[event.tick] = read(event.data[1:])
            except InputError as fault:
                refused.append((_where(track, event), str(fault)))
        by_tick = own | by_tick
    if refused:
        where, message = refused[0]
        more = f" ({len(refused)} such)" if len(refused) > 1 else ""
        notices.append(Notice(Sort.DROPPED, where, f"{message}; ignored{more}"))
    changes: list[tuple[int, Value]] = []
    for tick, value in sorted(by_tick.items(), key=lambda change: change[0]):
        if not changes or changes[-1][1] != value:
            changes.append((tick * division.scale, value))
    return changes


def _where(track: Track, event: Event) -> str:
    return f"track {track.number}, tick {event.tick}"


def _tempo(data: bytes) -> float:
    microseconds = int.from_bytes(data[:3], "big")
    if len(data) < 3 or not microseconds:
        raise InputError("a tempo of 0 is impossible")
    bpm = _MICROSECONDS / microseconds
    if not MIN_BPM <= bpm <= MAX_BPM:
        raise InputError(f"a tempo of {bpm:,.1f} beats a minute is impossible")
    return round(bpm, 3)  # finer than whole microseconds can tell


def _metre(data: bytes) -> Metre:
    if len(data) < 2:
        raise InputError("a time signature without numbers is impossible")
    unit = str(2 ** data[1]) if data[1] <= 16 else f"(2 to the {data[1]})"
    try:
        return Metre(data[0], int(unit))
    except ValueError:
        raise InputError(f"a time signature of {data[0]}/{unit} is impossible") from None


def _key(data: bytes) -> Key:
    if len(data) < 2:
        raise InputError("a key signature without numbers is impossible")
    signature = data[0] - 256 if data[0] >= 0x80 else data[0]
    if data[1] > 1:
        raise InputError(f"a key signature of mode {data[1]} is impossible")
    if not -7 <= signature <= 7:
        signs = "sharps" if signature > 0 else "flats"
        raise InputError(f"a key signature of {abs(signature)} {signs} is impossible")
    return (MINOR_KEYS if data[1] else MAJOR_KEYS)[signature + 7]
