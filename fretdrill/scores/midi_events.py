"""The bytes of a Standard MIDI File as tracks of events.

Source: Standard MIDI-File Format Specification 1.1 (IMA), here SMF 1.1. Conventions:
times are ticks from the beginning of the track; tracks count from 1.

Events are split here, one by one, so that a broken one costs no more than what
follows it in its own track, and so that no byte can make reading slow: each byte is
looked at once.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import NamedTuple

from fretdrill.errors import InputError, printable
from fretdrill.scores.reading import Notice, Sort

MOST_EVENTS = 500_000
MOST_NAME = 60
MOST_TOLD = 3  # broken tracks that are named one by one

NOTE_OFF, NOTE_ON, CONTROL, PROGRAMME, BEND = 0x80, 0x90, 0xB0, 0xC0, 0xE0
META, SYSEX, ESCAPE = 0xFF, 0xF0, 0xF7
TRACK_NAME, INSTRUMENT_NAME, END_OF_TRACK = 0x03, 0x04, 0x2F
SET_TEMPO, TIME_SIGNATURE, KEY_SIGNATURE = 0x51, 0x58, 0x59

_HEADER, _TRACK = b"MThd", b"MTrk"
_CHUNK_HEAD = 8  # four letters and a length of four bytes
_HEADER_BYTES = 6
_MOST_LENGTH_BYTES = 4  # SMF 1.1, Conventions: the largest number is 0FFFFFFF
_DATA_BYTES = {0x80: 2, 0x90: 2, 0xA0: 2, 0xB0: 2, 0xC0: 1, 0xD0: 1, 0xE0: 2}
_SYSTEM_BYTES = {0xF1: 1, 0xF2: 2, 0xF3: 1}  # not allowed in files, met all the same


class Event(NamedTuple):
    """One event of a track.

    Attributes:
        tick: when it comes.
        status: its status byte, channel included; :data:`META` for a meta event.
        data: its data bytes; for a meta event its type, then its text.
    """

    tick: int
    status: int
    data: bytes


@dataclass
class Track:
    """One track as far as it can be read.

    Attributes:
        number: its place in the file, from 1.
        events: channel and meta events, in order; system exclusives are left out.
        end: the tick it ends at.
        broken: whether it breaks off.
    """

    number: int
    events: list[Event] = field(default_factory=list)
    end: int = 0
    broken: bool = False

    @property
    def name(self) -> str:
        """What it is called, by its name or else by its instrument; may be empty."""
        for kind in (TRACK_NAME, INSTRUMENT_NAME):
            for event in self.metas(kind):
                name = _decoded(event.data[1:])
                if name:
                    return name
        return ""

    def metas(self, kind: int) -> Iterator[Event]:
        """Its meta events of one type."""
        return (event for event in self.events if event.status == META and event.data[0] == kind)


class Contents(NamedTuple):
    """What a file holds.

    Attributes:
        type: 0, 1 or 2.
        division: the header's two bytes on time, as an unsigned number.
        tracks: in order.
        notices: what could not be read.
    """

    type: int
    division: int
    tracks: list[Track]
    notices: list[Notice]


class _BrokenEvent(Exception):
    """An event breaks off or is none."""


def read_contents(content: bytes, source: str) -> Contents:
    """Split a file into tracks of events.

    Raises:
        InputError: it is not a MIDI file, has no tracks, or far too many events.
    """
    start = _start(content, source)
    length = int.from_bytes(content[start + 4 : start + _CHUNK_HEAD], "big")
    header = content[start + _CHUNK_HEAD : start + _CHUNK_HEAD + _HEADER_BYTES]
    if len(header) < _HEADER_BYTES:
        raise InputError(f"{source} is cut off inside the header of a MIDI file")
    kind, promised, division = (int.from_bytes(header[i : i + 2], "big") for i in (0, 2, 4))
    first = start + _CHUNK_HEAD + length
    if length < _HEADER_BYTES or not content.startswith(_TRACK, first):
        first = start + _CHUNK_HEAD + _HEADER_BYTES
    tracks = _read_tracks(content, first, source)
    if not tracks:
        raise InputError(f"{source} is a MIDI file without tracks")
    notices = _header_notices(kind, promised, len(tracks))
    notices += _broken_notices([track for track in tracks if track.broken])
    return Contents(kind if kind <= 2 else 1, division, tracks, notices)


def _start(content: bytes, source: str) -> int:
    if not content:
        raise InputError(f"{source} is empty")
    if content.startswith(_HEADER):
        return 0
    if content.startswith(b"RIFF") and content[8:12] == b"RMID":
        # Lengths in such files are often wrong, so the header itself is looked for.
        start = content.find(_HEADER, 12)
        if start >= 0:
            return start
    raise InputError(f"{source} is not a MIDI file")


def _header_notices(kind: int, promised: int, found: int) -> list[Notice]:
    notices = []
    if kind > 2:
        notices.append(Notice(Sort.CHANGED, "", f"file type {kind} is unknown; read as type 1"))
    if found < promised:
        message = f"the file promises {promised} tracks, but only {found} can be found"
        notices.append(Notice(Sort.DROPPED, "", message))
    return notices


def _broken_notices(broken: list[Track]) -> Iterator[Notice]:
    for track in broken[:MOST_TOLD]:
        where = f"track {track.number}, tick {track.end}"
        yield Notice(Sort.DROPPED, where, "the track breaks off here; nothing after it is read")
    if len(broken) > MOST_TOLD:
        yield Notice(Sort.DROPPED, "", f"{len(broken) - MOST_TOLD:,} more tracks break off")


def _read_tracks(content: bytes, first: int, source: str) -> list[Track]:
    tracks: list[Track] = []
    events = 0
    for body in _bodies(content, first):
        track = Track(len(tracks) + 1)
        try:
            for event in _events(body, track):
                track.events.append(event)
                events += 1
                if events > MOST_EVENTS:
                    raise InputError(f"{source} has more than {MOST_EVENTS:,} events")
        except _BrokenEvent:
            track.broken = True
        tracks.append(track)
    return tracks


def _bodies(content: bytes, first: int) -> Iterator[bytes]:
    """Yield what stands in each track chunk; other chunks and stray bytes are passed over."""
    start = content.find(_TRACK, first)
    while start >= 0:
        length = int.from_bytes(content[start + 4 : start + _CHUNK_HEAD], "big")
        start += _CHUNK_HEAD
        end = start + length
        if end != len(content) and not content.startswith(_TRACK, end):
            # The length is not to be trusted; End of Track will say where to stop.
            following = content.find(_TRACK, start)
            end = following if following >= 0 else len(content)
        yield content[start:end]
        start = content.find(_TRACK, end)


def _events(body: bytes, track: Track) -> Iterator[Event]:
    """Yield a track's events and keep :attr:`Track.end` at the last one.

    Raises:
        _BrokenEvent: the track breaks off.
    """
    place, tick, running = 0, 0, 0
    while place < len(body):
        delta, place = _variable_length(body, place)
        if place == len(body):
            raise _BrokenEvent
        tick += delta
        status = body[place]
        if status >= 0x80:
            place += 1
        elif running:
            status = running  # also after meta events, where SMF 1.1 forbids it
        else:
            raise _BrokenEvent
        track.end = tick
        if status in (META, SYSEX, ESCAPE):
            data, place = _long_data(body, place, with_type=status == META)
            if status == META:
                yield Event(tick, status, data)
                if data[0] == END_OF_TRACK:
                    return
            continue
        if status < SYSEX:
            running = status
            size = _DATA_BYTES[status & 0xF0]
        else:
            size = _SYSTEM_BYTES.get(status, 0)
        data = body[place : place + size]
        place += size
        if len(data) < size:
            raise _BrokenEvent
        if status < SYSEX:
            yield Event(tick, status, data if data.isascii() else _clipped(data))


def _long_data(body: bytes, place: int, *, with_type: bool) -> tuple[bytes, int]:
    length, start = _variable_length(body, place + with_type)
    end = start + length
    if end > len(body):
        raise _BrokenEvent
    return body[place : place + with_type] + body[start:end], end


def _clipped(data: bytes) -> bytes:
    return bytes(min(byte, 0x7F) for byte in data)


def _variable_length(body: bytes, place: int) -> tuple[int, int]:
    """Return a variable-length number and the place after it."""
    number = 0
    for byte in body[place : place + _MOST_LENGTH_BYTES]:
        place += 1
        number = number << 7 | byte & 0x7F
        if byte < 0x80:
            return number, place
    raise _BrokenEvent


def _decoded(text: bytes) -> str:
    try:
        name = text.decode("utf-8")
    except UnicodeDecodeError:
        name = text.decode("latin-1")
    return " ".join(printable(name.replace("\0", " ")).split())[:MOST_NAME]
