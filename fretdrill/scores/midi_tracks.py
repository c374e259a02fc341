"""Which part of a MIDI file is the bass.

A part is what one channel plays in one track. It looks like a bass part if it has
one of General MIDI's bass programmes or is called so; where neither says anything,
if it lies in the range of a bass and plays one note at a time. Of those that do, the
one with most in its favour is taken, then the one with most notes, then the first.
"""

import re
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from statistics import median_low
from typing import NamedTuple

from fretdrill.errors import InputError
from fretdrill.scores.midi_events import (
    BEND,
    CONTROL,
    META,
    NOTE_OFF,
    NOTE_ON,
    PROGRAMME,
    Contents,
    Track,
)
from fretdrill.scores.reading import Notice, Sort

DRUM_CHANNEL = 10  # General MIDI 1: channel 10 is percussion
BASS_PROGRAMMES = range(33, 41)  # General MIDI 1 sound set, counted from 1
PIANO = 1  # what programs write that were told no instrument
BASS_RANGE = range(28, 51)  # [assumption] median pitch, E1 to D3
ONE_AT_A_TIME = 0.9  # [assumption] share of the sounding time with a single note
BY_PROGRAMME, BY_NAME, BY_RANGE, BY_DEPTH, BY_SINGLE_NOTES = 4, 3, 2, 1, 1  # [assumption]
MOST_LISTED = 12

_FAMILIES = (
    "piano, chromatic percussion, organ, guitar, bass, strings, ensemble, brass, reed, pipe, "
    "synth lead, synth pad, synth effects, ethnic, percussive, sound effects"
).split(", ")
"""General MIDI 1 sound set: each eight programmes are one family."""

_BASS_NAME = re.compile(
    r"(bass(e|o|i|line|guitar|gitarre)?|\b(el)?bas(gitaar)?|\bba(j|ix)o)(?![^\W\d_])"
)
_OTHER_NAME = re.compile(
    r"bass\W*drum|clarinet|klarinette|trombone|posaune|flute|sax|horn|choir|chor\b|vo(ice|cal|x)"
)

_CENTRE, _SEMITONE_BENDS = 0x2000, 2  # MIDI 1.0: without other word a bend reaches a whole tone
_ALL_SOUND_OFF, _ALL_NOTES_OFF = 120, 123
_DATA_ENTRY, _RPN_LOW, _RPN_HIGH = 6, 100, 101
_BEND_RANGE = (0, 0)


class Sounded(NamedTuple):
    """A note as it was played, in the file's own time."""

    onset: int
    end: int
    pitch: int


