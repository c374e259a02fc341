"""Sessions made from a line: from all its decisions, or from one spot.

A decision is a note before which a player has to look ahead, a shift, a slur.
"""

from collections.abc import Iterator

from fretdrill.engine.drill import Drill
from fretdrill.engine.kinds.ahead import AheadStage
from fretdrill.engine.lines import Lines
from fretdrill.engine.piece import Piece
from fretdrill.engine.player import Player
from fretdrill.engine.question import Shown
from fretdrill.engine.registry import kind_named
from fretdrill.errors import InputError, NothingToAsk
from fretdrill.practice.program import Program
from fretdrill.theory.line import Line

QUESTIONS = {"ahead": 6, "shift": 3, "slur": 3}
"""Kind → how many of its questions a session from a line has."""

NOTES_BEFORE, NOTES_AFTER = 3, 1
SPOT_QUESTIONS = 6


def line_program(name: str, line: Line, player: Player) -> Program:
    """Return a session from all the decisions in a line.

    Raises:
        InputError: the line has no notes, or none that can be asked about.
    """
    if not line.notes:
        raise InputError(f"the line '{name}' has no notes")
    drills = tuple(_drills(Piece(name, line), player))
    if not drills:
        raise NothingToAsk(f"the line '{name}' leaves nothing to ask on this neck")
    return Program(line.title, drills)


def _drills(piece: Piece, player: Player) -> Iterator[Drill]:
    """Yield the drills of the kinds that find something to ask in a line."""
    for name, count in QUESTIONS.items():
        kind = kind_named(name)
        settings = kind.settings(lambda name: piece.line)
        values = {key: setting.default for key, setting in settings.items()}
        values["line"] = (piece,)
        drill = Drill(name, kind.stages(values), count=count)
        try:
            drill.check(player)
        except InputError:
            continue
        yield drill


def spot_program(name: str, line: Line, index: int) -> Program:
    """Return a session about one spot of a line.

    Args:
        name: the line's name.
        line: the line.
        index: the note that is hard, from 0.
    """
    within = (max(0, index - NOTES_BEFORE), max(0, index - NOTES_AFTER))
    lines = Lines((Piece(name, line),))
    stages = tuple(AheadStage(lines, count, Shown.PLACES, within) for count in (1, 2, 3))
    drill = Drill("ahead", stages, count=SPOT_QUESTIONS)
    return Program(f"{line.title}, note {index + 1}", (drill,))
