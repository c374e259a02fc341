"""Seeing only so many notes ahead: by hand, and by trying everything."""

import itertools
import math
import random

import pytest

from fretdrill.hand.cost import UNIT, CostModel
from fretdrill.hand.hand import Hand
from fretdrill.hand.lookahead import look_ahead
from fretdrill.hand.planner import Planner
from fretdrill.hand.problem import Problem
from fretdrill.hand.solution import Solution
from fretdrill.neck.neck import Neck
from fretdrill.neck.tuning import Tuning
from fretdrill.theory.line import Line
from tests.hand.lines import abc_line

LETTERS = ["E,,,", "G,,,", "A,,,", "B,,,", "C,,", "D,,", "E,,", "F,,", "A,,", "C,"]
SMALL = Neck(Tuning.parse("4-string"), 12, 863.6)


def random_line(seed: int, notes: int) -> Line:
    rng = random.Random(seed)
    return abc_line("".join(rng.choices(LETTERS, k=notes)), metre="none", unit="1/8", bpm=140)


def solved(line: Line) -> Solution:
    return Planner(CostModel(SMALL, Hand())).solve(line)


def tried_out(problem: Problem, depth: int) -> list[int]:
    """Play a line seeing so far, by adding up terms for every way on."""
    model, layers = problem.model, problem.layers
    last = len(layers) - 1
    nodes = [[sum(model.node_terms(s).values()) for s in layer.states] for layer in layers]
    for i, state in enumerate(layers[last].states):
        nodes[last][i] += sum(model.end_terms(state).values())
    steps = [
        [[sum(model.step_terms(a, b, gap).values()) for b in two.states] for a in one.states]
        for (one, two), gap in zip(itertools.pairwise(layers), problem.gaps, strict=True)
    ]
    taken: list[int] = []
    for index in range(len(layers)):
        end = min(last, index + depth)
        cheapest: dict[int, int] = {}
        for way in itertools.product(*(range(len(nodes[i])) for i in range(index, end + 1))):
            cost = sum(nodes[index + i][state] for i, state in enumerate(way))
            cost += sum(steps[index + i][a][b] for i, (a, b) in enumerate(itertools.pairwise(way)))
            if index:
                cost += steps[index - 1][taken[-1]][way[0]]
            cheapest[way[0]] = min(cost, cheapest.get(way[0], cost))
        taken.append(min(cheapest, key=lambda state: (cheapest[state], state)))
    return taken


def test_one_note_seen_by_hand():
    # G on fret 3 of the E string. Finger 1 in III: place 0.5 ln 4 = 0.693. Finger 4 in I:
    # 0.5 ln 2 + 0.3 + a stretch of 88.9 mm, 0.28, so 0.93. Finger 2 in II stretches 43 mm: 1.3.
    # Then D: with finger 4 on fret 5 of the A string 0.693 + 0.3 + one string, 0.2;
    # the open D is two strings off, 0.4, sounds open, 0.1, and ends a line in III, 0.3.
    path = look_ahead(solved(abc_line("G,,,2 D,,2")).problem, 0)
    assert [tuple(state) for state in path.states] == [(4, 3, 1, 3), (3, 5, 4, 3)]
    assert path.costs == pytest.approx((0.5 * math.log(4), 0.5 * math.log(4) + 0.5), abs=1e-4)


@pytest.mark.parametrize("seed", range(8))
@pytest.mark.parametrize("depth", [0, 1, 2])
def test_policy_is_that_of_trying_everything(seed, depth):
    problem = solved(random_line(seed, 5)).problem
    expected = tried_out(problem, depth)
    path = look_ahead(problem, depth)
    assert path.states == tuple(
        layer.states[i] for layer, i in zip(problem.layers, expected, strict=True)
    )


@pytest.mark.parametrize("seed", range(12))
def test_seeing_to_the_end_is_the_best_line(seed):
    solution = solved(random_line(seed, 9))
    for depth in (8, 9, 30):
        assert round(look_ahead(solution.problem, depth).cost * UNIT) == round(solution.cost * UNIT)


@pytest.mark.parametrize("seed", range(12))
def test_never_cheaper_than_the_best_line(seed):
    solution = solved(random_line(seed, 12))
    for depth in range(12):
        assert look_ahead(solution.problem, depth).cost >= solution.cost - 0.5 / UNIT


def test_its_costs_are_those_of_its_states():
    problem = solved(random_line(3, 10)).problem
    path = look_ahead(problem, 1)
    for index, cost in enumerate(path.costs):
        assert sum(problem.terms(path, index).values()) == pytest.approx(cost, abs=1e-9)


def test_one_note_and_none():
    solution = solved(abc_line("G,,,4"))
    assert look_ahead(solution.problem, 3).cost == solution.cost
    assert look_ahead(Problem(solution.problem.model, [], []), 2).states == ()
