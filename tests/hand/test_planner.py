"""The planner against counting, against networkx, and against planning anew."""

import random
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.hand.cost import IMPOSSIBLE, UNIT, CostModel
from fretdrill.hand.failure import ImpossiblePin, NoFingering, NoOpenString, NoTime, OutOfRange
from fretdrill.hand.gap import Gap, gap_between
from fretdrill.hand.hand import Hand
from fretdrill.hand.layer import Layer
from fretdrill.hand.planner import Planner
from fretdrill.hand.problem import Path
from fretdrill.hand.solution import Solution
from fretdrill.hand.states import ANY, FRAMES, Choice, Pin, State, is_bent
from fretdrill.hand.weights import Weights
from fretdrill.neck.neck import Neck
from fretdrill.theory.line import Join, Line
from tests.hand.enumeration import (
    LEVEL,
    Case,
    Way,
    cases,
    cost_of,
    models,
    node_cost,
    parts,
    pins_for,
    step_tables,
    ways,
)
from tests.reference.lines import line, line_of
from tests.strategies import LENGTHS, RESTS, lines

SHORT_NECK = Neck(frets=12)
MODEL = CostModel(SHORT_NECK, Hand())
LEVEL_MODEL = CostModel(SHORT_NECK, Hand(), LEVEL)
STRICT = CostModel(SHORT_NECK, Hand(), strict=True)
CLOSED = CostModel(SHORT_NECK, Hand(), open_strings=False)
COUNTED = settings(max_examples=40, deadline=None)


def solved(case: Case) -> Solution:
    return Planner(case.model).solve(case.line, case.pins)


def cheapest(case: Case) -> int:
    return min(way.total for way in ways(case))


def random_case(seed: int, notes: int, model: CostModel = MODEL) -> Case:
    """Return a longer line that hops about as little as music does."""
    rng = random.Random(seed)
    midi, midis = 38, []
    for _ in range(notes):
        midi = min(55, max(29, midi + rng.choice((-7, -5, -2, -2, -1, 0, 1, 2, 2, 4, 5, 12))))
        midis.append(midi)
    plain = line_of(midis, rng.choice((80.0, 120.0, 200.0)))
    joins = (None, None, None, *Join)
    joined = tuple(replace(note, join=rng.choice(joins)) for note in plain.notes)
    return Case(model, replace(plain, notes=joined), {})


# The cheapest line


@settings(max_examples=100, deadline=None)
@given(cases())
def test_no_way_of_all_ways_is_cheaper(case: Case) -> None:
    solution = solved(case)
    assert parts(solution.cost) == cheapest(case)
    best = solution.best()
    assert cost_of(case, best.states) == parts(solution.cost)
    assert parts(best.cost) == sum(map(parts, best.costs)) == parts(solution.cost)


def test_no_way_of_many_thousands_is_cheaper() -> None:
    case = Case(MODEL, line("C2 Eb2( F2 G2 Bb2", 140.0), {0: Pin(string=3)})
    counted = [way.total for way in ways(case)]
    assert len(counted) > 50_000
    assert parts(solved(case).cost) == min(counted)


@COUNTED
@given(cases(min_notes=1, max_notes=5, strict=True))
def test_a_strict_model_finds_a_way_whenever_there_is_one(case: Case) -> None:
    least = cheapest(case)
    if least < IMPOSSIBLE:
        assert parts(solved(case).cost) == least
        return
    with pytest.raises(NoFingering) as caught:
        solved(case)
    assert all(isinstance(cause, NoTime) for cause in caught.value.causes)


@COUNTED
@given(cases(min_notes=1, max_notes=5))
def test_each_note_costs_what_its_terms_say(case: Case) -> None:
    solution = solved(case)
    best = solution.best()
    for index, cost in enumerate(best.costs):
        terms = solution.problem.terms(best, index)
        assert sum(map(parts, terms.values())) == parts(cost)
        assert all(terms.values())


