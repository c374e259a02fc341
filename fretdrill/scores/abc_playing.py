"""An ABC voice as it is played: ties joined, keys and tempos where they come."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from fretdrill.scores.abc_bars import BarNumbering, Place
from fretdrill.scores.abc_fragment import Fragment, Sound
from fretdrill.scores.abc_notices import Notices, place_text
from fretdrill.scores.abc_repeats import find_sections, play_order
from fretdrill.scores.reading import Sort
from fretdrill.theory.key import Key
from fretdrill.theory.line import Bar, Join, KeyChange, Line, Note, Tempo
from fretdrill.theory.metre import Metre
from fretdrill.theory.pitch import NoteName

NO_KEY = Key(NoteName("C"))
"""What a change to no signature at all is called: it has none either."""


@dataclass(slots=True)
class _Played:
    """Tied notes as one."""

    onset: Fraction
    duration: Fraction
    end: Fraction
    first: Sound
    last: Sound


class _Player:
    def __init__(self, notices: Notices) -> None:
        self._notices = notices
        self.position = Fraction(0)
        self.played: list[_Played] = []
        self.bars: list[Bar] = []
        self.tempos: list[Tempo] = [Tempo()]
        self.keys: list[KeyChange] = []

    def play(self, fragment: Fragment, place: Place) -> None:
        metre = fragment.metre or Metre()
        self.bars.append(Bar(place.number, self.position, fragment.length, metre, place.start))
        self._set_key(fragment.key)
        self._set_tempo(fragment.tempo or Tempo())
        for count, sound in enumerate(fragment.sounds):
            if count in fragment.keys:
                self._set_key(fragment.keys[count])
            if count in fragment.tempos:
                self._set_tempo(fragment.tempos[count])
            end = self.position + sound.length
            if sound.pitch is not None:
                self._play_note(sound, end)
            self.position = end

    def _play_note(self, sound: Sound, end: Fraction) -> None:
        before = self.played[-1] if self.played else None
        if before is not None and before.last.tied:
            if before.end == self.position and _same_pitch(before.last, sound):
                before.duration += sound.length
                before.end, before.last = end, sound
                return
            self.untied(before)
        self.played.append(_Played(self.position, sound.length, end, sound, sound))

    def untied(self, note: _Played) -> None:
        self._notices.add(
            Sort.CHANGED,
            "a tie that leads to no note of the same pitch is not read as one",
            note.last.spot,
            "{n} ties that lead to no note of the same pitch are not read as such",
        )

    def _set_key(self, key: Key | None) -> None:
        if key is None and not self.keys:
            return
        key = key or NO_KEY
        if self.keys and self.keys[-1].key == key:
            return
        if self.keys and self.keys[-1].onset == self.position:
            self.keys.pop()
        self.keys.append(KeyChange(self.position, key))

    def _set_tempo(self, tempo: Tempo) -> None:
        if self.tempos[-1][1:] == tempo[1:]:
            return
        if self.tempos[-1].onset == self.position:
            self.tempos.pop()
        self.tempos.append(tempo._replace(onset=self.position))


def _same_pitch(first: Sound, second: Sound) -> bool:
    return (
        first.pitch is not None
        and second.pitch is not None
        and first.pitch.midi == second.pitch.midi
    )


def _note(played: _Played, after: _Played | None, notices: Notices) -> Note:
    first, last = played.first, played.last
    follows = after is not None and after.onset == played.end
    join = Join.SLUR if follows and last.slurred else None
    if after is not None and after.first.slid and follows:
        join = Join.SLIDE
    elif after is not None and after.first.slid:
        notices.add(Sort.DROPPED, "a slide that comes from no note is left out", after.first.spot)
    if first.pitch is None:
        raise AssertionError("only sounds with a pitch are played")
    return Note(
        onset=played.onset,
        duration=played.duration,
        pitch=first.pitch,
        articulations=first.articulations | last.articulations,
        join=join,
        finger=first.finger if first.finger is not None else last.finger,
        where=place_text(first.spot),
    )


def play(fragments: Sequence[Fragment], title: str, source: str, notices: Notices) -> Line:
    """Play a voice out.

    Raises:
        InputError: with its repeats it is far too long.
    """
    sections = find_sections(fragments, notices)
    numbering = BarNumbering(fragments, sections)
    numbering.faults(notices)
    player = _Player(notices)
    for index in play_order(fragments, sections, source):
        player.play(fragments[index], numbering.places[index])
    played = player.played
    if played and played[-1].last.tied:
        player.untied(played[-1])
    if played and played[0].first.slid:
        notices.add(
            Sort.DROPPED, "a slide that comes from no note is left out", played[0].first.spot
        )
    return Line(
        title=title,
        notes=tuple(
            _note(note, after, notices)
            for note, after in zip(played, [*played[1:], None], strict=True)
        ),
        bars=tuple(player.bars),
        tempos=tuple(player.tempos),
        keys=tuple(player.keys),
    )
