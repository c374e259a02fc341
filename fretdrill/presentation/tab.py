"""A plan as tab: by bar, with counts, fingers and positions, in plain characters.

Idea: every note and every counted beat is a column; the rows are the bar numbers, the
counts, the strings (the lowest at the bottom), the fingers and the hand. A beat that no
note begins on is counted in brackets, so that long notes and rests end in time. Between
frets stand the joins (``h`` hammer-on, ``p`` pull-off, a stroke for a slide); the hand
row has the position in Roman numerals where the hand arrives, and ``>`` or ``<`` under the
note after which it moves up or back. A finger that goes beyond four frets has ``+`` or ``-``.
"""

from fretdrill.hand.joins import Technique
from fretdrill.hand.plan import Plan
from fretdrill.presentation.names import Names
from fretdrill.presentation.tab_columns import Columns, reach_sign
from fretdrill.presentation.tab_systems import (
    LEAST_WIDTH,
    Margin,
    blocks_of,
    draw_system,
    systems_of,
)
from fretdrill.theory.line import Articulation

__all__ = ["LEAST_WIDTH", "draw_tab", "legend"]


def draw_tab(plan: Plan, names: Names, width: int) -> list[str]:
    """Return the rows of a plan's tab, wrapped by bar to a width in characters."""
    margin = Margin(plan.solution.problem.model.neck, names)
    columns = Columns(plan, names)
    room = max(LEAST_WIDTH, width) - margin.width - 1
    blocks = blocks_of(columns, range(len(plan.line.bars)), room)
    rows: list[str] = []
    for system in systems_of(blocks, room):
        rows += [row.text for row in draw_system(system, columns, margin).rows]
        rows.append("")
    return rows[:-1]


def legend(plan: Plan) -> str:
    """Return what the signs mean that a plan's tab has."""
    line, shifts = plan.line, plan.shifts
    marks = {mark for note in line.notes for mark in note.articulations}
    joins = {plan.technique(index) for index in range(len(line.notes))}
    reaches = set(map(reach_sign, plan.states))
    told = ["above the strings the counts", "(2) nothing new is played"]
    told += ["below them fingers and position"]
    told += ["0 open"] if any(state.fret == 0 for state in plan.states) else []
    signs = (
        ("1. short", Articulation.STACCATO in marks),
        ("1_ held", Articulation.TENUTO in marks),
        ("1^ accented", Articulation.ACCENT in marks),
        ("h hammer-on", Technique.HAMMER_ON in joins),
        ("p pull-off", Technique.PULL_OFF in joins),
        ("/ slide", Technique.SLIDE in joins),
        ("4+ reached up", "+" in reaches),
        ("1- reached back", "-" in reaches),
        ("> the hand moves up", any(shift.frets > 0 for shift in shifts)),
        ("< back", any(shift.frets < 0 for shift in shifts)),
        ("bar 0 is the pickup", bool(line.pickup)),
    )
    told += [text for text, there in signs if there]
    return f"Signs: {', '.join(told)}."
