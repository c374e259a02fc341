"""What stands in the columns of a tab: one for every note and every counted beat.

Idea: a bar's columns are worked out when that bar is drawn, so that a tab on a screen costs
what is seen of it, however long the line is. What a plan's tab always has comes first; what a
screen shows besides is :class:`Added`.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction

from fretdrill.hand.joins import Technique
from fretdrill.hand.plan import Plan
from fretdrill.hand.problem import Path
from fretdrill.hand.sounding import sounding_share
from fretdrill.hand.states import State
from fretdrill.neck.position import POSITION_FRETS, roman
from fretdrill.presentation.line_moments import Moments
from fretdrill.presentation.names import Names
from fretdrill.theory.line import Articulation, Bar, Line

EIGHTH = Fraction(1, 8)
MOST_PADDING = 3  # columns that a long note is drawn wider
WHOLE_SIGN, OFF_SIGN, SAME_SIGN = "=", "x", "."

_MARKS = {Articulation.STACCATO: ".", Articulation.TENUTO: "_", Articulation.ACCENT: "^"}


@dataclass
class Column:
    """One moment of a bar.

    Attributes:
        count: what is counted.
        cells: string → what stands on it.
        finger: the finger, with ``.`` where the note is staccato and ``_`` where tenuto.
        hand: the position, or the sign of a shift.
        length: how much of its length the note sounds.
        mark: signs under the note.
        ahead: what players do who see only so far.
        note: which note of the line begins here, from 0.
        onset: when, in whole notes from the beginning of the line.
        padding: columns more than the text needs.
        least: columns that the text has at least.
    """

    count: str = ""
    cells: dict[int, str] = field(default_factory=dict)
    finger: str = ""
    hand: str = ""
    length: str = ""
    mark: str = ""
    ahead: tuple[str, ...] = ()
    note: int | None = None
    onset: Fraction = Fraction(0)
    padding: int = 0
    least: int = 0

    @property
    def width(self) -> int:
        """How wide it is, with the gap after it."""
        texts = (self.count, self.finger, self.hand, self.length, self.mark)
        widest = max(map(len, (*texts, *self.cells.values(), *self.ahead)))
        return max(widest, self.least) + 1 + self.padding


@dataclass(frozen=True)
class Added:
    """What a tab shows beyond its plan.

    Attributes:
        whole: the line with the notes that the plan has not; None if it has all.
        kept: for each note of the plan, which one of the whole line it is.
        lengths: whether a row says how much of its length each note sounds.
        marks: note of the whole line, from 0 → signs under it; None for no row of them.
        ahead: other ways to play the line, each of which gets a row of fingers.
        least: columns that every note has at least, so that a change moves little.
    """

    whole: Line | None = None
    kept: Sequence[int] = ()
    lengths: bool = False
    marks: Mapping[int, str] | None = None
    ahead: Sequence[Path] = ()
    least: int = 0


NOTHING = Added()


class Columns:
    """The columns of a line, a bar at a time.

    Attributes:
        plan: the plan drawn.
        line: the line drawn, which may have notes that the plan has not.
        names: how notes and strings are called.
        added: what is shown beyond the plan.
        moments: the line's.
    """

    def __init__(
        self, plan: Plan, names: Names, added: Added = NOTHING, moments: Moments | None = None
    ) -> None:
        """Prepare; the moments are worked out unless somebody has them."""
        self.plan = plan
        self.names = names
        self.added = added
        self.line = added.whole or plan.line
        self.moments = moments or Moments(self.line)
        self._planned = {note: index for index, note in enumerate(added.kept)}

    def planned(self, note: int) -> int | None:
        """Return which note of the plan a note of the line is, None if it is off the neck."""
        return note if self.added.whole is None else self._planned.get(note)

    def of_bar(self, index: int) -> list[Column]:
        """Return the columns of a bar, by its index."""
        bar, notes = self.line.bars[index], self.moments.notes_of(index)
        moments = dict(_beats(bar))
        moments |= {self.moments.onset(note): self._of_note(note, bar) for note in notes}
        ordered = sorted(moments)
        for moment, after in zip(ordered, [*ordered[1:], bar.end], strict=True):
            moments[moment].onset = moment
            moments[moment].padding = max(0, min(MOST_PADDING, int((after - moment) / EIGHTH)))
        return [moments[moment] for moment in ordered]

    def _of_note(self, note: int, bar: Bar) -> Column:
        column = Column(
            bar.metre.count(self.moments.onset(note) - bar.onset + bar.start),
            note=note,
            least=self.added.least,
            mark=(self.added.marks or {}).get(note, ""),
        )
        index = self.planned(note)
        if index is None:
            pitch = self.names.pitch(self.line.notes[note].pitch)
            return replace(column, finger=OFF_SIGN, hand=pitch)
        return self._with_hand(column, index)

    def _with_hand(self, column: Column, index: int) -> Column:
        plan = self.plan
        state, before = plan.states[index], plan.states[index - 1].anchor if index else None
        marks = plan.line.notes[index].articulations
        signs = "".join(sign for mark, sign in _MARKS.items() if mark in marks)
        shift = plan.shift_after(index)
        away = "" if shift is None else ">" if shift.frets > 0 else "<"
        return replace(
            column,
            cells={state.string: f"{state.fret}{_join_sign(plan, index)}"},
            finger=f"{state.finger}{reach_sign(state)}{signs}",
            hand=f"{'' if before == state.anchor else roman(state.anchor)}{away}",
            length=_length(sounding_share(plan, index)) if self.added.lengths else "",
            ahead=tuple(self._otherwise(path, index) for path in self.added.ahead),
        )

    def _otherwise(self, path: Path, index: int) -> str:
        """Return what another way does at a note: the finger, and the string if it differs."""
        ours, theirs = self.plan.states[index], path.states[index]
        if theirs.choice == ours.choice:
            return SAME_SIGN
        if theirs.place == ours.place:
            return str(theirs.finger)
        neck = self.plan.solution.problem.model.neck
        return f"{theirs.finger}{self.names.note(neck.tuning.strings[theirs.string - 1].name)}"


def _beats(bar: Bar) -> Iterator[tuple[Fraction, Column]]:
    """Yield the beats of a bar as moments that are counted only."""
    beat = bar.metre.beat
    place = -(-bar.start // beat) * beat
    while place < bar.start + bar.length:
        yield bar.onset + place - bar.start, Column(f"({bar.metre.count(place)})")
        place += beat


def _length(share: float) -> str:
    per_cent = round(100 * share)
    return WHOLE_SIGN if per_cent == 100 else str(per_cent)


def reach_sign(state: State) -> str:
    """Return ``+`` or ``-`` where a finger goes beyond four frets from the position."""
    if state.fret == 0 or 0 <= state.fret - state.anchor < POSITION_FRETS:
        return ""
    return "+" if state.fret > state.anchor else "-"


def _join_sign(plan: Plan, index: int) -> str:
    joined = plan.technique(index)
    if joined is Technique.SLIDE:
        return "/" if plan.states[index + 1].fret > plan.states[index].fret else "\\"
    return {Technique.HAMMER_ON: "h", Technique.PULL_OFF: "p"}.get(joined, "") if joined else ""
