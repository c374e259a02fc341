"""What the line screen says: the line, its choices, positions, hard spots, looking ahead."""

from collections.abc import Iterator, Sequence
from itertools import islice, pairwise

from fretdrill.hand.advice import MoreFrets, Octaves, OffNote, OtherTuning, Way
from fretdrill.hand.plan import Plan
from fretdrill.hand.problem import Path
from fretdrill.hand.reasons import MATTERS, against
from fretdrill.hand.solution import RatedChoice
from fretdrill.hand.states import Choice
from fretdrill.neck.neck import Neck, Place
from fretdrill.neck.position import roman
from fretdrill.presentation.names import Names, small_number
from fretdrill.presentation.plan_words import NO_WAY, PlanWords
from fretdrill.theory.line import Line

MOST_OFF = 3  # notes off the neck that are named
MOST_COMPARED = 64  # notes on which another way is compared with the plan
MOST_TERMS, WORTH_NAMING = 2, 0.5  # of what another choice costs more

_PAYS_FOR = {
    "shift": "a shift",
    "stretch": "a stretch",
    "string": "crossing strings",
    "place": "playing higher up the neck",
    "finger": "a weaker finger",
    "crowding": "fingers close together",
    "open string": "an open string",
    "same hand": "the same finger again",
    "slur": "a slur",
}
"""Term of the cost → what another choice pays for."""


def title(line: Line, names: Names) -> str:
    """Return a line's title with its metre, key, tempo and number of notes."""
    key = f", {line.key.text(ascii_only=names.ascii_only)}" if line.key else ""
    count = "1 note" if len(line.notes) == 1 else f"{len(line.notes)} notes"
    return f"{line.title}   {line.metre}{key}, {line.tempos[0].bpm:g} bpm, {count}"


def contents(line: Line, names: Names) -> str:
    """Return what is in a line, in columns: its notes, bars, key and title."""
    notes, bars = len(line.notes), len(line.bars)
    key = line.key.text(ascii_only=names.ascii_only) if line.key else ""
    counted = (
        f"{notes:>5} note{' ' if notes == 1 else 's'} {bars:>4} bar{' ' if bars == 1 else 's'}"
    )
    return f"{counted}  {key:<11} {line.title}"


def heading(line: Line, told: str, names: Names, width: int) -> str:
    """Return a line's title and what its plan costs, the title cut where there is no room."""
    words, room = title(line, names), max(0, width - len(told) - 3)
    more = ".." if names.ascii_only else "…"
    cut = words if len(words) <= room else f"{words[: room - len(more)].rstrip()}{more}"
    return f"{cut}   {told}" if told else cut


def unusable_text(fault: str, pins: int) -> str:
    """Return that pins of another neck are left out, and why."""
    if pins == 1:
        return f"A pin is left out, and kept for the neck that it was made on: {fault}."
    what = f"{small_number(pins).capitalize()} pins are left out"
    return f"{what}, and kept for the neck that they were made on: {fault}."


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
    dearer = _dearer(plan, index, rated.choice)[:MOST_TERMS]
    named = [_PAYS_FOR.get(name, name) for name, cost in dearer if cost > WORTH_NAMING]
    details = f"above all for {' and '.join(named)}" if named else "a little here and there"
    return f"{rated.regret:.1f} more by the end, {details}."


def _dearer(plan: Plan, index: int, instead: Choice) -> list[tuple[str, float]]:
    """Return by what another choice costs more, most first: to where both ways meet again."""
    problem = plan.solution.problem
    before = plan.states[index - 1] if index else None
    more: dict[str, float] = {}
    steps = enumerate(plan.solution.onward(index, (instead,), before), start=index)
    for at, step in islice(steps, MOST_COMPARED):
        ours = plan.terms(at)
        theirs = problem.note_terms(at, before, step.state)
        for name in ours.keys() | theirs.keys():
            more[name] = more.get(name, 0.0) + theirs.get(name, 0.0) - ours.get(name, 0.0)
        if step.state == plan.states[at]:
            break
        before = step.state
    return sorted(more.items(), key=lambda item: (-item[1], item[0]))


def _of_the_plan(plan: Plan, index: int, words: PlanWords) -> str:
    """Return how the hand comes to a note and goes on from it, where it moves."""
    shifts = [plan.shift_after(index - 1) if index else None, plan.shift_after(index)]
    return " ".join(words.shift(shift) for shift in shifts if shift is not None)


def position_text(plan: Plan, position: int, path: Path, notes: range) -> str:
    """Return how the line lies if it begins in a position, with the fingers of some notes."""
    return f"{position_summary(plan, position, path)}   this bar: {fingers_text(path, notes)}"


def position_summary(plan: Plan, position: int, path: Path) -> str:
    """Return what the line costs if it begins in a position, its shifts and open strings."""
    shifts = sum(one.anchor != two.anchor for one, two in pairwise(path.states))
    opened = sum(state.fret == 0 for state in path.states)
    moves = "no shift" if not shifts else f"{shifts} shift{'s' * (shifts > 1)}"
    more = path.cost - plan.solution.cost
    return f"{roman(position):<5}+{more:<6.1f} {moves:<10} {opened} open"


def fingers_text(path: Path, notes: range) -> str:
    """Return the fingers of some notes of a line."""
    return " ".join(str(path.states[index].finger) for index in notes)


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
    return f"Off the neck {verb} {named}{rest}; left out.{_advice(ways)}"


def off_note_text(line: Line, note: OffNote, ways: Sequence[Way], names: Names) -> str:
    """Return why one note is left out, and what would bring all in."""
    pitch, count = names.pitch(line.notes[note.index].pitch), abs(note.semitones)
    far = "a semitone" if count == 1 else f"{count} semitones"
    end = "above the highest" if note.semitones > 0 else "below the lowest"
    where = f"lies {far} {end} note of the neck" if count else "lies between what two strings have"
    return f"{pitch} {where}; the rest is planned without it.{_advice(ways)}"


def _advice(ways: Sequence[Way]) -> str:
    helps = " or ".join(_ways(ways))
    return f" {helps[:1].upper()}{helps[1:]} would bring all in." if helps else ""


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