@pytest.mark.parametrize("model", [MODEL, LEVEL_MODEL, CLOSED], ids=["bass", "level", "closed"])
@pytest.mark.parametrize(("seed", "notes"), [(1, 30), (2, 60)])
def test_networkx_finds_no_shorter_path_through_a_longer_line(
    model: CostModel, seed: int, notes: int
) -> None:
    networkx = pytest.importorskip("networkx")
    case = random_case(seed, notes, model)
    graph = networkx.DiGraph()
    layers = case.layers
    last = len(layers) - 1
    for t, state in enumerate(layers[0]):
        graph.add_edge("start", (0, t), weight=node_cost(model, state, last=False))
    for index, table in enumerate(step_tables(case), start=1):
        nodes = [node_cost(model, state, last=index == last) for state in layers[index]]
        graph.add_weighted_edges_from(
            ((index - 1, s), (index, t), step + nodes[t])
            for s, row in enumerate(table)
            for t, step in enumerate(row)
        )
    for t in range(len(layers[last])):
        graph.add_edge((last, t), "end", weight=0)
    shortest = networkx.dijkstra_path_length(graph, "start", "end")
    assert parts(solved(case).cost) == shortest


# All steps at once


@st.composite
def gaps(draw: st.DrawFn) -> Gap:
    rest = draw(st.sampled_from((0.0, 0.0, 0.1, 1.5)))
    sounding = draw(st.sampled_from((0.02, 0.05, 0.1, 0.149, 0.15, 0.3, 0.6, 2.0)))
    join = draw(st.sampled_from((None, *Join)))
    return Gap(sounding + rest, rest, join, draw(st.booleans()), draw(st.booleans()))


def same_steps(model: CostModel, one: Layer, two: Layer, gap: Gap) -> None:
    """Check all steps of a gap; a move without time may cost any sum that is impossible."""
    steps = model.steps(one, two, gap)
    for t, row in zip(two.states, steps.rows, strict=True):
        alone = [sum(model.step_terms(s, t, gap).values()) for s in one.states]
        assert [min(c, IMPOSSIBLE) for c in row] == [min(c, IMPOSSIBLE) for c in alone]
    assert steps.columns == tuple(zip(*steps.rows, strict=True))


@pytest.mark.parametrize(("one", "two"), [(36, 41), (41, 36), (33, 43)])
def test_what_was_worked_out_for_one_gap_does_not_leak_into_another(one: int, two: int) -> None:
    """C2 and F2 lie on one fret of two strings, A1 and G2 can be open."""
    model = CostModel(SHORT_NECK, Hand())
    for seconds, join, held, staccato in product((0.1, 0.3), (None, *Join), *[(False, True)] * 2):
        gap = Gap(seconds, 0.0, join, held, staccato)
        same_steps(model, model.layer(one), model.layer(two), gap)


@settings(max_examples=80, deadline=None)
@given(models() | models(strict=True), st.data())
def test_all_steps_at_once_are_the_steps_one_by_one(model: CostModel, data: st.DataObject) -> None:
    layers = []
    lowest = min(pitch.midi for pitch in model.neck.tuning.strings)
    for _ in range(2):
        midi = lowest + data.draw(st.integers(1, 27))
        pins = pins_for(model.layer(midi).states, fingers=True)
        layers.append(model.layer(midi, data.draw(st.just(ANY) | pins)))
    for _ in range(3):
        same_steps(model, layers[0], layers[1], data.draw(gaps()))


# What other choices cost


@COUNTED
@given(st.data())
def test_a_regret_is_what_planning_anew_with_that_choice_costs_more(data: st.DataObject) -> None:
    case = data.draw(cases(min_notes=1, max_notes=6, fingers=False, most_ways=10**9))
    solution = solved(case)
    index = data.draw(st.integers(0, len(case.line.notes) - 1))
    rated = solution.regrets(index)
    regrets = [rate.regret for rate in rated]
    assert regrets[0] == 0
    assert regrets == sorted(regrets)
    assert {rate.choice for rate in rated} == {state.choice for state in case.layers[index]}
    assert len({rate.choice for rate in rated}) == len(rated)
    for choice, regret in rated:
        anew = [
            Planner(case.model).solve(
                case.line,
                {**case.pins, index: Pin(choice.finger, choice.string, choice.fret, state.anchor)},
            )
            for state in case.layers[index]
            if state.choice == choice
        ]
        assert min(s.cost for s in anew) - solution.cost == pytest.approx(regret, abs=1e-9)
        through = solution.through(index, choice)
        assert through.choices[index] == choice
        assert through.cost == pytest.approx(solution.cost + regret, abs=1e-9)
        assert cost_of(case, through.states) == parts(through.cost)


