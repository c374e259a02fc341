"""The repeats of an ABC voice, played out.

Everything here follows the ABC standard 2.1, sections 4.8 to 4.10.
"""

from collections.abc import Sequence
from itertools import accumulate
from typing import NamedTuple

from fretdrill.errors import InputError
from fretdrill.scores.abc_fragment import MOST_SOUNDS, Fragment
from fretdrill.scores.abc_notices import Notices
from fretdrill.scores.reading import Sort


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
