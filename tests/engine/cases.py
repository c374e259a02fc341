"""Necks, hands, scopes and note sets for property tests, with their plain meaning beside them.

Nothing here asks the program what a text means: frets, strings and pitch classes
are written out by hand or by simple counting.
"""

from dataclasses import dataclass

from hypothesis import strategies as st

from fretdrill.engine.noteset import NoteSet
from fretdrill.engine.part import Part as NeckPart
from fretdrill.engine.player import Player
from fretdrill.hand.hand import Hand
from fretdrill.neck.neck import Neck
from fretdrill.neck.scope import Scope
from fretdrill.neck.tuning import Tuning

# B0 23, E1 28, A1 33, D2 38, G2 43, C3 48: ISO 16:1975 and middle C = 60 (MusicXML 4.0).
# The guitar's and the lowered strings are counted from there; guitar from memory.
OPEN_MIDI = {
    "4-string": (28, 33, 38, 43),
    "5-string": (23, 28, 33, 38, 43),
    "6-string": (23, 28, 33, 38, 43, 48),
    "drop-d": (26, 33, 38, 43),
    "bead": (23, 28, 33, 38),
    "guitar": (40, 45, 50, 55, 59, 64),
}
"""Preset → open strings, low to high."""

LETTER_CLASSES = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}
_SHARPS = ("C", "C#", "D", "D#", "E", "F", "F#", "G", "G#", "A", "A#", "B")


def pitch_class(name: str) -> int:
    """Return the pitch class of a name such as Bb or F##."""
    return (LETTER_CLASSES[name[0]] + name.count("#") - name[1:].count("b")) % 12


NOTE_SETS = {
    "naturals": {0, 2, 4, 5, 7, 9, 11},
    "chromatic": set(range(12)),
    "key F major": {5, 7, 9, 10, 0, 2, 4},
    "key F# major": {6, 8, 10, 11, 1, 3, 5},
    "key Cb major": {11, 1, 3, 4, 6, 8, 10},
    "key Em": {4, 6, 7, 9, 11, 0, 2},
    "chord Dm7": {2, 5, 9, 0},
    "D G Bb": {2, 7, 10},
    "E#": {5},
    "C# Db": {1},
}
"""Note set → pitch classes."""


@dataclass(frozen=True)
class Part:
    """A part of the neck: its text, and the frets and strings (1 = highest) it means."""

    text: str
    frets: frozenset[int]
    strings: frozenset[int]

    def places(self, frets: int) -> set[tuple[int, int]]:
        return {(s, f) for s in self.strings for f in self.frets if f <= frets}

    @property
    def scope(self) -> Scope:
        return Scope.parse(self.text)


@dataclass(frozen=True)
class Instrument:
    """A player, with the open strings low to high as plain numbers."""

    player: Player
    open_midi: tuple[int, ...]

    def midi(self, string: int, fret: int) -> int:
        return self.open_midi[-string] + fret


def stage(scope: str, notes: str) -> NeckPart:
    """Return what find, name and finger are about, from its words."""
    return NeckPart(Scope.parse(scope), NoteSet.parse(notes))


def instrument(tuning: str = "4-string", frets: int = 24, **hand: str) -> Instrument:
    accidentals = hand.pop("accidentals", "flats")
    size, system = hand.get("size", "medium"), hand.get("system", "reach")
    player = Player(Neck(Tuning.parse(tuning), frets), Hand.parse(size, system), accidentals)
    return Instrument(player, OPEN_MIDI[tuning])


@st.composite
def instruments(draw: st.DrawFn) -> Instrument:
    """Presets and custom tunings, all neck lengths, scales, hands and likings."""
    preset = draw(st.none() | st.sampled_from(sorted(OPEN_MIDI)))
    if preset is None:
        midi = tuple(draw(st.lists(st.integers(12, 80), min_size=1, max_size=10)))
        text = " ".join(f"{_SHARPS[m % 12]}{m // 12 - 1}" for m in midi)
    else:
        midi, text = OPEN_MIDI[preset], preset
    neck = Neck(
        Tuning.parse(text),
        draw(st.integers(12, 36)),
        draw(st.sampled_from((300.0, 647.7, 762.0, 863.6, 889.0, 1200.0))),
    )
    hand = Hand.parse(
        draw(st.sampled_from(("small", "medium", "large", "60 mm", "105", "180 mm"))),
        draw(st.sampled_from(("reach", "one-per-fret", "1-2-4"))),
    )
    return Instrument(Player(neck, hand, draw(st.sampled_from(("flats", "sharps", "both")))), midi)


@st.composite
def parts(draw: st.DrawFn, strings: int, frets: int) -> Part:
    """Every form of scope that lies on a neck of so many strings and frets."""
    form = draw(st.sampled_from(("position", "half", "frets", "string", "whole")))
    opened = None
    if form == "position":
        first = draw(st.integers(1, frets))
        text, where = f"position {first}", set(range(first, first + 4))
    elif form == "half":
        text, where = "half position", {1, 2, 3}
    elif form == "frets":
        first = draw(st.integers(0, frets))
        last = draw(st.integers(max(1, first), 36))
        text, where = f"frets {first}-{last}", set(range(first, last + 1))
    else:
        text, where = ("whole neck" if form == "whole" else ""), set(range(37))
    on = set(range(1, strings + 1))
    if form == "string" or draw(st.booleans()):
        low, high = sorted((draw(st.integers(1, strings)), draw(st.integers(1, strings))))
        on = set(range(low, high + 1))
        text += f"{', ' if text else ''}strings {low}-{high}"
    if draw(st.booleans()):
        opened = draw(st.booleans())
        text += ", open strings" if opened else ", no open strings"
    if opened is not None:
        where = where | {0} if opened else where - {0}
    return Part(text, frozenset(where), frozenset(on))


note_texts = st.sampled_from(sorted(NOTE_SETS))