@pytest.mark.parametrize("seed", range(3))
def test_only_a_bent_hand_makes_a_settled_finger_cheaper_than_its_regret(seed: int) -> None:
    """Settling a finger adds hands that nobody chooses freely."""
    case = random_case(seed, 12)
    solution = solved(case)
    for index in range(len(case.line.notes)):
        for choice, regret in solution.regrets(index):
            pin = Pin(choice.finger, choice.string, choice.fret)
            anew = Planner(case.model).solve(case.line, {index: pin})
            more = anew.cost - solution.cost
            if is_bent(MODEL.hand, anew.best().states[index]):
                assert more < regret
            else:
                assert more == pytest.approx(regret, abs=1e-9)


@COUNTED
@given(cases(min_notes=1, max_notes=4, strict=True), st.data())
def test_a_strict_model_rates_only_choices_that_there_is_time_for(
    case: Case, data: st.DataObject
) -> None:
    counted = [way for way in ways(case) if way.total < IMPOSSIBLE]
    if not counted:
        return
    solution = solved(case)
    index = data.draw(st.integers(0, len(case.line.notes) - 1))
    least: dict[Choice, int] = {}
    for way in counted:
        choice = way.choices[index]
        least[choice] = min(way.total, least.get(choice, way.total))
    best = min(least.values())
    rated = {rate.choice: parts(rate.regret) for rate in solution.regrets(index)}
    assert rated == {choice: cost - best for choice, cost in least.items()}


# An impossible move elsewhere costs the same flat sum however cheap the rest of the way is.
def test_a_choice_that_there_is_no_time_for_is_left_out_however_cheap_the_rest_is() -> None:
    fast = line("G2*64 F3 G2*64 F3", 1000.0, Fraction(1, 64))
    solution = Planner(STRICT).solve(fast, {1: Pin(string=1), 3: Pin(string=1)})
    for index in range(4):
        assert all(rate.regret < 1000 for rate in solution.regrets(index))


# Ties


def tie_rule(way: Way) -> tuple[int, int, tuple[int, ...]]:
    """Return what the cheapest lines are ordered by."""
    return way.total, max(way.costs, default=0), way.indexes[::-1]


@settings(max_examples=80, deadline=None)
@given(cases(min_notes=1, max_notes=5))
def test_of_the_cheapest_lines_the_hardest_step_is_easiest(case: Case) -> None:
    _, hardest, _ = min(map(tie_rule, ways(case)))
    assert max(map(parts, solved(case).best().costs)) == hardest


# A1 and F#1, the second on the lowest string: A1 as an open string makes two steps of 2 and
# 3, with finger 4 it makes two of 1 and 4. Found by counting.
def test_a_step_is_as_hard_as_the_move_and_the_note_together() -> None:
    weights = replace(
        LEVEL, pivot=3.0, open=2.0, string=0.0, swap=2.0, order=2.0,
        finger_1=4.0, finger_3=1.0, finger_4=1.0,
    )  # fmt: skip
    model = CostModel(SHORT_NECK, Hand(), weights)
    best = Planner(model).solve(line("A1 F#1"), {1: Pin(string=4)}).best()
    assert best.costs == (2.0, 3.0)


# A way back that is easier than it need be must not come before a lower position. Found by
# counting.
def test_steps_that_are_easy_enough_all_count_alike() -> None:
    model = CostModel(Neck(frets=12, scale_mm=762.0), Hand(1.1), LEVEL, open_strings=False)
    written = line("G1 G1 F2 F1 F1", 40.0, Fraction(1, 24))
    case = Case(model, written, {0: Pin(string=4, position=2)})
    assert solved(case).best().states == min(ways(case), key=tie_rule).states


@settings(max_examples=80, deadline=None)
@given(cases(min_notes=1, max_notes=5))
def test_ties_beyond_that_go_to_the_states_that_come_first(case: Case) -> None:
    expected = min(ways(case), key=tie_rule)
    assert solved(case).best().states == expected.states


