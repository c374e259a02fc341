"""A plan as a page of text, for people."""

import textwrap
from collections.abc import Iterable, Iterator, Sequence

from fretdrill.hand.lookahead import look_ahead
from fretdrill.hand.plan import Plan
from fretdrill.hand.problem import Path
from fretdrill.hand.reasons import CoversMove, KeepsSlur, OutOfReach, Reason
from fretdrill.presentation.names import Names
from fretdrill.presentation.plan_words import PlanWords
from fretdrill.presentation.tab import draw_tab, legend

ALREADY_SHOWN = (CoversMove, KeepsSlur, OutOfReach)  # among the shifts, and in the tab
MOST_REASONS = 8
MOST_SHOWN = 6  # notes of another way to play the line
MOST_SHIFTS = 12
MOST_STARTS = 5
SEEN_AHEAD = range(4)
LONGEST_LOOKED_THROUGH = 2_000  # notes; beyond, the page would wait for a footnote


def page(
    plan: Plan, reasons: Sequence[Reason], names: Names, width: int, *, brief: bool = False
) -> list[str]:
    """Return a plan's page, line by line; a brief one ends with the shifts."""
    words = PlanWords(plan, names)
    rows = _head(plan, words, names, width)
    if not plan.states:
        return rows
    rows += ["", *draw_tab(plan, names, width), "", *textwrap.wrap(legend(plan), width)]
    return rows + _wrapped(_sections(plan, reasons, words, brief=brief), width)


def spoken_page(plan: Plan, reasons: Sequence[Reason], names: Names, width: int) -> list[str]:
    """Return a plan's page without columns: a note a line, for reading aloud."""
    words = PlanWords(plan, names)
    rows = _head(plan, words, names, width)
    if not plan.states:
        return rows
    notes = [words.note_line(index) for index in range(len(plan.states))]
    return rows + _wrapped([("Notes", notes), *_sections(plan, reasons, words)], width)


def _head(plan: Plan, words: PlanWords, names: Names, width: int) -> list[str]:
    line = plan.line
    key = f", {line.key.text(ascii_only=names.ascii_only)}" if line.key else ""
    title = f"{line.title}: {line.metre}{key}, {line.tempos[0].bpm:g} bpm"
    rows = textwrap.wrap(f"{title}, {_notes(len(line.notes))}", width)
    return rows + textwrap.wrap(words.summary(), width) if plan.states else rows


def _wrapped(sections: Iterable[tuple[str, list[str]]], width: int) -> list[str]:
    rows = []
    for title, items in sections:
        rows += ["", title]
        for item in items:
            rows += textwrap.wrap(item, width, initial_indent="  ", subsequent_indent="    ")
    return rows


def _notes(count: int) -> str:
    return "1 note" if count == 1 else f"{count} notes"


def _sections(
    plan: Plan, reasons: Sequence[Reason], words: PlanWords, *, brief: bool = False
) -> Iterator[tuple[str, list[str]]]:
    if plan.shifts:
        yield "Shifts", _some([words.shift(shift) for shift in plan.shifts], MOST_SHIFTS, "shifts")
    if brief:
        return
    if plan.hard_spots:
        yield "Hardest", [words.hard_spot(spot) for spot in plan.hard_spots]
    told = [r for r in reasons if not isinstance(r, ALREADY_SHOWN)]
    told = list({words.reason(reason): reason for reason in reversed(told)}.values())  # each once
    told.sort(key=lambda reason: -getattr(reason, "regret", 0.0))
    chosen = sorted(told[:MOST_REASONS], key=lambda reason: reason.index)
    if chosen:
        yield "Why", [words.placed(reason) for reason in chosen]
    elsewhere = _elsewhere(plan, words)
    if elsewhere:
        yield "Otherwise", elsewhere
    written = list(_written(plan, words))
    if written:
        yield "Written fingers", _some(written, MOST_SHIFTS, "written otherwise")


def _some(items: list[str], most: int, what: str) -> list[str]:
    rest = len(items) - most
    return [*items[:most], f"and {rest} more {what}"] if rest > 0 else items


def _elsewhere(plan: Plan, words: PlanWords) -> list[str]:
    """Say what beginning elsewhere costs, and seeing less far."""
    if plan.cost > plan.solution.cost:  # another plan than the cheapest was asked for
        return [words.hardest()]
    beginnings = words.beginnings(MOST_STARTS)
    items = [beginnings] if beginnings else []
    if len(plan.states) <= LONGEST_LOOKED_THROUGH:
        problem = plan.solution.problem
        items.append(words.looking_ahead([look_ahead(problem, seen).cost for seen in SEEN_AHEAD]))
    return items


def _written(plan: Plan, words: PlanWords) -> Iterator[str]:
    for index, note in enumerate(plan.line.notes):
        if note.finger is None or note.finger == plan.states[index].finger:
            continue
        regrets = [r.regret for r in plan.choices(index) if r.choice.finger == note.finger]
        yield words.written_finger(index, min(regrets, default=None))


def alternatives(plan: Plan, paths: Sequence[Path], names: Names, width: int) -> list[str]:
    """Return several ways to play a line, by what each does otherwise than the plan."""
    words = PlanWords(plan, names)
    told = [f"{n}. {words.difference(path, MOST_SHOWN)}" for n, path in enumerate(paths, start=1)]
    return _wrapped([("Cheapest ways", told)], width)
