"""Standard MIDI Files made byte by byte, and by another hand.

The byte layouts are those of the Standard MIDI-File Format Specification 1.1. What
:func:`written` makes comes from an independent writer, so that reader and writer
cannot share a mistake.
"""

from collections.abc import Iterable
from io import BytesIO

import mido

END = bytes((0, 0xFF, 0x2F, 0))
QUARTER = 480


def delta(ticks: int) -> bytes:
    """Write a variable-length number (SMF 1.1, Conventions)."""
    groups = [ticks & 0x7F]
    while ticks := ticks >> 7:
        groups.append(ticks & 0x7F | 0x80)
    return bytes(reversed(groups))


def event(ticks: int, *data: int) -> bytes:
    """Write an event some ticks after the one before it."""
    return delta(ticks) + bytes(data)


def meta(ticks: int, kind: int, text: bytes = b"") -> bytes:
    """Write a meta event."""
    return event(ticks, 0xFF, kind) + delta(len(text)) + text


def chunk(name: bytes, body: bytes) -> bytes:
    """Write a chunk."""
    return name + len(body).to_bytes(4, "big") + body


def smf(*tracks: bytes, kind: int = 1, division: int = 96, end: bytes = END) -> bytes:
    """Write a file; each track is given without its End of Track."""
    header = b"".join(number.to_bytes(2, "big") for number in (kind, len(tracks), division))
    return chunk(b"MThd", header) + b"".join(chunk(b"MTrk", track + end) for track in tracks)


def one_note(ticks: int = 96, pitch: int = 28, channel: int = 1, start: int = 0) -> bytes:
    """Write the events of a single note."""
    status = 0x90 + channel - 1
    return event(start, status, pitch, 64) + event(ticks, status, pitch, 0)


def melody(*pitches: int, channel: int = 1, programme: int | None = None) -> bytes:
    """Write quarters without a gap, at 96 ticks each."""
    start = b"" if programme is None else event(0, 0xC0 + channel - 1, programme - 1)
    return start + b"".join(one_note(96, pitch, channel) for pitch in pitches)


def written(
    notes: Iterable[tuple[int, int, int]],
    *metas: mido.MetaMessage,
    name: str = "",
    programme: int | None = None,
    division: int = QUARTER,
) -> bytes:
    """Let another program's library write one track.

    Args:
        notes: onset and end in ticks, and the pitch.
        metas: what stands at the beginning.
        name: the track's name.
        programme: the General MIDI programme, from 1.
        division: ticks in a quarter.
    """
    track = mido.MidiTrack(metas)
    if name:
        track.append(mido.MetaMessage("track_name", name=name))
    if programme is not None:
        track.append(mido.Message("program_change", program=programme - 1))
    changes = [(onset, 1, pitch) for onset, _, pitch in notes]
    changes += [(end, 0, pitch) for _, end, pitch in notes]
    now = 0
    for tick, on, pitch in sorted(changes):
        track.append(mido.Message("note_on", note=pitch, velocity=80 * on, time=tick - now))
        now = tick
    file = mido.MidiFile(type=1, ticks_per_beat=division, tracks=[track])
    content = BytesIO()
    file.save(file=content)
    return content.getvalue()