@COUNTED
@given(cases())
def test_planning_again_gives_the_same(case: Case) -> None:
    model = case.model
    fresh = CostModel(
        model.neck, model.hand, model.weights,
        open_strings=model.open_strings, frets_a_second=model.frets_a_second,
    )  # fmt: skip
    again = Planner(fresh).solve(case.line, case.pins)
    first = solved(case)
    assert again.best() == first.best()
    assert again.best_paths(4) == first.best_paths(4)
    assert again.easiest_hardest() == first.easiest_hardest()


@given(models(), st.integers(1, 27))
def test_states_come_in_the_order_of_the_last_rule(model: CostModel, above: int) -> None:
    """Anchor, finger and string, the stopped ones first."""
    midi = min(pitch.midi for pitch in model.neck.tuning.strings) + above
    states = model.layer(midi).states
    keys = [(s.fret == 0, s.anchor, s.finger, s.string) for s in states]
    assert keys == sorted(set(keys))
    by_hand = {
        State(string, fret, finger, fret - offset)
        for string, fret in model.neck.places_of(midi)
        for finger, offsets in FRAMES[model.hand.system].items()
        for offset in offsets
        if fret and 1 <= fret - offset <= model.neck.frets
    }
    assert {state for state in states if state.fret} == by_hand


# Several lines


@COUNTED
@given(cases(min_notes=1, max_notes=5), st.integers(1, 12))
def test_the_best_few_lines_are_those_that_counting_finds(case: Case, count: int) -> None:
    least: dict[tuple[Choice, ...], int] = {}
    for way in ways(case):
        least[way.choices] = min(way.total, least.get(way.choices, way.total))
    paths = solved(case).best_paths(count)
    costs = [parts(path.cost) for path in paths]
    assert costs == sorted(least.values())[:count]
    assert len({path.choices for path in paths}) == len(paths)
    for path, cost in zip(paths, costs, strict=True):
        assert least[path.choices] == cost == cost_of(case, path.states)


def test_fewer_lines_are_returned_where_there_are_fewer() -> None:
    pinned = {0: Pin(string=4, position=1), 1: Pin(string=4, position=1)}
    solution = Planner(MODEL).solve(line("F1 F#1"), pinned)
    assert len(solution.best_paths(100)) == len(list(ways(Case(MODEL, line("F1 F#1"), pinned))))
    assert solution.best_paths(0) == []


@COUNTED
@given(cases(min_notes=1, max_notes=4, strict=True))
def test_a_strict_model_returns_no_line_without_time(case: Case) -> None:
    possible = {way.choices for way in ways(case) if way.total < IMPOSSIBLE}
    if possible:
        paths = solved(case).best_paths(10**6)
        assert {path.choices for path in paths} == possible


# Where the hand begins


@COUNTED
@given(cases(min_notes=1, fingers=False, most_ways=10**9))
def test_beginning_in_a_position_is_planning_anew_from_there(case: Case) -> None:
    solution = solved(case)
    by_position = solution.by_position()
    assert list(by_position) == sorted({state.anchor for state in case.layers[0]})
    assert min(by_position.values()) == solution.cost
    for position, cost in by_position.items():
        anew = Planner(case.model).solve(case.line, case.pins, position)
        assert anew.cost == pytest.approx(cost, abs=1e-9)
        path = solution.from_position(position)
        assert path.states[0].anchor == position
        assert path.cost == pytest.approx(cost, abs=1e-9)
        assert cost_of(case, path.states) == parts(cost)


@COUNTED
@given(cases(min_notes=1, max_notes=4, strict=True))
def test_a_strict_model_begins_only_where_there_is_time_to_go_on(case: Case) -> None:
    least: dict[int, int] = {}
    for way in ways(case):
        anchor = way.states[0].anchor
        least[anchor] = min(way.total, least.get(anchor, way.total))
    possible = {anchor: cost for anchor, cost in least.items() if cost < IMPOSSIBLE}
    if possible:
        by_position = solved(case).by_position()
        assert {anchor: parts(cost) for anchor, cost in by_position.items()} == possible


def test_a_position_is_added_to_what_is_settled_about_the_first_note() -> None:
    first = Planner(MODEL).solve(line("C2 D2"), {0: Pin(string=3)}, position=2).best().states[0]
    assert (first.string, first.anchor) == (3, 2)


