"""An ABC voice as it is played: repeats played out, bars numbered, ties joined.

Everything here follows the ABC standard 2.1, sections 4.8 to 4.11. The standard does
not say how bars are numbered; common practice is: from 1, a pickup not counted, the
two halves of a bar that a repeat sign cuts in two together.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import accumulate
from typing import NamedTuple

from fretdrill.errors import InputError
from fretdrill.scores.abc_notices import Notices, place_text
from fretdrill.scores.abc_voice import MOST_SOUNDS, Fragment, Sound
from fretdrill.scores.reading import Sort
from fretdrill.theory.key import Key
from fretdrill.theory.line import Bar, Join, KeyChange, Line, Note, Tempo
from fretdrill.theory.metre import Metre
from fretdrill.theory.pitch import NoteName

NO_KEY = Key(NoteName("C"))
"""What a change to no signature at all is called: it has none either."""


class Section(NamedTuple):
    """A stretch that is played once or several times over.

    Attributes:
        body: the fragments that every pass begins with.
        endings: the passes and the fragments of each ending.
        times: how often it is played.
    """

    body: range
    endings: tuple[tuple[frozenset[int], range], ...] = ()
    times: int = 1

    @property
    def passes(self) -> list[tuple[range, ...]]:
        """The fragments of each pass; one pass for all where there are no endings."""
        if not self.endings:
            return [(self.body,)]
        if not self.body:
            return [(ending,) for _, ending in self.endings]
        return [
            (self.body, *(ending for numbers, ending in self.endings if number in numbers))
            for number in range(1, self.times + 1)
        ]


class _Sectioner:
    """Finds the sections of a voice."""

    def __init__(self, fragments: Sequence[Fragment], notices: Notices) -> None:
        self._fragments = fragments
        self._notices = notices
        self._sections: list[Section] = []
        self._start = 0
        self._endings: list[tuple[frozenset[int], int]] = []

    def sections(self) -> list[Section]:
        for index, fragment in enumerate(self._fragments):
            if fragment.begins:
                self._close(index)
            elif fragment.endings & self._taken:
                self._close(self._end_of_last(index))
            if fragment.endings:
                self._endings.append((fragment.endings, index))
            if self._endings and self._goes_on(index + 1):
                continue
            begun = self._fragments[self._start].begins
            if fragment.ends:
                self._close(index + 1, max(begun, fragment.ends) + 1)
            elif fragment.double and (self._endings or not begun):
                # §4.8: a repeat without a beginning goes back to the last double bar line.
                self._close(index + 1)
        self._close(len(self._fragments))
        return self._sections

    @property
    def _taken(self) -> frozenset[int]:
        return frozenset().union(*(numbers for numbers, _ in self._endings))

    def _goes_on(self, index: int) -> bool:
        """Whether the next fragment is one more ending."""
        if index == len(self._fragments):
            return False
        following = self._fragments[index]
        same = not following.begins and not following.endings & self._taken
        ended = self._fragments[index - 1].ends or self._fragments[index - 1].double
        return (same and bool(following.endings)) or not ended

    def _end_of_last(self, index: int) -> int:
        """Where a last ending without a double bar line ends: it is as long as the first."""
        starts = [start for _, start in self._endings]
        if len(starts) < 2:
            return index
        return min(index, starts[-1] + starts[1] - starts[0])

    def _close(self, stop: int, times: int = 1) -> None:
        if stop <= self._start:
            return
        first = self._fragments[self._start]
        if self._endings:
            starts = [start for _, start in self._endings]
            ranges = [range(a, b) for a, b in zip(starts, [*starts[1:], stop], strict=True)]
            endings = tuple(zip((numbers for numbers, _ in self._endings), ranges, strict=True))
            again = len(endings) == 1 and self._fragments[stop - 1].ends > 0
            section = Section(range(self._start, starts[0]), endings, max(self._taken) + again)
        else:
            section = Section(range(self._start, stop), (), times)
            if first.begins and times == 1:
                self._notices.add(
                    Sort.CHANGED,
                    "a repeat that is begun has no end and is played once",
                    first.spot,
                    "{n} repeats that are begun have no end and are played once",
                )
        self._sections.append(section)
        self._start, self._endings = stop, []


def find_sections(fragments: Sequence[Fragment], notices: Notices) -> list[Section]:
    """Divide a voice into the sections that its repeat signs make (§4.8 to §4.10)."""
    return _Sectioner(fragments, notices).sections()


def play_order(
    fragments: Sequence[Fragment], sections: Sequence[Section], source: str
) -> list[int]:
    """Return the fragments in the order they are played.

    Raises:
        InputError: that would be far too long.
    """
    sounds = [0, *accumulate(len(fragment.sounds) for fragment in fragments)]
    order: list[int] = []
    left = MOST_SOUNDS
    for section in sections:
        times = 1 if section.endings else section.times
        for stretch in (stretch for stretches in section.passes for stretch in stretches):
            left -= times * (sounds[stretch.stop] - sounds[stretch.start])
            if left < 0:
                raise InputError(
                    f"{source}: with its repeats the tune is longer than {MOST_SOUNDS:,} notes"
                )
            order += [*stretch] * times
    return order


class Place(NamedTuple):
    """How a fragment stands in its bar: the bar's number and where it begins in it."""

    number: int
    start: Fraction = Fraction(0)


