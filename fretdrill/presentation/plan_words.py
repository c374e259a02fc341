"""What is said about a plan: shifts, hard spots, reasons, as a teacher would."""

from collections.abc import Sequence
from fractions import Fraction

from fretdrill.hand import reasons as why
from fretdrill.hand.cost import IMPOSSIBLE, UNIT
from fretdrill.hand.joins import Technique
from fretdrill.hand.plan import HardSpot, Plan, Shift, TakenFrom
from fretdrill.hand.problem import Path
from fretdrill.hand.states import Choice
from fretdrill.neck.position import roman
from fretdrill.presentation.names import Names, frets_away, small_number

NO_WAY = IMPOSSIBLE / UNIT
HURRIED = 0.4  # of the time there is: from here on the seconds are worth a word [assumption]
_LENGTHS = {
    Fraction(1): "whole note",
    Fraction(3, 4): "dotted half",
    Fraction(1, 2): "half note",
    Fraction(3, 8): "dotted quarter",
    Fraction(1, 4): "quarter",
    Fraction(3, 16): "dotted eighth",
    Fraction(1, 8): "eighth",
    Fraction(1, 16): "sixteenth",
}


_TERMS = {
    "place": "high on the neck",
    "finger": "weaker finger",
    "string": "crossing strings",
    "same hand": "same finger again",
    "crowding": "fingers close together",
}
"""Term of the cost → how a hard note is said to be hard by it, where that differs."""