# The easiest hardest note


@settings(max_examples=80, deadline=None)
@given(cases(min_notes=1))
def test_the_hardest_note_is_as_easy_as_can_be_and_the_line_the_cheapest_of_those(
    case: Case,
) -> None:
    hardest, total = min((max(way.costs), way.total) for way in ways(case))
    solution = solved(case)
    path = solution.easiest_hardest()
    assert max(map(parts, path.costs)) == hardest
    assert parts(path.cost) == total == cost_of(case, path.states)
    best = solution.best()
    assert max(path.costs) <= max(best.costs)
    assert best.cost <= path.cost


@COUNTED
@given(cases(min_notes=1, max_notes=5, strict=True))
def test_the_easiest_hardest_note_of_a_strict_model(case: Case) -> None:
    hardest, total = min((max(way.costs), way.total) for way in ways(case))
    if total < IMPOSSIBLE:
        path = solved(case).easiest_hardest()
        assert (max(map(parts, path.costs)), parts(path.cost)) == (hardest, total)


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("model", [MODEL, CLOSED], ids=["open", "closed"])
def test_the_two_aims_on_longer_lines(seed: int, model: CostModel) -> None:
    solution = solved(random_case(seed, 50, model))
    cheap, even = solution.best(), solution.easiest_hardest()
    assert max(even.costs) <= max(cheap.costs)
    assert cheap.cost <= even.cost


def with_rest_before(written: Line, index: int, length: Fraction) -> Line:
    notes = tuple(
        replace(note, onset=note.onset + length) if i >= index else note
        for i, note in enumerate(written.notes)
    )
    return replace(written, notes=notes)


# Remark of Hori & Sagayama 2016 on their maximum of costs, second-hand; the rest is derived:
# an unmoved note costs what it costs without a step, however long one waits for it.
@COUNTED
@given(models(), st.data())
def test_a_rest_before_an_unmoved_note_leaves_the_easiest_hardest_note_as_it_is(
    model: CostModel, data: st.DataObject
) -> None:
    written = data.draw(lines(model.neck, 2, 5, 1))
    at = data.draw(st.integers(1, len(written.notes) - 1))
    notes = list(written.notes)
    notes[at] = replace(notes[at], pitch=notes[at - 1].pitch)
    notes[at - 1] = replace(notes[at - 1], join=None)
    written = replace(written, notes=tuple(notes), tempos=written.tempos[:1])
    state = data.draw(st.sampled_from(model.layer(notes[at].pitch.midi).states))
    pin = Pin(state.finger, state.string, state.fret, state.anchor)
    pins = {at - 1: pin, at: pin}
    rested = with_rest_before(written, at, Fraction(8))
    short = Planner(model).solve(written, pins).easiest_hardest()
    long = Planner(model).solve(rested, pins).easiest_hardest()
    assert max(long.costs) == max(short.costs)
    assert long.cost == short.cost
    freed = Planner(model).solve(rested).easiest_hardest()
    assert max(freed.costs) <= max(Planner(model).solve(written).easiest_hardest().costs)


# Small lines, and being watched


def test_a_line_without_notes() -> None:
    solution = Planner(MODEL).solve(line(""), position=5)
    assert solution.cost == 0
    assert solution.best() == solution.easiest_hardest() == Path((), ())
    assert solution.best().cost == 0
    assert solution.best_paths(3) == []


def test_a_line_without_notes_begins_nowhere() -> None:
    assert Planner(MODEL).solve(line("")).by_position() == {}


@pytest.mark.parametrize("midi", range(28, 56))
def test_a_single_note_takes_its_cheapest_state(midi: int) -> None:
    solution = Planner(MODEL).solve(line_of([midi]))
    states = MODEL.layer(midi).states
    costs = [node_cost(MODEL, state, last=True) for state in states]
    assert parts(solution.cost) == min(costs)
    assert solution.best().states == (states[costs.index(min(costs))],)
    assert solution.easiest_hardest().states == solution.best().states