@dataclass
class Part:
    """What one channel plays in one track.

    Attributes:
        track: the track.
        channel: the channel, from 1.
        label: what a user calls it by: a track's number, ``"2/5"`` for a track's
            channel where it has several, or a channel's number in a file that has
            all its notes in one track.
        place: the same in words.
        name: the track's name; empty where several parts share it.
        programme: the General MIDI programme, from 1, at its first note.
        notes: by onset, then from low to high.
        hanging: how many notes never end.
        bends: how many bends go beyond a semitone.
    """

    track: Track
    channel: int
    label: str = ""
    place: str = ""
    name: str = ""
    programme: int | None = None
    notes: list[Sounded] = field(default_factory=list)
    hanging: int = 0
    bends: int = 0

    @property
    def title(self) -> str:
        """What to show beside its label; may be empty."""
        if self.name:
            return self.name
        return _FAMILIES[(self.programme - 1) // 8] if self.programme else ""

    @cached_property
    def median(self) -> int:
        """Its median pitch."""
        return median_low(note.pitch for note in self.notes)

    def __str__(self) -> str:
        return f"{self.place} '{self.title}'" if self.title else self.place


class _Channel:
    """Pairs the beginnings and ends of one channel's notes."""

    def __init__(self, track: Track, number: int) -> None:
        self.part = Part(track, number)
        self.open: dict[int, int] = {}
        self.programme: int | None = None
        self.parameter = [0x7F, 0x7F]
        self.bend_range = _SEMITONE_BENDS

    def take(self, tick: int, status: int, data: bytes) -> None:
        if status == NOTE_ON and data[1]:
            self.begin(tick, data[0])
        elif status in (NOTE_ON, NOTE_OFF):
            self.close(tick, data[0])
        elif status == PROGRAMME:
            self.programme = data[0] + 1
        elif status == CONTROL:
            self.control(tick, *data)
        elif status == BEND:
            bend = (data[1] << 7 | data[0]) - _CENTRE
            self.part.bends += abs(bend) * self.bend_range > _CENTRE

    def begin(self, tick: int, pitch: int) -> None:
        if not self.part.notes and not self.open:
            self.part.programme = self.programme
        if self.open.get(pitch) != tick:
            self.close(tick, pitch)
            self.open[pitch] = tick

    def close(self, tick: int, pitch: int) -> None:
        onset = self.open.pop(pitch, None)
        if onset is not None:
            self.part.notes.append(Sounded(onset, tick, pitch))

    def close_all(self, tick: int) -> None:
        for pitch in tuple(self.open):
            self.close(tick, pitch)

    def control(self, tick: int, number: int, value: int) -> None:
        if number in (_ALL_SOUND_OFF, _ALL_NOTES_OFF):
            self.close_all(tick)
        elif number in (_RPN_LOW, _RPN_HIGH):
            self.parameter[number - _RPN_LOW] = value
        elif number == _DATA_ENTRY and tuple(self.parameter) == _BEND_RANGE:
            self.bend_range = value

    def finish(self, tick: int) -> Part:
        self.part.hanging = len(self.open)
        self.close_all(tick)
        self.part.notes.sort()
        return self.part


def read_parts(contents: Contents) -> list[Part]:
    """Return the parts that have notes, by track, then by channel."""
    by_track = [_parts_of(track) for track in contents.tracks]
    parts = [part for own in by_track for part in own]
    one_track = sum(map(bool, by_track)) == 1
    for own in by_track:
        for part in own:
            _label(part, alone=len(own) == 1, one_track=one_track)
    return parts


def _parts_of(track: Track) -> list[Part]:
    channels: dict[int, _Channel] = {}
    for tick, status, data in track.events:
        if status != META:
            number = status & 0x0F
            if number not in channels:
                channels[number] = _Channel(track, number + 1)
            channels[number].take(tick, status & 0xF0, data)
    parts = [channels[number].finish(track.end) for number in sorted(channels)]
    return [part for part in parts if part.notes]


def _label(part: Part, *, alone: bool, one_track: bool) -> None:
    track, channel = part.track.number, part.channel
    if alone:
        part.label, part.place, part.name = f"{track}", f"track {track}", part.track.name
    elif one_track:
        part.label, part.place = f"{channel}", f"channel {channel}"
    else:
        part.label, part.place = f"{track}/{channel}", f"track {track}, channel {channel}"


def choose_part(
    parts: Sequence[Part], source: str, wanted: str | None = None
) -> tuple[Part, list[Notice]]:
    """Choose the bass part, or the one that is wanted.

    Args:
        parts: those with notes.
        source: the file's name, for the faults.
        wanted: a label, the number of a track, or a name.

    Raises:
        InputError: there is no such part, or nothing but drums.
    """
    if wanted is not None:
        candidates = _wanted(parts, source, wanted)
        if len(candidates) == 1:
            return candidates[0], []
    else:
        candidates = [part for part in parts if part.channel != DRUM_CHANNEL]
    if not candidates:
        label = parts[0].label
        raise InputError(f"{source} has notes for drums only; --track {label} reads them anyway")
    lowest = min(part.median for part in candidates)
    alone = len(candidates) == 1
    judged = [(part, _judge(part, lowest, alone=alone)) for part in candidates]
    basses = [one for one in judged if one[1].looks_like_bass]
    if basses:
        best, verdict = max(basses, key=lambda one: (one[1].points, len(one[0].notes)))
        reasons = ", ".join(verdict.reasons)
    else:
        best, reasons = min(candidates, key=lambda part: part.median), ""
    melody = _melody(best)
    twins = [part for part in candidates if part is not best and _melody(part) == melody]
    return best, _choice_notices(best, reasons, parts, twins)


def _wanted(parts: Sequence[Part], source: str, wanted: str) -> list[Part]:
    asked = wanted.strip().casefold()
    for matches in (
        [part for part in parts if part.label == asked],
        [part for part in parts if asked == str(part.track.number)],
        [part for part in parts if asked and asked == part.title.casefold()],
    ):
        if matches:
            return matches
    listed = ", ".join(f"{part.label} {part.title}".strip() for part in parts[:MOST_LISTED])
    more = " …" if len(parts) > MOST_LISTED else ""
    raise InputError(f"{source} has no track '{wanted}' with notes; it has {listed}{more}")


class _Verdict(NamedTuple):
    points: int
    reasons: list[str]
    looks_like_bass: bool


def _judge(part: Part, lowest: int, *, alone: bool) -> _Verdict:
    deep = part.median in BASS_RANGE
    single = single_share(part.notes) >= ONE_AT_A_TIME
    by_programme = part.programme in BASS_PROGRAMMES
    by_name = is_bass_name(part.name)
    found = (
        (by_programme, BY_PROGRAMME, "bass programme"),
        (by_name, BY_NAME, "called bass"),
        (deep, BY_RANGE, "in the range of a bass"),
        (part.median == lowest, BY_DEPTH, "lowest part"),
        (single, BY_SINGLE_NOTES, "one note at a time"),
    )
    says_nothing = part.programme in (None, PIANO) or alone
    return _Verdict(
        sum(points for holds, points, _ in found if holds),
        [reason for holds, _, reason in found if holds],
        by_programme or by_name or (says_nothing and deep and single),
    )


def is_bass_name(name: str) -> bool:
    """Whether a part's name says that it is a bass, in the usual languages."""
    folded = name.casefold()
    return bool(_BASS_NAME.search(folded)) and not _OTHER_NAME.search(folded)


def single_share(notes: Iterable[Sounded]) -> float:
    """Return the share of the sounding time in which only one note sounds."""
    changes: Counter[int] = Counter()
    for note in notes:
        changes[note.onset] += 1
        changes[note.end] -= 1
    sounding = single = voices = before = 0
    for tick in sorted(changes):
        sounding += (tick - before) * (voices > 0)
        single += (tick - before) * (voices == 1)
        voices += changes[tick]
        before = tick
    return single / sounding if sounding else 1.0


def _melody(part: Part) -> list[tuple[int, int]]:
    return [(note.onset, note.pitch) for note in part.notes]


def _choice_notices(
    best: Part, reasons: str, parts: Sequence[Part], twins: Sequence[Part]
) -> list[Notice]:
    alone = len(parts) == 1
    if not reasons:
        which = "took the only one" if alone else f"took the lowest of {len(parts)} {_unit(best)}"
        message = f"nothing here looks like a bass part; {which}, {best}"
    elif alone:
        return []
    else:
        message = f"took {best} of {len(parts)} {_unit(best)} with notes: {reasons}"
    if not alone:
        message += "; --track takes another"
    notices = [Notice(Sort.CHOSEN, "", message)]
    if twins:
        others = " and ".join(map(str, twins[:MOST_LISTED]))
        notices.append(Notice(Sort.CHOSEN, "", f"the same line is doubled by {others}"))
    return notices


def _unit(part: Part) -> str:
    return "channels" if part.place.startswith("channel") else "parts"
