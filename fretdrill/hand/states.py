"""How the hand can stand at a note: string, fret, finger and anchor.

The anchor is the fret under finger 1 when the hand is at rest, the position. It is
part of the state because notes that only know their neighbours give odd fingerings
(Grozman & Norman, KTH 2013); an open string carries it through.

A finger lies a number of frets from the anchor: its frame. Extensions take finger 4
one fret further and finger 1 one fret back. A frame that no system has is bent; only
a pin asks for one.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from fretdrill.hand.hand import Hand
from fretdrill.neck.neck import Neck, Place

FRAMES = {
    "reach": {1: (0, -1), 2: (1,), 3: (2,), 4: (2, 3, 4)},
    "one-per-fret": {1: (0, -1), 2: (1,), 3: (2,), 4: (3, 4)},
    "1-2-4": {1: (0, -1), 2: (1,), 4: (2, 3)},
}
"""Finger system → finger → frets from the anchor."""

BENT_FRAMES = {1: (0, 1, -1), 2: (0, 1, 2), 3: (0, 1, 2, 3), 4: (0, 1, 2, 3, 4)}
"""Finger → frets from the anchor that a written finger may ask for."""


class State(NamedTuple):
    """The hand at a note.

    Attributes:
        string: 1 = highest.
        fret: 0 = open.
        finger: 1 to 4, 0 on an open string.
        anchor: the fret under finger 1, the position.
    """

    string: int
    fret: int
    finger: int
    anchor: int

    @property
    def place(self) -> Place:
        """Where it sounds."""
        return Place(self.string, self.fret)

    @property
    def choice(self) -> "Choice":
        """What a player sees of it."""
        return Choice(self.string, self.fret, self.finger)


class Choice(NamedTuple):
    """A place and a finger for a note."""

    string: int
    fret: int
    finger: int


@dataclass(frozen=True, slots=True)
class Pin:
    """What is settled about a note; None leaves it open.

    Attributes:
        finger: 0 to 4.
        string: 1 = highest.
        fret: 0 = open.
        position: the fret under finger 1.
    """

    finger: int | None = None
    string: int | None = None
    fret: int | None = None
    position: int | None = None

    def allows(self, state: State) -> bool:
        """Whether a state has all that is settled."""
        return (
            self.finger in (None, state.finger)
            and self.string in (None, state.string)
            and self.fret in (None, state.fret)
            and self.position in (None, state.anchor)
        )


ANY = Pin()


def states_of(neck: Neck, hand: Hand, midi: int, pin: Pin = ANY) -> list[State]:
    """Return every state that sounds a pitch and keeps to a pin.

    They are ordered by anchor, finger and string, which is the last rule that breaks
    ties: stopped strings first, then open ones. The hand bends only for a finger that
    no usual frame brings where the pin wants it.
    """
    states = _states(neck, midi, FRAMES[hand.system], pin)
    if not states and pin.finger in BENT_FRAMES:
        states = _states(neck, midi, {pin.finger: BENT_FRAMES[pin.finger]}, pin)
    return sorted(states, key=lambda s: (s.fret == 0, s.anchor, s.finger, s.string))


def _states(neck: Neck, midi: int, frames: dict[int, tuple[int, ...]], pin: Pin) -> list[State]:
    return [
        state
        for place in neck.places_of(midi)
        for state in (_stopped(neck, place, frames) if place.fret else _open(neck, place))
        if pin.allows(state)
    ]


def is_bent(hand: Hand, state: State) -> bool:
    """Whether a state's frame is none of the finger system's."""
    usual = FRAMES[hand.system].get(state.finger, ())
    return state.finger != 0 and state.fret - state.anchor not in usual


def _stopped(neck: Neck, place: Place, frames: dict[int, tuple[int, ...]]) -> Iterator[State]:
    for finger, offsets in frames.items():
        for offset in offsets:
            if 1 <= place.fret - offset <= neck.frets:
                yield State(*place, finger, place.fret - offset)


def _open(neck: Neck, place: Place) -> Iterator[State]:
    for anchor in range(1, neck.frets + 1):
        yield State(*place, 0, anchor)