class BarNumbering:
    """Numbers the bars of a voice as they are written."""

    def __init__(self, fragments: Sequence[Fragment], sections: Sequence[Section]) -> None:
        self._fragments = fragments
        self._first_of: dict[int, int] = {}
        self._lasts_of: dict[int, list[int]] = {}
        for section in sections:
            stretches = [ending for _, ending in section.endings] or [section.body]
            first = (section.body or stretches[0]).start
            self._lasts_of[first] = [stretch.stop - 1 for stretch in stretches]
            for stretch in (section.body, *stretches):
                self._first_of.update(dict.fromkeys(stretch, first))
        self._joined: set[int] = set()
        self.places = self._number()

    def faults(self, notices: Notices) -> None:
        """Notice the bars that are too short or too long for no good reason."""
        wrong = [i for i in range(len(self._fragments)) if self._is_wrong(i)]
        if not wrong:
            return
        first = self._fragments[wrong[0]]
        metre = first.metre or Metre()
        others = len(wrong) - 1
        also = {0: "", 1: ", and 1 more bar is too short or too long"}.get(
            others, f", and {others:,} more bars are too short or too long"
        )
        held = mixed(first.length / metre.beat)
        number = self.places[wrong[0]].number
        notices.add(
            Sort.CHANGED, f"bar {number} holds {held} beats of {metre.beats}{also}", first.spot
        )

    def _number(self) -> list[Place]:
        places: list[Place] = []
        number = 0
        before_endings: int | None = None
        for index, fragment in enumerate(self._fragments):
            before: int | None = index - 1 if index else None
            if fragment.endings and 1 in fragment.endings:
                before_endings = before
            elif fragment.endings:
                before = before_endings
            if before is not None and self._completes(before, index):
                if places[before].number == 0:
                    places[before], number = Place(1), 1
                places.append(Place(places[before].number, self._fragments[before].length))
                self._joined |= {before, index}
            elif index == 0 and len(self._fragments) > 1 and self._missing(0) > 0:
                places.append(Place(0, self._missing(0)))
            else:
                number += 1
                start = self._missing(index) if self._is_later_pickup(index) else Fraction(0)
                places.append(Place(number, start))
        return places

    def _missing(self, index: int) -> Fraction:
        """Return what a fragment lacks to a full bar; 0 in free metre."""
        fragment = self._fragments[index]
        return Fraction(0) if fragment.metre is None else fragment.metre.bar - fragment.length

    def _cut_between(self, before: int, index: int) -> bool:
        """Whether what stands between two fragments may cut a bar in two."""
        first, second = self._fragments[before], self._fragments[index]
        signs = first.ends or first.double or second.begins or second.endings or second.unbarred
        return bool(signs)

    def _completes(self, before: int, index: int) -> bool:
        first, second = self._fragments[before], self._fragments[index]
        whole = first.metre == second.metre and self._missing(before) == second.length
        fresh = before not in self._joined or bool(second.endings)
        return whole and second.length > 0 and fresh and self._cut_between(before, index)

    def _is_later_pickup(self, index: int) -> bool:
        """Whether a repeated section begins with a pickup that its last bar makes up for."""
        length = self._fragments[index].length
        lasts = self._lasts_of.get(index, []) if index and self._missing(index) > 0 else []
        return any(last != index and self._missing(last) == length for last in lasts)

    def _ends_section(self, index: int) -> bool:
        last = index + 1 == len(self._fragments)
        return last or self._cut_between(index, index + 1)

    def _is_wrong(self, index: int) -> bool:
        missing = self._missing(index)
        if not missing or index in self._joined or self.places[index].number == 0:
            return False
        if self.places[index].start:
            return False
        pickups = {0, self._first_of[index]} - {index}
        made_up = any(
            self._fragments[pickup].length == missing and self._missing(pickup) > 0
            for pickup in pickups
        )
        return not (made_up and self._ends_section(index))


def mixed(number: Fraction) -> str:
    """Print a number as ``"3 1/2"``."""
    whole, rest = divmod(number, 1)
    return f"{whole} {rest}" if whole and rest else str(rest or whole)


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
