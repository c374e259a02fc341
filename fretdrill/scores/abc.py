"""Reading a bass line written in ABC.

Idea: the file is split into tunes, the tune into voices, the voice's music into
tokens, and those into what stands between two bar lines; then it is played out.
The ABC music standard 2.1 (December 2011) is what all of it follows; paragraph
signs in these modules name its sections. Grace notes, ornaments, all but the lowest
note of a chord and all but one voice are left out, and each of that is noticed.
"""

from fretdrill.scores.abc_file import Tune, decode_abc, split_tunes
from fretdrill.scores.abc_fragment import Fragment
from fretdrill.scores.abc_header import FieldReader, Header, read_header
from fretdrill.scores.abc_notices import Notices, shown
from fretdrill.scores.abc_playing import play
from fretdrill.scores.abc_tokens import Voice, deal_voices
from fretdrill.scores.abc_voice import VoiceReader
from fretdrill.scores.reading import Reading, Sort

__all__ = ["decode_abc", "read_abc", "tune_numbers"]

_MOST_LISTED = 12


def read_abc(text: str, source: str, tune: int | None = None) -> Reading:
    """Read one tune of an ABC file.

    Args:
        text: the file's text.
        source: its name, for faults and for a tune without a title.
        tune: the number in its X: field; None for the first.

    Raises:
        InputError: there is nothing to read, or a field that the notes depend on
            cannot be read.
    """
    notices = Notices()
    reader = FieldReader(source, notices)
    tunes = split_tunes(text)
    chosen = _choose_tune(tunes, tune, reader)
    header = read_header(chosen, reader)
    deal_voices(chosen, header.voices, plus=header.plus)
    voice = _choose_voice(header, notices)
    fragments = VoiceReader(header, voice, reader).read() if voice is not None else []
    if not any(sound.pitch for fragment in fragments for sound in fragment.sounds):
        raise reader.fault(_why_empty(chosen, tunes), chosen.line)
    _notice_free_metre(fragments, notices)
    line = play(fragments, header.title or source, source, notices)
    return Reading(line, notices.all())


def tune_numbers(text: str) -> list[int]:
    """Return the numbers of the tunes in a file, in order, each once."""
    return list(dict.fromkeys(tune.number for tune in split_tunes(text)))


def _choose_tune(tunes: list[Tune], wanted: int | None, reader: FieldReader) -> Tune:
    if not tunes:
        raise reader.fault("there is no ABC tune in it; a tune begins with an X: line")
    if wanted is None:
        if len(tunes) > 1:
            reader.notices.add(
                Sort.CHOSEN,
                f"tune {tunes[0].number}, the first of {len(tunes):,}, is read; "
                "'--tune N' takes another",
            )
        return tunes[0]
    for tune in tunes:
        if tune.number == wanted:
            return tune
    raise reader.fault(f"there is no tune {wanted}; {_listed(tunes)}")


def _listed(tunes: list[Tune]) -> str:
    numbers = ", ".join(str(tune.number) for tune in tunes[:_MOST_LISTED])
    more = ", …" if len(tunes) > _MOST_LISTED else ""
    return f"there {'is' if len(tunes) == 1 else 'are'} {numbers}{more}"


def _why_empty(tune: Tune, tunes: list[Tune]) -> str:
    if not tune.has_key:
        return f"tune {tune.number} has no K: line, which its music must follow"
    other = f"; {_listed(tunes)}" if len(tunes) > 1 else ""
    return f"tune {tune.number} has no notes{other}"


def _choose_voice(header: Header, notices: Notices) -> Voice | None:
    """Return the voice to read: a bass if one is, otherwise the first with notes."""
    voices = [voice for voice in header.voices.values() if voice.has_notes]
    if len(voices) < 2:
        return voices[0] if voices else None
    pitched = [voice for voice in voices if "perc" not in voice.clefs] or voices
    voice, why = pitched[0], "it is the first with notes"
    for candidates, reason in (
        ([voice for voice in pitched if voice.named_bass], "it is called a bass"),
        ([voice for voice in pitched if voice.in_bass_clef], "it is in the bass clef"),
    ):
        if candidates:
            voice, why = candidates[0], reason
            break
    notices.add(Sort.CHOSEN, f"voice {shown(voice.name)} of {len(voices)} is read: {why}")
    others = [other.name for other in voices if other is not voice]
    named = ", ".join(map(shown, others[:_MOST_LISTED]))
    more = ", …" if len(others) > _MOST_LISTED else ""
    notices.add(Sort.DROPPED, f"left out: voice{'s' if len(others) > 1 else ''} {named}{more}")
    return voice


def _notice_free_metre(fragments: list[Fragment], notices: Notices) -> None:
    for fragment in fragments:
        if fragment.metre is None:
            notices.add(
                Sort.CHANGED,
                "without a metre the bars are as long as the bar lines say, counted in quarters",
                fragment.spot,
            )
            return
