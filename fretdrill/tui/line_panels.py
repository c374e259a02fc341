"""What stands under the neck of the line screen: rows to choose from, each with a word.

A panel knows no screen: it gives rows and a text for the row under its cursor.
"""

from fretdrill.hand.problem import Path
from fretdrill.hand.solution import RatedChoice
from fretdrill.presentation import line_words
from fretdrill.presentation.names import Names
from fretdrill.tui.line_work import PINNED_SIGN, OpenLine

WORKING = "Being worked out."
NOTHING = "There is no plan."


class Panel:
    """Rows about a line, one of them under the cursor.

    Attributes:
        name: what it is called.
        wide: whether its rows take the whole width, without a text beside them.
        needs_beside: whether it shows what is worked out beside the plan.
    """

    name = ""
    wide = False
    needs_beside = False

    def __init__(self, opened: OpenLine, names: Names) -> None:
        self.opened = opened
        self.names = names
        self.cursor = 0

    @property
    def _none_yet(self) -> str:
        """What is said while there is nothing to show."""
        return WORKING if self.opened.part.line.notes else NOTHING

    def rows(self, note: int, bar: range) -> list[str]:
        """Return its rows for a note of the line, and the notes of its bar."""
        raise NotImplementedError

    def text(self, note: int) -> str:
        """Return what is said beside them."""
        return ""


class ChoicesPanel(Panel):
    """Every choice for the note, with its regret, and why it is not taken."""

    name = "Choices"

    def begin(self, note: int) -> None:
        """Go to the choice that is pinned, or else to the easiest."""
        pinned = (self.opened.is_pinned(note, rated) for rated in self.opened.choices(note))
        self.cursor = next((row for row, is_it in enumerate(pinned) if is_it), 0)

    def rated(self, note: int) -> RatedChoice | None:
        """Return the choice under the cursor."""
        choices = self.opened.choices(note)
        return choices[min(self.cursor, len(choices) - 1)] if choices else None

    def rows(self, note: int, bar: range) -> list[str]:
        """Return the choices, the easiest first."""
        index, plan = self.opened.planned(note), self.opened.compared(note)
        if index is None or plan is None:
            return []
        return [
            f"{self._sign(note, rated)}{line_words.choice_text(plan, index, rated, self.names)}"
            for rated in self.opened.choices(note)
        ]

    def choose_finger(self, note: int, finger: int) -> bool:
        """Go to the next choice with a finger, round and round; False if there is none."""
        choices = self.opened.choices(note)
        rows = [row for row, rated in enumerate(choices) if rated.choice.finger == finger]
        if rows:
            self.cursor = next((row for row in rows if row > self.cursor), rows[0])
        return bool(rows)

    def _sign(self, note: int, rated: RatedChoice) -> str:
        return PINNED_SIGN if self.opened.is_pinned(note, rated) else " "

    def text(self, note: int) -> str:
        """Return why the plan takes another choice than the one under the cursor."""
        index, plan, rated = self.opened.planned(note), self.opened.compared(note), self.rated(note)
        off = self.opened.off(note)
        if off is not None:
            return line_words.off_note_text(self.opened.line, off, self.opened.ways, self.names)
        if plan is None or index is None or rated is None:
            return ""
        return line_words.why_not(plan, index, rated, self.names)


class PositionsPanel(Panel):
    """The best line from each position, side by side."""

    name = "Positions"
    wide = True
    needs_beside = True

    @property
    def chosen(self) -> tuple[int, Path] | None:
        """The position under the cursor and its line."""
        if self.opened.beside is None or not self.opened.beside.positions:
            return None
        return self.opened.beside.positions[min(self.cursor, len(self.opened.beside.positions) - 1)]

    def rows(self, note: int, bar: range) -> list[str]:
        """Return cost, shifts, open strings and this bar's fingers for each."""
        if self.opened.beside is None:
            return [self._none_yet]
        planned = [index for at in bar if (index := self.opened.planned(at)) is not None]
        notes = range(planned[0], planned[-1] + 1) if planned else range(0)
        beside = self.opened.beside
        return [
            f"{summary}   this bar: {line_words.fingers_text(path, notes)}"
            for summary, (_, path) in zip(beside.position_rows, beside.positions, strict=True)
        ]


class SpotsPanel(Panel):
    """The hardest notes."""

    name = "Hardest"
    wide = True

    @property
    def notes(self) -> list[int]:
        """The hard notes of the whole line, the hardest first."""
        plan = self.opened.plan
        return [] if plan is None else [self.opened.part.kept[s.index] for s in plan.hard_spots]

    def rows(self, note: int, bar: range) -> list[str]:
        """Return the hard spots and what makes them hard."""
        if self.opened.plan is None:
            return [NOTHING]
        return line_words.spots_text(self.opened.plan, self.names) or ["Nothing in it is hard."]


class AheadPanel(Panel):
    """What players do who see only so far; their fingers stand in the tab."""

    name = "Look-ahead"
    wide = True
    needs_beside = True

    def rows(self, note: int, bar: range) -> list[str]:
        """Return what each of them pays."""
        if self.opened.beside is None:
            return [self._none_yet]
        return list(self.opened.beside.ahead_rows)
