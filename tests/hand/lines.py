"""Small lines, and plans of them in which every hand is settled."""

from collections.abc import Mapping

from fretdrill.hand.cost import CostModel
from fretdrill.hand.hand import Hand
from fretdrill.hand.plan import Plan
from fretdrill.hand.planner import Planner
from fretdrill.hand.states import Pin
from fretdrill.neck.neck import Neck
from fretdrill.scores.abc import read_abc
from fretdrill.theory.line import Line

NECK, HAND = Neck(), Hand()

Settled = tuple[int, int, int, int]
"""String, fret, finger and position."""


def abc_text(
    music: str, *, metre: str = "4/4", unit: str = "1/4", bpm: float = 120, key: str = "C"
) -> str:
    """Write a tune; in it ``E,,,`` is the open E string, ``C,,`` the C on the A string."""
    return f"X:1\nT:Test\nM:{metre}\nL:{unit}\nQ:1/4={bpm}\nK:{key}\n{music}\n"


def abc_line(music: str, **header: object) -> Line:
    """Read a line from music alone."""
    return read_abc(abc_text(music, **header), "test.abc").line  # type: ignore[arg-type]


def planned(
    music: str,
    settled: Mapping[int, Settled] | None = None,
    model: CostModel | None = None,
    **header: object,
) -> Plan:
    """Plan a line.

    Args:
        music: see :func:`abc_text`.
        settled: index of a note, from 0 → how it is taken.
        model: the costs.
        header: see :func:`abc_text`.
    """
    line = abc_line(music, **header)
    pins = {
        index: Pin(finger, string, fret, position)
        for index, (string, fret, finger, position) in (settled or {}).items()
    }
    solution = Planner(model or CostModel(NECK, HAND)).solve(line, pins)
    return Plan(line, solution, solution.best())


def settled_plan(music: str, *hands: Settled, **header: object) -> Plan:
    """Plan a line whose every hand is given."""
    return planned(music, dict(enumerate(hands)), **header)  # type: ignore[arg-type]
