"""Reads a line from whatever a musician has: the content says what it is."""

from fretdrill.errors import InputError, ManyFaults
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
    if _is_midi(content):
        if tune is not None:
            raise InputError(f"{source} is a MIDI file: it has tracks (--track), no tunes")
        from fretdrill.scores.midi import read_midi

        return read_midi(content, source, track)
    if track is not None:
        raise InputError(f"{source} is ABC text: it has tunes (--tune), no tracks")
    from fretdrill.scores.abc import read_abc

    text, notices = _abc_text(content, source)
    reading = read_abc(text, source, tune)
    return Reading(reading.line, (*notices, *reading.notices))


def read_all_lines(content: bytes, source: str) -> list[Reading]:
    """Read every tune of a file.

    Raises:
        InputError: all that is wrong with any of them.
    """
    if _is_midi(content):
        return [read_line(content, source)]
    from fretdrill.scores.abc import read_abc, tune_numbers

    text, notices = _abc_text(content, source)
    numbers: list[int | None] = [*tune_numbers(text)] or [None]
    readings, faults = [], []
    for number in numbers:
        try:
            reading = read_abc(text, source, number)
        except InputError as fault:
            faults.append(fault)
        else:
            readings.append(Reading(reading.line, (*notices, *reading.notices)))
    if faults:
        raise ManyFaults.of(faults)
    return readings


def _is_midi(content: bytes) -> bool:
    return content[:4] in (b"MThd", b"RIFF")


def _abc_text(content: bytes, source: str) -> tuple[str, tuple[Notice, ...]]:
    if content[:2] == b"PK" or content.lstrip(b"\xef\xbb\xbf \r\n\t")[:1] == b"<":
        raise InputError(f"{source} looks like MusicXML, which is not read yet; ABC and MIDI are")
    if b"\0" in content:
        raise InputError(f"{source} is neither ABC text nor a Standard MIDI File")
    from fretdrill.scores.abc import decode_abc

    text, latin = decode_abc(content)
    if not latin:
        return text, ()
    return text, (Notice(Sort.CHANGED, "", "it is not UTF-8; read as Latin-1"),)
