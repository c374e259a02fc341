"""Lines and scales written briefly, and what a player sees of the plan for them."""

from collections.abc import Iterable, Sequence
from fractions import Fraction

from fretdrill.hand.problem import Path
from fretdrill.hand.solution import Solution
from fretdrill.theory.line import Bar, Join, Line, Note, Tempo
from fretdrill.theory.metre import Metre
from fretdrill.theory.pitch import Pitch, simple_name

EIGHTH = Fraction(1, 8)
BAR = Fraction(1)

STEPS = {
    "major": (0, 2, 4, 5, 7, 9, 11, 12),
    "natural minor": (0, 2, 3, 5, 7, 8, 10, 12),
    "Dorian": (0, 2, 3, 5, 7, 9, 10, 12),
    "Lydian": (0, 2, 4, 6, 7, 9, 11, 12),
    "Mixolydian": (0, 2, 4, 5, 7, 9, 10, 12),
    "major triad": (0, 4, 7, 12),
    "minor triad": (0, 3, 7, 12),
    "root-fifth-octave": (0, 7, 12),
}
"""Name → semitones above the root, one octave."""


def line(text: str, bpm: float = 100.0, unit: Fraction = EIGHTH) -> Line:
    """Read notes such as ``"A1 B1*2 z C2( D2"``.

    A note is a name with its octave and lasts one unit; ``*2`` makes it two, ``z`` is a
    rest and ``(`` slurs a note to the next.
    """
    notes: list[Note] = []
    onset = Fraction(0)
    for word in text.split():
        name, _, times = word.removesuffix("(").partition("*")
        length = unit * int(times or 1)
        if name != "z":
            join = Join.SLUR if word.endswith("(") else None
            notes.append(Note(onset, length, Pitch.parse(name), join=join))
        onset += length
    return _line(notes, onset, bpm)


def line_of(midis: Iterable[int], bpm: float = 100.0, unit: Fraction = EIGHTH) -> Line:
    """Return a line of equal notes."""
    notes = [
        Note(unit * index, unit, Pitch(midi, simple_name(midi))) for index, midi in enumerate(midis)
    ]
    return _line(notes, unit * len(notes), bpm)


def scale(root: int, name: str, bpm: float = 100.0) -> Line:
    """Return one octave up in eighths."""
    return line_of((root + step for step in STEPS[name]), bpm)


def _line(notes: Sequence[Note], end: Fraction, bpm: float) -> Line:
    count = max(1, -(-end // BAR))
    bars = tuple(Bar(number + 1, BAR * number, BAR, Metre()) for number in range(count))
    return Line("test", tuple(notes), bars, (Tempo(bpm=bpm),))


def fingers(path: Path) -> str:
    """Write the fingers string by string: ``"2-4/1-2-4/1-3-4"``."""
    written = ""
    for index, state in enumerate(path.states):
        if index:
            written += "-" if state.string == path.states[index - 1].string else "/"
        written += str(state.finger)
    return written


def places(path: Path) -> str:
    """Write string and fret of every note: ``"3/3 3/5 2/2"``."""
    return " ".join(str(state.place) for state in path.states)


def positions(path: Path) -> list[int]:
    """Return where the hand stands at every note."""
    return [state.anchor for state in path.states]


def shifts(path: Path) -> list[int]:
    """Return the notes, from 0, after which the hand moves."""
    anchors = positions(path)
    return [i for i in range(len(anchors) - 1) if anchors[i] != anchors[i + 1]]


def explain(solution: Solution, path: Path) -> str:
    """Write a way to play with its costs by term, for a test that fails."""
    rows = []
    for index, state in enumerate(path.states):
        terms = solution.problem.terms(path, index)
        parts = ", ".join(f"{name} {cost:.2f}" for name, cost in terms.items())
        rows.append(f"{state.place} finger {state.finger} in {state.anchor}: {parts}")
    return "\n".join((f"{path.cost:.2f} for {fingers(path)}", *rows))
