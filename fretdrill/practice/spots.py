"""Sessions made from a line: from all its decisions, or from one spot.

A decision is a note before which a player has to look ahead, a shift, a slur.
"""

from bisect import bisect_left
from collections.abc import Iterator

from fretdrill.engine.drill import Drill
from fretdrill.engine.kinds.ahead import AheadStage
from fretdrill.engine.lines import Lines
from fretdrill.engine.piece import Piece
from fretdrill.engine.player import Player
from fretdrill.engine.question import Shown
from fretdrill.engine.registry import kind_named
from fretdrill.errors import InputError, NothingToAsk
from fretdrill.hand.advice import playable
from fretdrill.practice.program import Program
from fretdrill.theory.line import Line

QUESTIONS = {"ahead": 6, "shift": 3, "slur": 3}
"""Kind → how many of its questions a session from a line has."""

NOTES_BEFORE = 3
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


def spot_program(name: str, line: Line, note: int, player: Player) -> Program:
    """Return a session about one spot of a line.

    Args:
        name: the line's name.
        line: the line.
        note: the note that is hard, from 0.
        player: whose neck it is played on; notes off it cannot be asked about.

    Raises:
        NothingToAsk: there are not enough notes.
    """
    part = playable(line, player.neck)
    index = bisect_left(part.kept, note)  # the next one on the neck, if it is off
    lines = Lines((Piece(name, line),))
    most = len(part.kept) - 1  # notes that can come after one
    stages = tuple(
        AheadStage(lines, count, Shown.PLACES, _within(index, count, most))
        for count in (1, 2, 3)
        if count <= most
    )
    if not stages:
        raise NothingToAsk(f"the line '{name}' has too few notes on this neck to look ahead")
    drill = Drill("ahead", stages, count=SPOT_QUESTIONS)
    return Program(f"{line.title}, note {note + 1}", (drill,))


def _within(index: int, count: int, most: int) -> tuple[int, int]:
    """Return the notes to stand at: those before the spot, as far as notes can come after."""
    last = min(max(0, index - 1), most - count)
    return max(0, min(last, index - NOTES_BEFORE)), last
