"""What is written between two bar lines of an ABC voice."""

from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property
from itertools import accumulate

from fretdrill.scores.abc_notices import Spot
from fretdrill.theory.key import Key
from fretdrill.theory.line import Articulation, Tempo
from fretdrill.theory.metre import Metre
from fretdrill.theory.pitch import Pitch

MOST_SOUNDS = 100_000
MOST_ENDINGS = 99


@dataclass(slots=True)
class Sound:
    """A note, or a rest where there is no pitch, as it is written."""

    length: Fraction
    pitch: Pitch | None
    spot: Spot
    articulations: frozenset[Articulation] = frozenset()
    finger: int | None = None
    slid: bool = False
    tied: bool = False
    slurred: bool = False


@dataclass
class Fragment:
    """What is written between two bar lines.

    Attributes:
        metre: its metre; None for free metre.
        key: the key at its beginning.
        tempo: the tempo at its beginning.
        begins: how often ``:`` stands before it: a repeat begins.
        endings: the passes that it is the beginning of an ending for.
        unbarred: whether no bar line stands before it.
        sounds: its notes and rests.
        keys: number of sounds before a change → the new key.
        tempos: number of sounds before a change → the new tempo.
        ends: how often ``:`` stands after it: a repeat ends.
        double: whether a double bar line stands after it.
    """

    metre: Metre | None
    key: Key | None
    tempo: Tempo | None
    begins: int = 0
    endings: frozenset[int] = frozenset()
    unbarred: bool = False
    sounds: list[Sound] = field(default_factory=list)
    keys: dict[int, Key | None] = field(default_factory=dict)
    tempos: dict[int, Tempo] = field(default_factory=dict)
    ends: int = 0
    double: bool = False

    @cached_property
    def length(self) -> Fraction:
        """Its length, once it is complete."""
        return sum((sound.length for sound in self.sounds), Fraction(0))

    @property
    def spot(self) -> Spot:
        """Where it begins."""
        return self.sounds[0].spot


def passes(text: str) -> frozenset[int]:
    """Read the numbers of an ending, such as ``1,3-5`` (§4.10)."""
    found: set[int] = set()
    for part in text.split(",")[: MOST_ENDINGS + 1]:
        ends = [min(int(end[:4] or 0), MOST_ENDINGS) for end in part.split("-")]
        found.update(range(ends[0], ends[-1] + 1))
    return frozenset(found - {0})


class Slurs:
    """The slurs of a voice; they may be nested and cross bar lines (§4.11)."""

    def __init__(self) -> None:
        self.melody: list[Sound] = []
        self._open: list[tuple[int, Spot]] = []
        self._steps: dict[int, int] = {}

    def begin(self, spot: Spot) -> None:
        """Begin a slur on the next note."""
        self._open.append((len(self.melody), spot))

    def end(self) -> bool:
        """End the latest slur on the last note; False if none was begun."""
        if not self._open:
            return False
        first, _ = self._open.pop()
        last = len(self.melody) - 1
        if last > first:
            self._steps[first] = self._steps.get(first, 0) + 1
            self._steps[last] = self._steps.get(last, 0) - 1
        return True

    def settle(self) -> list[Spot]:
        """Mark every note inside a slur but its last; return where slurs stay open."""
        steps = [self._steps.get(index, 0) for index in range(len(self.melody))]
        for sound, depth in zip(self.melody, accumulate(steps), strict=True):
            sound.slurred = depth > 0
        return [spot for _, spot in self._open]
