"""A plan as tab: by bar, with counts, fingers and positions, in plain characters.

Idea: every note and every counted beat is a column; the rows are the bar numbers, the
counts, the strings (the lowest at the bottom), the fingers and the hand. A beat that no
note begins on is counted in brackets, so that long notes and rests end in time. Between
frets stand the joins (``h`` hammer-on, ``p`` pull-off, a stroke for a slide); the hand
row has the position in Roman numerals where the hand arrives, and ``>`` or ``<`` under the
note after which it moves up or back. A finger that goes beyond four frets has ``+`` or ``-``.
"""

from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction

from fretdrill.hand.joins import Technique
from fretdrill.hand.plan import Plan
from fretdrill.hand.states import State
from fretdrill.neck.position import POSITION_FRETS, roman
from fretdrill.presentation.names import Names
from fretdrill.theory.line import Articulation, Bar

EIGHTH = Fraction(1, 8)
MOST_PADDING = 3  # columns that a long note is drawn wider
LEAST_WIDTH = 24


@dataclass
class Column:
    """One moment of a bar.

    Attributes:
        count: what is counted.
        cells: string → what stands on it.
        finger: the finger, with ``.`` where the note is staccato and ``_`` where tenuto.
        hand: the position, or the sign of a shift.
        padding: columns more than the text needs.
    """

    count: str = ""
    cells: dict[int, str] = field(default_factory=dict)
    finger: str = ""
    hand: str = ""
    padding: int = 0

    @property
    def width(self) -> int:
        """How wide it is, with the gap after it."""
        texts = (self.count, self.finger, self.hand, *self.cells.values())
        return max(map(len, texts)) + 1 + self.padding


def draw_tab(plan: Plan, names: Names, width: int) -> list[str]:
    """Return the rows of a plan's tab, wrapped by bar to a width in characters."""
    neck = plan.solution.problem.model.neck
    labels = {s: names.note(neck.tuning.strings[s - 1].name) for s in neck.strings}
    margin = max(map(len, labels.values())) + 2
    room = max(LEAST_WIDTH, width) - margin - 1
    rows: list[str] = []
    for system in _systems(plan, room):
        rows += _draw_system(system, labels, margin)
        rows.append("")
    return rows[:-1]


Block = tuple[str, list[Column]]
"""A bar's number and its columns."""


def _systems(plan: Plan, room: int) -> Iterator[list[Block]]:
    """Yield the bars that stand beside each other; a bar too wide is broken."""
    system: list[Block] = []
    used = 0
    for number, columns in _blocks(plan, room):
        wide = sum(column.width for column in columns) + 2
        if system and used + wide > room:
            yield system
            system, used = [], 0
        system.append((number, columns))
        used += wide
    if system:
        yield system


def _blocks(plan: Plan, room: int) -> Iterator[Block]:
    for bar, columns in _bars(plan):
        number, part, used = str(bar.number), list[Column](), 0
        for column in columns:
            if part and used + column.width + 2 > room:
                yield number, part
                number, part, used = "", [], 0
            part.append(column)
            used += column.width
        yield number, part


def _bars(plan: Plan) -> Iterator[tuple[Bar, list[Column]]]:
    onsets = [note.onset for note in plan.line.notes]
    shifts = {shift.index: shift for shift in plan.shifts}
    for bar in plan.line.bars:
        first, last = bisect_left(onsets, bar.onset), bisect_left(onsets, bar.end)
        moments = dict(_beats(bar))
        moments |= {onsets[i]: _note_column(plan, i, bar) for i in range(first, last)}
        for index in range(first, last):
            shift, column = shifts.get(index), moments[onsets[index]]
            if shift is not None:
                column.hand += ">" if shift.frets > 0 else "<"
        ordered = sorted(moments)
        for moment, after in zip(ordered, [*ordered[1:], bar.end], strict=True):
            moments[moment].padding = min(MOST_PADDING, int((after - moment) / EIGHTH))
        yield bar, [moments[moment] for moment in ordered]


def _beats(bar: Bar) -> Iterator[tuple[Fraction, Column]]:
    """Yield the beats of a bar as moments that are counted only."""
    beat = bar.metre.beat
    place = -(-bar.start // beat) * beat
    while place < bar.start + bar.length:
        yield bar.onset + place - bar.start, Column(f"({bar.metre.count(place)})")
        place += beat


def _note_column(plan: Plan, index: int, bar: Bar) -> Column:
    note, state = plan.line.notes[index], plan.states[index]
    before = plan.states[index - 1].anchor if index else None
    marks = {Articulation.STACCATO: ".", Articulation.TENUTO: "_", Articulation.ACCENT: "^"}
    signs = "".join(sign for mark, sign in marks.items() if mark in note.articulations)
    return Column(
        bar.metre.count(note.onset - bar.onset + bar.start),
        {state.string: f"{state.fret}{_join_sign(plan, index)}"},
        f"{state.finger}{_reach_sign(state)}{signs}",
        "" if before == state.anchor else roman(state.anchor),
    )


def _reach_sign(state: State) -> str:
    """Return ``+`` or ``-`` where a finger goes beyond four frets from the position."""
    if state.fret == 0 or 0 <= state.fret - state.anchor < POSITION_FRETS:
        return ""
    return "+" if state.fret > state.anchor else "-"


def legend(plan: Plan) -> str:
    """Return what the signs mean that a plan's tab has."""
    line, shifts = plan.line, plan.shifts
    marks = {mark for note in line.notes for mark in note.articulations}
    joins = {plan.technique(index) for index in range(len(line.notes))}
    reaches = set(map(_reach_sign, plan.states))
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


def _join_sign(plan: Plan, index: int) -> str:
    joined = plan.technique(index)
    if joined is Technique.SLIDE:
        return "/" if plan.states[index + 1].fret > plan.states[index].fret else "\\"
    return {Technique.HAMMER_ON: "h", Technique.PULL_OFF: "p"}.get(joined, "") if joined else ""


def _draw_system(system: list[Block], labels: dict[int, str], margin: int) -> list[str]:
    numbers = "".join(number.ljust(_wide(columns)) for number, columns in system)
    rows = [" " * (margin + 2) + numbers, _text_row(system, margin, "count")]
    rows += [_string_row(system, margin, label, string) for string, label in labels.items()]
    rows += [_text_row(system, margin, "finger"), _text_row(system, margin, "hand")]
    return [row.rstrip() for row in rows]


def _wide(columns: list[Column]) -> int:
    return sum(column.width for column in columns) + 2


def _text_row(system: list[Block], margin: int, name: str) -> str:
    text = " " * margin
    for _, columns in system:
        text += "  " + "".join(getattr(column, name).ljust(column.width) for column in columns)
    return text


def _string_row(system: list[Block], margin: int, label: str, string: int) -> str:
    text = f" {label}".ljust(margin)
    for _, columns in system:
        cells = (column.cells.get(string, "").ljust(column.width, "-") for column in columns)
        text += "|-" + "".join(cells)
    return text + "|"
