"""Whether a way to play can be played, and is charged for what is hard to play.

This knows the neck, the hand's spans and the rules of joins; of the cost model it asks only
what a note is charged for.
"""

from collections.abc import Iterator, Mapping

from fretdrill.hand.cost import IMPOSSIBLE, CostModel
from fretdrill.hand.problem import Path
from fretdrill.hand.solution import Solution
from fretdrill.hand.states import Pin, State
from fretdrill.theory.line import Line

SEMITONE_MM = 13.75
PRACTICAL_SEMITONES = {2: 5, 3: 7, 4: 10}
BOTH_DOWN_SEMITONES = {(1, 2): 5, (1, 3): 7, (1, 4): 10, (2, 3): 4, (2, 4): 7, (3, 4): 5}
USUAL_OFFSETS = {1: {-1, 0}, 2: {1}, 3: {2}, 4: {2, 3, 4}}
EPSILON = 1e-6


def fret_mm(scale_mm: float, fret: int) -> float:
    return scale_mm * (1 - 2 ** (-fret / 12))


def mm_between(model: CostModel, fret: int, other: int) -> float:
    scale = model.neck.scale_mm
    return abs(fret_mm(scale, fret) - fret_mm(scale, other))


def faults(
    solution: Solution, path: Path, line: Line, pins: Mapping[int, Pin] | None = None
) -> list[str]:
    """Return all that is wrong with a way to play; nothing if it can be played."""
    model = solution.problem.model
    found = [*_whole(path, line)]
    if found:
        return found
    for index, state in enumerate(path.states):
        terms = solution.problem.terms(path, index)
        said = [*_place(model, state, line.notes[index].pitch.midi)]
        said += _pinned(state, (pins or {}).get(index))
        said += _hand(model, state, terms)
        if index:
            joined = line.notes[index - 1].join is not None
            said += _way(model, path.states[index - 1], state, terms, joined=joined)
        if abs(sum(terms.values()) - path.costs[index]) > EPSILON:
            said.append("its terms do not sum up to its cost")
        if model.strict and path.costs[index] >= IMPOSSIBLE / 10_000:
            said.append("there is no time for it")
        found += [f"note {index}, {state}: {what}" for what in said]
    return found


def _whole(path: Path, line: Line) -> Iterator[str]:
    if not len(path.states) == len(path.costs) == len(line.notes):
        yield "not a state and a cost for each note"
    if abs(sum(path.costs) - path.cost) > EPSILON:
        yield "its costs do not sum up to its cost"
    if any(cost < 0 for cost in path.costs):
        yield "a note costs less than nothing"


def _place(model: CostModel, state: State, midi: int) -> Iterator[str]:
    neck = model.neck
    if not (1 <= state.string <= len(neck.tuning) and 0 <= state.fret <= neck.frets):
        yield "off the neck"
    elif neck.tuning.strings[state.string - 1].midi + state.fret != midi:
        yield f"it does not sound {midi}"
    if (state.finger == 0) != (state.fret == 0):
        yield "finger 0 and the open string go together"
    if state.finger not in (0, 1, 2, 3, 4):
        yield "there is no such finger"
    if not 1 <= state.anchor <= neck.frets:
        yield "the hand is off the neck"


def _pinned(state: State, pin: Pin | None) -> Iterator[str]:
    if pin is None:
        return
    kept = {
        "finger": state.finger, "string": state.string, "fret": state.fret,
        "position": state.anchor,
    }  # fmt: skip
    for name, value in kept.items():
        if getattr(pin, name) not in (None, value):
            yield f"its {name} was settled otherwise"


def _hand(model: CostModel, state: State, terms: Mapping[str, float]) -> Iterator[str]:
    """Tell where a finger reaches further than it can, and nothing is charged for it."""
    if state.finger == 0:
        return
    offset = state.fret - state.anchor
    if offset not in USUAL_OFFSETS[state.finger]:
        charged = terms.get("stretch", 0.0) >= model.weights.bent - EPSILON
        if not charged:
            yield "the hand is bent for nothing"
    finger, span = state.finger, mm_between(model, state.fret, state.anchor)
    if state.finger == 1 and offset < 0:  # finger 2 stays where it is
        finger, span = 2, mm_between(model, state.fret, state.anchor + 1)
    if finger == 1:
        return
    most = PRACTICAL_SEMITONES[finger] * SEMITONE_MM * model.hand.scale
    if span > most + EPSILON:
        charged = terms.get("stretch", 0.0) >= model.weights.pivot - EPSILON
        if not (model.pivots(state) and charged):
            yield f"a stretch of {span:.0f} mm where {most:.0f} mm can be had"


def _way(
    model: CostModel, one: State, two: State, terms: Mapping[str, float], *, joined: bool
) -> Iterator[str]:
    weights = model.weights
    stopped = one.finger and two.finger
    if stopped and one.anchor == two.anchor and one.place != two.place:
        crossed = (one.fret - two.fret) * (one.finger - two.finger) < 0
        if crossed and terms.get("same hand", 0.0) < weights.order - EPSILON:
            yield "a higher finger on a lower fret for nothing"
    broken = joined and not can_join(model, one, two)
    if broken and terms.get("slur", 0.0) < weights.broken_join - EPSILON:
        yield "a join that cannot be played for nothing"
    moved = abs(one.anchor - two.anchor) > 1 and weights.shift > 0
    if moved and "shift" not in terms:
        yield "a shift for nothing"


def can_join(model: CostModel, one: State, two: State) -> bool:
    """Whether the second note sounds without a pluck."""
    if one.string != two.string:
        return False
    if one.fret == two.fret:
        return one.finger == two.finger
    if one.finger == two.finger:
        return True
    if one.finger == 0:  # hammered from nowhere
        return True
    if one.anchor != two.anchor:
        return False
    if two.finger == 0:
        return True
    if (two.fret > one.fret) != (two.finger > one.finger):
        return False
    pair = min(one.finger, two.finger), max(one.finger, two.finger)
    most = BOTH_DOWN_SEMITONES[pair] * SEMITONE_MM * model.hand.scale
    return mm_between(model, one.fret, two.fret) <= most
