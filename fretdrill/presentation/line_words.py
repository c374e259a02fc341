"""What the line screen says: the line, its choices, positions, hard spots, looking ahead."""

from collections.abc import Iterator, Sequence

from fretdrill.hand.advice import MoreFrets, Octaves, OffNote, OtherTuning, Way
from fretdrill.hand.plan import Plan
from fretdrill.hand.problem import Path
from fretdrill.hand.reasons import MATTERS, against
from fretdrill.hand.solution import RatedChoice
from fretdrill.neck.neck import Neck, Place
from fretdrill.neck.position import roman
from fretdrill.presentation.names import Names, small_number
from fretdrill.presentation.plan_words import NO_WAY, PlanWords
from fretdrill.theory.line import Line

MOST_OFF = 3  # notes off the neck that are named


def title(line: Line, names: Names) -> str:
    """Return a line's title with its metre, key, tempo and number of notes."""
    key = f", {line.key.text(ascii_only=names.ascii_only)}" if line.key else ""
    count = "1 note" if len(line.notes) == 1 else f"{len(line.notes)} notes"
    return f"{line.title}   {line.metre}{key}, {line.tempos[0].bpm:g} bpm, {count}"


def cost_text(cost: float | None, free_cost: float | None, pins: int, waiting: bool) -> str:
    """Return what the plan costs, how much of that the pins do, and whether one is coming."""
    if cost is None:
        return "being worked out" if waiting else ""
    text = f"cost {cost:.1f}"
    if pins:
        more = "" if free_cost is None else f" {cost - free_cost:+.1f}"
        text += f", {'1 pin' if pins == 1 else f'{pins} pins'}{more}"
    return f"{text}, being worked out anew" if waiting else text


def choice_text(plan: Plan, index: int, rated: RatedChoice, names: Names) -> str:
    """Return a choice and its regret in a few words: ``"4  A string, fret 10  easiest"``."""
    neck = plan.solution.problem.model.neck
    string, fret, finger = rated.choice
    where = names.place(neck, Place(string, fret))
    easiest = rated.choice == plan.states[index].choice
    cost = "easiest" if easiest else f"+{rated.regret:.1f}"
    return f"{finger}  {where:<18} {cost}"


def why_not(plan: Plan, index: int, rated: RatedChoice, names: Names) -> str:
    """Return why the plan does not take a choice."""
    words = PlanWords(plan, names)
    if rated.choice == plan.states[index].choice:
        reasons = _of_the_plan(plan, index, words)
        return reasons or f"{words.taken(index)}: the easiest by the end."
    told = " ".join(words.reason(reason) for reason in against(plan, index, rated.choice))
    if told:
        return told
    if rated.regret < MATTERS:
        return f"About as good: {rated.regret:.1f} more by the end."
    return f"{rated.regret:.1f} more by the end, a little here and there."


def _of_the_plan(plan: Plan, index: int, words: PlanWords) -> str:
    """Return how the hand comes to a note and goes on from it, where it moves."""
    shifts = [plan.shift_after(index - 1) if index else None, plan.shift_after(index)]
    return " ".join(words.shift(shift) for shift in shifts if shift is not None)


def position_text(plan: Plan, position: int, path: Path, notes: range) -> str:
    """Return how the line lies if it begins in a position, with the fingers of some notes."""
    shifts = sum(
        one.anchor != two.anchor for one, two in zip(path.states, path.states[1:], strict=False)
    )
    opened = sum(state.fret == 0 for state in path.states)
    moves = "no shift" if not shifts else f"{shifts} shift{'s' * (shifts > 1)}"
    fingers = " ".join(str(path.states[index].finger) for index in notes)
    more = path.cost - plan.solution.cost
    return f"{roman(position):<5}+{more:<6.1f} {moves:<10} {opened} open   this bar: {fingers}"


def spots_text(plan: Plan, names: Names) -> list[str]:
    """Return the hard spots, the hardest first."""
    words = PlanWords(plan, names)
    return [words.hard_spot(spot) for spot in plan.hard_spots]


def ahead_text(plan: Plan, paths: Sequence[Path]) -> list[str]:
    """Return what each player who sees so many notes ahead pays by the end."""
    rows = []
    for seen, path in enumerate(paths):
        notes = "the note itself" if not seen else f"{small_number(seen)} ahead"
        pays = "gets stuck" if path.cost >= NO_WAY else f"+{_more(path, plan):.1f} by the end"
        pairs = zip(path.choices, plan.path.choices, strict=True)
        other = sum(theirs != ours for theirs, ours in pairs)
        rows.append(f"+{seen}  who sees {notes}: {pays}, {other} notes otherwise")
    return rows


def _more(path: Path, plan: Plan) -> float:
    return max(0.0, path.cost - plan.solution.cost)


# Notes off the neck


def off_text(line: Line, off: Sequence[OffNote], ways: Sequence[Way], names: Names) -> str:
    """Return which notes lie off the neck, how far, and what would help."""
    named = ", ".join(_off_note(line, note, names) for note in off[:MOST_OFF])
    rest = f" and {len(off) - MOST_OFF} more" if len(off) > MOST_OFF else ""
    verb = "lies" if len(off) == 1 else "lie"
    helps = " or ".join(_ways(ways))
    advice = f" {helps[:1].upper()}{helps[1:]} would bring all in." if helps else ""
    return f"Off the neck {verb} {named}{rest}; left out.{advice}"


def _off_note(line: Line, note: OffNote, names: Names) -> str:
    pitch = names.pitch(line.notes[note.index].pitch)
    count = abs(note.semitones)
    if not count:
        return f"note {note.index + 1} ({pitch}, between two strings)"
    far = "a semitone" if count == 1 else f"{count} semitones"
    return f"note {note.index + 1} ({pitch}, {far} {'above' if note.semitones > 0 else 'below'})"


def _ways(ways: Sequence[Way]) -> Iterator[str]:
    for way in ways:
        match way:
            case Octaves(octaves):
                count = "an octave" if abs(octaves) == 1 else f"{abs(octaves)} octaves"
                yield f"{count} {'higher' if octaves > 0 else 'lower'}"
            case OtherTuning(tuning):
                yield f"a {tuning} neck"
            case MoreFrets(frets):
                yield f"{frets} frets"


def hand_text(plan: Plan, index: int, names: Names) -> str:
    """Return where the hand stands at a note and how much of what comes lies under it."""
    state = plan.states[index]
    note = PlanWords(plan, names).note(index)
    taken = f"{state.finger} on {note}" if state.finger else f"{note} open"
    ahead = min(3, len(plan.states) - 1 - index)
    ready = f", {plan.ready(index)} of the next {ahead} under the hand" if ahead else ""
    return f"{roman(state.anchor)}: {taken}{ready}"


def neck_name(neck: Neck) -> str:
    """Return a neck's tuning, by its usual name if it has one."""
    return neck.tuning.preset or str(neck.tuning)