class PlanWords:
    """Says things about one plan."""

    def __init__(self, plan: Plan, names: Names) -> None:
        self._plan = plan
        self._line = plan.line
        self._names = names
        self._neck = plan.solution.problem.model.neck

    def moment(self, index: int) -> str:
        """Return when a note comes: ``"bar 2, beat 3"``."""
        onset = self._line.notes[index].onset
        bar, beat = self._line.bar_at(onset), self._line.beat_at(onset)
        where = "pickup" if bar.number == 0 else f"bar {bar.number}"
        whole, rest = divmod(beat, 1)
        count = bar.metre.count(onset - bar.onset + bar.start)
        if rest and not count:
            return f"{where}, after beat {whole}"
        return f"{where}, beat {whole}{f' {count}' if rest else ''}"

    def note(self, index: int) -> str:
        """Return the name of a note."""
        return self._names.note(self._line.notes[index].pitch.name)

    def length(self, index: int) -> str:
        """Return what note value a note is."""
        duration = self._line.notes[index].duration
        return _LENGTHS.get(duration, "long note" if duration > 1 else "note")

    def summary(self) -> str:
        """Return how the line lies on the neck, in a line."""
        plan = self._plan
        positions = list(dict.fromkeys(state.anchor for state in plan.states))
        where = ", ".join(roman(position) for position in positions)
        moves = len(plan.shifts)
        shifts = "no shift" if not moves else f"{small_number(moves)} shift{'s' * (moves > 1)}"
        word = "position" if len(positions) == 1 else "positions"
        each = plan.cost / len(plan.states)
        return f"{word.capitalize()} {where}, {shifts}; cost {plan.cost:.1f}, {each:.1f} a note."

    # Shifts

    def shift(self, shift: Shift) -> str:
        """Return a shift in a sentence or two."""
        way = "up" if shift.frets > 0 else "back"
        path = f"{roman(shift.from_position)} to {roman(shift.to_position)}"
        start = f"After {self.note(shift.index)} ({self.moment(shift.index)}) the hand"
        return (
            f"{start} goes {way} {frets_away(shift.frets)}, {path}: {shift.distance_mm:.0f} mm "
            f"in {shift.needs_s:.2f} s. {self._time(shift)}{self._guide(shift)}"
        )

    def _guide(self, shift: Shift) -> str:
        """Say which finger stays on its string and leads the hand, if one does."""
        if shift.taken_from is TakenFrom.NONE or shift.index + 1 >= len(self._plan.states):
            return ""
        one, two = self._plan.states[shift.index : shift.index + 2]
        along = two.fret - one.fret == shift.frets  # it goes as far as the hand does
        if not 0 != one.finger == two.finger or one.string != two.string or not along:
            return ""
        string = self._names.string(self._neck, one.string)
        return f" Finger {one.finger} stays on the {string} and leads."

    def _time(self, shift: Shift) -> str:
        match shift.taken_from:
            case TakenFrom.REST:
                text = "the rest gives the time"
            case TakenFrom.OPEN_STRING:
                text = "the open string sounds on meanwhile"
            case TakenFrom.NONE:
                return "It is a slide: the move sounds."
            case TakenFrom.NOTE_LENGTH:
                text = (
                    f"the {self.length(shift.index)} gives {1000 * shift.shortened_s:.0f} ms, "
                    f"{shift.share:.0%} of it"
                )
        if shift.late:
            most = self._line.tempo_at(self._line.notes[shift.index].onset).bpm
            most *= shift.ioi_s / shift.needs_s
            return f"There is no time for it at this tempo; below {most:.0f} bpm there is."
        if shift.tight:
            return f"That is tight: {text}; practise it slowly."
        return f"{text[0].upper()}{text[1:]}."

    # Hard spots

    def hard_spot(self, spot: HardSpot) -> str:
        """Return a hard spot in a line."""
        terms = sorted(spot.terms.items(), key=lambda item: -item[1])
        state = self._plan.states[spot.index]
        pivots = self._plan.solution.problem.model.pivots(state)
        told = {"stretch": "pivot of the hand"} if pivots else {}
        parts = ", ".join(
            self.term(told.get(name, name), cost) for name, cost in terms[:3] if cost >= 0.05
        )
        return f"{self.note(spot.index)} ({self.moment(spot.index)}): {parts}."

    @staticmethod
    def term(name: str, cost: float) -> str:
        """Return a term of the cost in words, and how much it is."""
        return f"{_TERMS.get(name, name)} {cost:.1f}"

    # Reasons

    def taken(self, index: int) -> str:
        """Return how the plan takes a note: ``"2 on E (A string, fret 7)"``."""
        return self._taken(index, self._plan.states[index].choice)

    def reason(self, reason: why.Reason) -> str:
        """Return a reason in a sentence or two."""
        match reason:
            case why.FreesFinger():
                return self._frees_finger(reason)
            case why.AvoidsShift(index, chosen, instead, _, at, move):
                return (
                    f"{self._taken(index, chosen)}: with {self._choice(instead)} the easiest way "
                    f"on takes the hand {self._move(move)}, for {self._ahead(index, at)}."
                )
            case why.AvoidsOpen(index, chosen, instead, _, position):
                return (
                    f"{self._taken(index, chosen)}: {self._choice(instead)} is there too, but with "
                    f"the hand in {roman(position)} it rings on and has to be damped."
                )
            case why.WithinReach(index, chosen, instead, _, at, span_mm, comfortable_mm):
                return (
                    f"{self._taken(index, chosen)}: {self._ahead(index, at)} is then within "
                    f"reach; with {self._choice(instead)} it is a stretch, {span_mm:.0f} mm "
                    f"where {comfortable_mm:.0f} mm is comfortable."
                )
            case why.OutOfReach(index, position, span_mm, limit_mm):
                return (
                    f"{self.note(index)} lies {span_mm:.0f} mm from finger 1 in "
                    f"{roman(position)}, the hand spans {limit_mm:.0f} mm at the most: it moves."
                )
            case why.SavesSlur(index, chosen, instead, _, at):
                return (
                    f"{self._taken(index, chosen)}: then the slur to {self._ahead(index, at)} can "
                    f"be kept; with {self._instead(chosen, instead)} it would break."
                )
            case why.KeepsSlur(index, chosen, technique):
                return self._keeps_slur(index, chosen, technique)
            case why.BreaksSlur(index):
                return (
                    f"{self.note(index)} to {self.note(index + 1)} cannot be joined here without "
                    f"more trouble than it is worth: pluck again."
                )
            case why.CoversMove(index, shift):
                return self._covers(index, shift)
            case why.DeadEnd(index, chosen, instead):
                return (
                    f"{self._taken(index, chosen)}: after {self._choice(instead)} there is no "
                    "finger left for what comes."
                )

    def placed(self, reason: why.Reason) -> str:
        """Return a reason with the place of its note before it."""
        moment = self.moment(reason.index)
        return f"{moment[0].upper()}{moment[1:]}: {self.reason(reason)}"

    def _frees_finger(self, reason: why.FreesFinger) -> str:
        start = self._taken(reason.index, reason.chosen)
        coming = self._ahead(reason.index, reason.at)
        other = self._instead(reason.chosen, reason.instead)
        lies = "is then over" if self._plan.at_rest(reason.at) else "then reaches"
        free = f"finger {reason.finger} {lies} {coming}"
        if reason.finger == 0:
            free = f"the open string can then take {coming}"
        if reason.move is None:
            return f"{start}: {free}; with {other} no free finger lies over it."
        return f"{start}: {free}; with {other} the hand goes {self._move(reason.move)}."

    def _keeps_slur(self, index: int, chosen: Choice, technique: Technique) -> str:
        following = self._plan.states[index + 1]
        way = {
            Technique.HAMMER_ON: f"hammer {following.finger} on",
            Technique.PULL_OFF: "pull off",
            Technique.SLIDE: "slide",
        }[technique]
        string = self._names.string(self._neck, chosen.string)
        return f"{self.note(index)} to {self.note(index + 1)} on the {string}: {way}."

    def _covers(self, index: int, shift: Shift) -> str:
        way = f"{'up' if shift.frets > 0 else 'back'} to {roman(shift.to_position)}"
        match shift.taken_from:
            case TakenFrom.REST:
                return f"The rest after {self.note(index)} covers the move {way}."
            case TakenFrom.OPEN_STRING:
                return f"The open {self.note(index)} covers the move {way}."
            case _:
                return f"The {self.length(index)} {self.note(index)} pays for the move {way}."

    def _taken(self, index: int, chosen: Choice) -> str:
        where = self._names.string(self._neck, chosen.string)
        if chosen.finger == 0:
            return f"{self.note(index)} open on the {where}"
        return f"{chosen.finger} on {self.note(index)} ({where}, fret {chosen.fret})"

    def _choice(self, choice: Choice) -> str:
        string = self._names.string(self._neck, choice.string)
        if choice.finger == 0:
            return f"the open {string}"
        return f"{choice.finger} on the {string}, fret {choice.fret}"

    def _instead(self, chosen: Choice, instead: Choice) -> str:
        if chosen[:2] == instead[:2]:
            return f"{instead.finger} here"
        return self._choice(instead)

    def _ahead(self, index: int, at: int) -> str:
        """Return a coming note: ``"E (the next note but one)"``."""
        distance = at - index
        words = {1: "the next note", 2: "the next note but one", 3: "the next note but two"}
        return f"{self.note(at)} ({words.get(distance, self.moment(at))})"

    def _move(self, move: why.Move) -> str:
        way = "up" if move.frets > 0 else "back"
        path = f"{way} {frets_away(move.frets)}, {move.mm:.0f} mm"
        hurried = move.needs_s > HURRIED * move.available_s
        return f"{path}, in {move.available_s:.2f} s" if hurried else path

    # Looking ahead, written fingers

    def looking_ahead(self, costs: Sequence[float]) -> str:
        """Return what seeing only so many notes ahead costs beyond the cheapest line.

        Args:
            costs: of lines played seeing 0, 1, 2 … notes ahead.
        """
        told = ", ".join(
            f"{seen}: {'gets stuck' if cost >= NO_WAY else f'{self._more(cost):.1f}'}"
            for seen, cost in enumerate(costs)
        )
        return f"Who looks only so many notes ahead pays so much more: {told}."

    def _more(self, cost: float) -> float:
        return max(0.0, cost - self._plan.solution.cost)

    def note_line(self, index: int) -> str:
        """Return a note of the plan in a line: when, what, where, which finger."""
        state = self._plan.states[index]
        finger = f"finger {state.finger}" if state.finger else "no finger"
        parts = [self.note(index), self._names.place(self._neck, state.place), finger]
        before = self._plan.states[index - 1].anchor if index else None
        if before != state.anchor:
            parts.append(f"position {roman(state.anchor)}")
        joined = self._plan.technique(index)
        if joined is not None and joined is not Technique.HELD:
            parts.append(f"{joined.value} to the next")
        moment = self.moment(index)
        return f"{moment[0].upper()}{moment[1:]}: {', '.join(parts)}."

    def difference(self, path: Path, most: int) -> str:
        """Return what another way to play the line does otherwise, and what it costs more."""
        plan = self._plan
        pairs = enumerate(zip(path.choices, plan.path.choices, strict=True))
        other = [
            f"{self.moment(index)}, {self._taken(index, choice)}"
            for index, (choice, ours) in pairs
            if choice != ours
        ]
        rest = f"; and {len(other) - most} more notes" if len(other) > most else ""
        told = "; ".join(other[:most]) if other else "as above"
        return f"{path.cost - plan.cost:+.2f}: {told}{rest}"

    def hardest(self) -> str:
        """Return how the hardest note of the plan compares with the cheapest line's."""
        plan = self._plan
        cheapest = plan.solution.best()
        return (
            f"The hardest note costs {max(plan.path.costs):.1f}, in the easiest line "
            f"{max(cheapest.costs):.1f}; the whole line costs {plan.cost - cheapest.cost:.1f} more."
        )

    def beginnings(self, most: int) -> str:
        """Return what the best lines from other positions cost beyond the plan, nearest first."""
        here = self._plan.states[0].anchor
        costs = self._plan.solution.by_position()
        others = sorted((cost, at) for at, cost in costs.items() if at != here)
        if not others:
            return ""
        told = [f"{roman(at)} {cost - self._plan.cost:+.1f}" for cost, at in others[:most]]
        return f"Beginning in another position than {roman(here)}: {', '.join(told)}."

    def written_finger(self, index: int, regret: float | None) -> str:
        """Return what the finger written on a note costs beside the plan's."""
        written = self._line.notes[index].finger
        planned = self._plan.states[index].finger
        start = (
            f"{self.note(index)} ({self.moment(index)}): {written} is written, {planned} planned"
        )
        if regret is None:
            return f"{start}; {written} stands in no usual hand there."
        if regret < why.MATTERS:
            return f"{start}; either works."
        return f"{start}; {written} costs {regret:.1f} more."
