"""Reads a line from whatever a musician has: the content says what it is."""

from fretdrill.errors import InputError
from fretdrill.scores.reading import Notice, Reading, Sort


def read_line(
    content: bytes, source: str, *, tune: int | None = None, track: str | None = None
) -> Reading:
    """Read a line from a Standard MIDI File or ABC text.

    Args:
        content: the file's bytes.
        source: what to call it.
        tune: number of the tune in an ABC file with several.
        track: number, from 1, or name of the track of a MIDI file.

    Raises:
        InputError: there is no line in it, and why.
    """
    if content[:4] in (b"MThd", b"RIFF"):
        if tune is not None:
            raise InputError(f"{source} is a MIDI file: it has tracks (--track), no tunes")
        from fretdrill.scores.midi import read_midi

        return read_midi(content, source, track)
    if content[:2] == b"PK" or content.lstrip(b"\xef\xbb\xbf \r\n\t")[:1] == b"<":
        raise InputError(f"{source} looks like MusicXML, which is not read yet; ABC and MIDI are")
    if b"\0" in content:
        raise InputError(f"{source} is neither ABC text nor a Standard MIDI File")
    if track is not None:
        raise InputError(f"{source} is ABC text: it has tunes (--tune), no tracks")
    from fretdrill.scores.abc import decode_abc, read_abc

    text, latin = decode_abc(content)
    reading = read_abc(text, source, tune)
    if not latin:
        return reading
    notice = Notice(Sort.CHANGED, "", "it is not UTF-8; read as Latin-1")
    return Reading(reading.line, (notice, *reading.notices))