class Watch:
    """Remembers what it is told, and can have enough of it."""

    def __init__(self, most: int = 10**9) -> None:
        self.told: list[tuple[int, int]] = []
        self.most = most

    def planned(self, done: int, of: int) -> None:
        self.told.append((done, of))
        if len(self.told) >= self.most:
            raise InterruptedError


def test_an_observer_is_told_how_far_it_is() -> None:
    watch = Watch()
    Planner(MODEL, watch).solve(line_of([33, 35, 36] * 300))
    done = [d for d, _ in watch.told]
    assert len(done) > 4
    assert done == sorted(set(done))
    assert {of for _, of in watch.told} == {1800}
    assert all(0 < d <= 1800 for d in done)


@pytest.mark.parametrize("most", [1, 4])
def test_an_observer_can_stop_it(most: int) -> None:
    watch = Watch(most)
    with pytest.raises(InterruptedError):
        Planner(MODEL, watch).solve(line_of([33, 35, 36] * 300))
    assert len(watch.told) == most


# No fingering


def refused(
    music: Line | str, pins: dict[int, Pin] | None = None, model: CostModel = MODEL, **how: int
) -> NoFingering:
    written = line(music) if isinstance(music, str) else music
    with pytest.raises(NoFingering) as caught:
        Planner(model).solve(written, pins, **how)
    return caught.value


def test_a_note_outside_the_neck() -> None:
    fault = refused("E1 Eb1 G3 G#3")
    assert fault.causes == (
        OutOfRange(2, "Eb1", "E1", "G3"),
        OutOfRange(4, "G#3", "E1", "G3"),
    )
    assert str(fault) == ("notes 2 (Eb1), 4 (G#3) lie off the neck, which has E1 to G3")


def test_advice_comes_after_the_causes() -> None:
    causes = refused("E0").causes
    assert str(NoFingering(causes, "--octave +1 would bring all in")) == (
        "note 1 is E0; the neck has E1 to G3; --octave +1 would bring all in"
    )


def test_only_a_few_causes_are_told_but_all_are_kept() -> None:
    fault = refused("E0 E0 E0 E0 E0 E0 E0 E1")
    assert [cause.index for cause in fault.causes] == [1, 2, 3, 4, 5, 6, 7]
    assert "5 (E0) and 2 more lie off the neck" in str(fault)


def test_a_note_that_lies_on_an_open_string_alone() -> None:
    fault = refused("F1 E1 A1", model=CLOSED)
    assert fault.causes == (NoOpenString(2, "E1"),)
    assert str(fault) == "note 2, E1, lies on an open string alone"


def test_an_open_string_may_be_settled_where_none_are_used_otherwise() -> None:
    solution = Planner(CLOSED).solve(line("E1 F1"), {0: Pin(finger=0)})
    assert solution.best().choices[0] == Choice(4, 0, 0)


# C2 lies at 4/8 and 3/3, A1 at 4/5 and 3/0, E1 at 4/0 alone, G3 at 1/12 alone (E A D G,
# 12 frets).
@pytest.mark.parametrize(
    ("note", "pin", "limit"),
    [
        ("C2", Pin(string=1), "it is not at 1/* (string/fret) but at 4/8, 3/3"),
        ("C2", Pin(fret=5), "it is not at */5 (string/fret) but at 4/8, 3/3"),
        ("C2", Pin(string=3, fret=8), "it is not at 3/8 (string/fret) but at 4/8, 3/3"),
        ("C2", Pin(finger=0), "it is no open string there, so it needs a finger"),
        ("A1", Pin(finger=0, string=4), "it is no open string there, so it needs a finger"),
        ("A1", Pin(finger=2, string=3), "an open string needs no finger: 0"),
        ("E1", Pin(finger=1), "an open string needs no finger: 0"),
        ("C2", Pin(finger=5), "fingers are 1 to 4, or 0 for an open string"),
        ("C2", Pin(finger=-1), "fingers are 1 to 4, or 0 for an open string"),
        (
            "C2",
            Pin(string=3, position=7),
            "no finger reaches it with the hand in position 7, only from 1 to 4",
        ),
    ],
)
def test_what_is_settled_cannot_be(note: str, pin: Pin, limit: str) -> None:
    fault = refused(f"F1 {note}", {1: pin})
    assert fault.causes == (ImpossiblePin(2, note, pin, limit),)
    assert str(fault) == f"note 2, {note}: {limit}"


