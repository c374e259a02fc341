"""What the costs of the left hand weigh: data, each number with its origin.

Costs have no unit; they order fingerings. One unit is about what it costs to be
a semitone past a comfortable reach. No study that measures fretting on the electric bass was found,
so most weights are assumptions, held to the facts of the trade by the tests.
"""

from dataclasses import dataclass
from enum import Enum
from typing import NamedTuple

from fretdrill.errors import UnknownName


class Label(Enum):
    """How sure a number is."""

    SOURCED = "sourced"
    DERIVED = "derived"
    ASSUMPTION = "assumption"


class Origin(NamedTuple):
    """Where a weight comes from."""

    unit: str
    label: Label
    source: str


@dataclass(frozen=True, slots=True)
class Weights:
    """One set of weights; :data:`ORIGINS` says what each is and where it comes from."""

    stretch: float = 0.2
    stretch_near_nut: float = 0.1
    stretch_together: float = 1.0
    crowded: float = 1.0
    bent: float = 1.5
    pivot: float = 1.95
    pivot_far: float = 0.065
    creep: float = 2.5
    shift: float = 3.25
    shift_time: float = 2.0
    shift_fret: float = 0.1
    no_time: float = 1.5
    guide: float = 0.9
    string: float = 0.2
    roll: float = 0.4
    hop: float = 2.3
    too_fast: float = 5.0
    swap: float = 1.0
    order: float = 5.0
    slant: float = 0.3
    finger_1: float = 0.0
    finger_2: float = 0.0
    finger_3: float = 0.15
    finger_4: float = 0.30
    place: float = 0.5
    open: float = 0.1
    open_high: float = 0.7
    open_leap: float = 3.0
    broken_join: float = 4.0


_A, _D, _S = Label.ASSUMPTION, Label.DERIVED, Label.SOURCED
_TABLES = "form of Parncutt et al., Music Perception 14(4), 1997, tables 1-2"

ORIGINS = {
    "stretch": Origin("per unit of stretch, notes in turn", _A, _TABLES),
    "stretch_near_nut": Origin(
        "more in position I, the half position", _A, "Labro c. 1860, second-hand"
    ),
    "stretch_together": Origin("per unit of stretch, both fingers down", _D, _TABLES),
    "crowded": Origin("a note where the fret space is under 17 mm", _A, "common practice"),
    "bent": Origin("per fret that a finger stands off every usual frame", _A, "common practice"),
    "pivot": Origin("a note; 0.6 of a shift", _A, "direction: No Treble 2013; The Strad, Oct 2015"),
    "pivot_far": Origin("per mm that a pivot goes past the practical span", _A, "by sense"),
    "creep": Origin("the hand moves one fret", _A, "chosen on scale fingerings"),
    "shift": Origin("the hand moves two frets or more", _A, "chosen on scale fingerings"),
    "shift_time": Origin(
        "per time needed over time available", _A, "form: frets a second, Hori & Sagayama 2016"
    ),
    "shift_fret": Origin("per fret past two: a longer way is less sure", _A, "by sense"),
    "no_time": Origin("times the time cost where it needs more than there is", _A, "by sense"),
    "guide": Origin("times a move on the same finger and string", _A, "direction: guide finger"),
    "string": Origin("per string crossed", _A, "separate term: Radicioni & Lombardo 2005"),
    "roll": Origin("same finger, same fret, next string", _A, "by sense"),
    "hop": Origin("same finger, another fret, no slide", _A, "by sense"),
    "too_fast": Origin(
        "a roll or hop under 0.15 s or staccato", _D, "5-7 taps a second: Fujii et al. 2009"
    ),
    "swap": Origin("another finger on the same place", _A, "by sense"),
    "order": Origin("a higher finger on a lower fret", _A, "by sense"),
    "slant": Origin("neighbouring strings, one fret, lower finger above", _A, "common practice"),
    "finger_1": Origin("a note", _A, "order: Aoki, Furuya & Kinoshita 2005"),
    "finger_2": Origin("a note", _A, "order: Aoki, Furuya & Kinoshita 2005"),
    "finger_3": Origin("a note", _A, "order: Aoki, Furuya & Kinoshita 2005"),
    "finger_4": Origin("a note", _A, "order: Aoki, Furuya & Kinoshita 2005"),
    "place": Origin("times ln(1 + position), a note", _A, "form: Hori & Sagayama 2016"),
    "open": Origin("an open string: timbre and damping", _A, "by sense"),
    "open_high": Origin("an open string, per position above II", _A, "common practice"),
    "open_leap": Origin("more than five frets over one open string", _A, "by sense"),
    "broken_join": Origin("a slur or slide that has to be plucked", _A, "by sense"),
}
"""Field of :class:`Weights` → what it is per, how sure, and from where."""

GUITAR = Weights(
    stretch=0.16,
    stretch_near_nut=0.091,
    pivot=2.0,
    creep=1.2,
    shift=2.7,
    shift_time=1.2,
    shift_fret=0.13,
    no_time=1.2,
    guide=0.32,
    string=0.53,
    roll=0.42,
    hop=2.0,
    order=4.9,
    finger_3=0.14,
    finger_4=0.63,
    place=0.47,
    open=0.38,
    open_high=0.67,
)

WEIGHT_SETS = {"bass": Weights(), "guitar": GUITAR}
"""Name → weights. ``bass`` is held to facts of the trade. ``guitar`` is fitted to printed
fingers of one half of 39 runs from public-domain guitar editions, and agrees with 65 % of
those of the other half: a proxy of another instrument and time, no measure of bass playing."""


def weights_named(name: str) -> Weights:
    """Return a set of weights.

    Raises:
        UnknownName: there is no such set.
    """
    if name not in WEIGHT_SETS:
        raise UnknownName("set of weights", name, WEIGHT_SETS)
    return WEIGHT_SETS[name]
