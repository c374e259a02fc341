"""Read a line out of a Standard MIDI File.

MIDI tells when keys went down and up, not what was written: the part is chosen in
:mod:`~fretdrill.scores.midi_tracks`, its times become note values in
:mod:`~fretdrill.scores.quantise`, and pitches are spelled by the key signature, as in
C major where there is none. Pedals and pitch bends are not read.
"""

from collections.abc import Iterator

from fretdrill.errors import InputError
from fretdrill.scores.midi_events import Contents, read_contents
from fretdrill.scores.midi_time import Division, TimeMap, read_time
from fretdrill.scores.midi_tracks import Part, Sounded, choose_part, read_parts
from fretdrill.scores.quantise import Pulse, Quantised, Written, quantise
from fretdrill.scores.reading import Notice, Reading, Sort
from fretdrill.theory.line import Articulation, Line, Note


def read_midi(content: bytes, source: str, track: str | None = None) -> Reading:
    """Read the bass part of a Standard MIDI File.

    Args:
        content: the file's bytes.
        source: the file's name, for faults and where no track has a name.
        track: the number or the name of the track to read instead.

    Raises:
        InputError: there is nothing to read.
    """
    contents = read_contents(content, source)
    parts = read_parts(contents)
    if not parts:
        raise InputError(f"{source} has no notes{_why_none(contents)}")
    part, chosen = choose_part(parts, source, track)
    if contents.type == 2 and len(parts) > 1:
        message = "its tracks are separate pieces (type 2); only this one is read"
        chosen.append(Notice(Sort.CHOSEN, "", message))
    division = Division.read(contents.division, source)
    time = read_time(contents, part.track, division)
    notes = [
        Sounded(onset * division.scale, end * division.scale, pitch)
        for onset, end, pitch in part.notes
    ]
    # Room for the last note to move and to be rounded up.
    spans = time.spans(max(note.end for note in notes) + 2 * division.quarter, source)
    # A place that is no whole number of ticks is written less than half a tick away.
    rounding = (division.scale - 1) // 2
    written = quantise(notes, Pulse(division.quarter, spans, time.tempos), rounding)
    end = written.notes[-1].onset + written.notes[-1].length
    line = Line(
        _title(contents, part, source),
        tuple(_notes(written.notes, part, time)),
        time.bars(spans, end),
        time.line_tempos(end),
        time.line_keys(end),
    )
    notices = (*contents.notices, *chosen, *time.notices, *_reading_notices(part, written))
    return Reading(line, notices)


def _why_none(contents: Contents) -> str:
    broken = next((track for track in contents.tracks if track.broken), None)
    return f"; track {broken.number} breaks off at tick {broken.end}" if broken else ""


def _title(contents: Contents, part: Part, source: str) -> str:
    return part.track.name or contents.tracks[0].name or source


def _notes(written: list[Written], part: Part, time: TimeMap) -> Iterator[Note]:
    whole, scale = time.division.whole_notes, time.division.scale
    for note in written:
        yield Note(
            onset=whole(note.onset),
            duration=whole(note.length),
            pitch=time.key_at(note.onset).spell(note.pitch),
            articulations=frozenset({Articulation.STACCATO} if note.staccato else ()),
            where=f"{part.place}, tick {note.played // scale}",
        )


def _reading_notices(part: Part, written: Quantised) -> Iterator[Notice]:
    if written.grids:
        mean, most = _milliseconds(written.mean_s), _milliseconds(written.most_s)
        message = (
            f"moved to a grid of {written.grid_name}, by {mean} on average, {most} at the most"
        )
        yield Notice(Sort.CHANGED, "", message)
    for number, sort, message in (
        (part.hanging, Sort.CHANGED, "notes that never end were ended with the track"),
        (written.without_length, Sort.CHANGED, "notes without a length were given a thirty-second"),
        (written.cut, Sort.CHANGED, "notes that sounded on under the next one were cut there"),
        (written.chords, Sort.DROPPED, "chords reduced to the lowest note"),
        (written.crowded, Sort.DROPPED, "notes too close to the one before them were left out"),
        (part.bends, Sort.DROPPED, "pitch bends beyond a semitone are not read"),
    ):
        if number:
            yield Notice(sort, "", f"{message}: {f'{number:,} times' if number > 1 else 'once'}")


def _milliseconds(seconds: float) -> str:
    return f"{max(1, round(seconds * 1000))} ms"