def positions_told(limit: str) -> set[int]:
    told = limit.rpartition("only from ")[2]
    runs = [[int(word) for word in part.split(" to ")] for part in told.split(", ") if part]
    return {position for run in runs for position in range(run[0], run[-1] + 1)}


def works(model: CostModel, midi: int, pin: Pin) -> bool:
    return bool(model.layer(midi, pin).states)


# Every pin of one note that can be written, on every note of two strings' worth.
@pytest.mark.parametrize("model", [MODEL, CLOSED], ids=["open", "closed"])
def test_every_impossible_pin_is_told_with_a_limit_that_is_true(model: CostModel) -> None:
    faults = []
    for midi in (28, 33, 36, 48, 55):
        for pin in [
            Pin(finger, string, None, position)
            for finger in (None, 0, 1, 2, 3, 4)
            for string in (None, 1, 3, 4)
            for position in (None, 1, 5, 12)
            if (finger, string, position) != (None, None, None)
        ]:
            if works(model, midi, pin):
                continue
            cause = refused(line_of([midi]), {0: pin}, model).causes[0]
            limit = getattr(cause, "limit", "")
            if "only from" in limit:
                told = positions_told(limit)
                better = [replace(pin, position=p) for p in told]
                if not told or not all(works(model, midi, p) for p in better):
                    faults.append((midi, pin, limit))
            elif "None" in limit:
                faults.append((midi, pin, limit))
    assert not faults, "\n".join(map(str, faults))


def test_the_last_fret_is_not_said_to_be_reached_from_beyond_the_neck() -> None:
    fault = refused("G3", position=3)
    assert positions_told(fault.causes[0].limit) == {8, 9, 10, 11, 12}


def test_all_causes_are_told_at_once() -> None:
    pins = {1: Pin(string=1), 4: Pin(finger=0)}
    fault = refused("E0 C2 E1 F1 F1", pins, CLOSED)
    assert [type(cause) for cause in fault.causes] == [
        OutOfRange, ImpossiblePin, NoOpenString, ImpossiblePin,
    ]  # fmt: skip
    assert [cause.index for cause in fault.causes] == [1, 2, 3, 5]


def test_a_strict_model_says_where_there_is_no_time() -> None:
    fast = line("F1 F1 G3", 125.0, Fraction(1, 32))
    fault = refused(fast, model=STRICT)
    assert fault.causes == (NoTime(2, pytest.approx(0.06)),)
    assert str(fault) == "no hand gets from note 2 to note 3 in 0.06 s"
    assert Planner(MODEL).solve(fast).best().states


def test_a_strict_model_plans_what_there_is_time_for() -> None:
    slow = line("C2 C3", 40.0, Fraction(1, 2))
    pins = {0: Pin(string=3), 1: Pin(string=2)}
    assert Planner(STRICT).solve(slow, pins).cost == Planner(MODEL).solve(slow, pins).cost


# The helpers that the other tests lean on


@given(cases(max_notes=4))
def test_lines_lie_on_their_necks_and_gaps_between_their_notes(case: Case) -> None:
    notes = case.line.notes
    assert all(case.model.neck.places_of(note.pitch.midi) for note in notes)
    assert all(note.duration in LENGTHS for note in notes)
    assert all(after.onset - note.end in RESTS for note, after in pairwise(notes))
    for note, after in pairwise(notes):
        gap = gap_between(case.line, note, after)
        assert gap.ioi_s > 0
        assert 0 <= gap.rest_s < gap.ioi_s
    assert case.line.length >= 0
    assert case.layers is not None


TERMS: list[Callable[[CostModel, State], dict[str, int]]] = [
    CostModel.node_terms,
    CostModel.end_terms,
]


@given(models(), st.integers(1, 27))
def test_no_state_costs_less_than_nothing(model: CostModel, above: int) -> None:
    midi = min(pitch.midi for pitch in model.neck.tuning.strings) + above
    for state in model.layer(midi).states:
        for terms in TERMS:
            assert all(0 <= cost < 1000 * UNIT for cost in terms(model, state).values())


def test_level_weights_still_differ_from_the_usual() -> None:
    assert Weights() != LEVEL
