"""Figures of the planner: time a note, growth, a general graph search beside it, memory."""

import random
import subprocess
import sys
import time
from collections.abc import Iterator
from fractions import Fraction
from statistics import median

from fretdrill.hand.cost import CostModel
from fretdrill.hand.hand import Hand
from fretdrill.hand.planner import Planner
from fretdrill.neck.neck import Neck
from fretdrill.theory.key import Key
from fretdrill.theory.line import Bar, Line, Note
from fretdrill.theory.metre import Metre

STEPS = (-7, -5, -4, -3, -2, -2, -1, 1, 2, 2, 3, 4, 5, 7)
DURATIONS = tuple(Fraction(1, n) for n in (4, 8, 8, 16))
LOWEST, HIGHEST = 28, 60
ROUNDS = 5
GRAPH_NOTES = 300
MEMORY_NOTES = 100_000


def random_line(notes: int, seed: int = 1) -> Line:
    """Return a wandering line from E1 to C4 in quarters, eighths and sixteenths."""
    rng = random.Random(seed)
    key, midi, onset = Key.parse("C major"), 36, Fraction(0)
    made = []
    for _ in range(notes):
        midi = max(LOWEST, min(HIGHEST, midi + rng.choice(STEPS)))
        duration = rng.choice(DURATIONS)
        made.append(Note(onset, duration, key.spell(midi)))
        onset += duration
    bars = [Bar(n + 1, Fraction(n), Fraction(1), Metre()) for n in range(int(onset) + 1)]
    return Line("random", tuple(made), tuple(bars))


def planning_figures() -> Iterator[tuple[str, str, str]]:
    """Yield what was measured, the figure and its target."""
    planner = Planner(CostModel(Neck(), Hand()))
    short, long = random_line(1_000), random_line(10_000)
    first = _seconds(planner, long)
    yield (
        "plan with all regrets, 10,000 notes, a model that never saw them",
        f"{first:.2f} s ({100 * first:.0f} us a note)",
        "<= 1.0 s",
    )
    times = [(_seconds(planner, short), _seconds(planner, long)) for _ in range(ROUNDS)]
    small, large = median(a for a, _ in times), median(b for _, b in times)
    yield "the same again", f"{large:.2f} s ({100 * large:.0f} us a note)", "<= 100 us a note"
    yield "10,000 notes against 1,000", f"{large / small:.1f} x", "8 to 12 x"
    yield _against_graph(planner)
    yield _memory()


def _seconds(planner: Planner, line: Line) -> float:
    before = time.perf_counter()
    solution = planner.solve(line)
    for index in range(len(line.notes)):
        solution.regrets(index)
    solution.best()
    return time.perf_counter() - before


def _against_graph(planner: Planner) -> tuple[str, str, str]:
    import networkx

    line = random_line(GRAPH_NOTES)
    ours = min(_seconds(planner, line) for _ in range(ROUNDS))
    before = time.perf_counter()
    problem = planner.solve(line).problem
    graph = networkx.DiGraph()
    for state, cost in enumerate(problem.layers[0].nodes):
        graph.add_edge("start", (0, state), weight=cost)
    for index in range(1, len(problem.layers)):
        for state, row in enumerate(problem.steps(index - 1).rows):
            node = problem.layers[index].nodes[state]
            for earlier, step in enumerate(row):
                graph.add_edge((index - 1, earlier), (index, state), weight=step + node)
    last = len(problem.layers) - 1
    for state, cost in enumerate(problem.layers[last].ends):
        graph.add_edge((last, state), "end", weight=cost)
    found = networkx.dijkstra_path_length(graph, "start", "end")
    theirs = time.perf_counter() - before
    assert abs(found - round(planner.solve(line).cost * 10_000)) < 1
    return (
        f"one shortest path through the same graph in networkx, {GRAPH_NOTES} notes",
        f"{theirs / ours:.0f} x ours ({theirs:.1f} s)",
        ">= 100 x",
    )


def _memory() -> tuple[str, str, str]:
    code = (
        "import resource\n"
        "from tests.bench.planning import *\n"
        "solution = Planner(CostModel(Neck(), Hand())).solve(random_line(MEMORY_NOTES))\n"
        "for index in range(MEMORY_NOTES): solution.regrets(index)\n"
        "solution.best()\n"
        "print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    return f"peak memory, {MEMORY_NOTES:,} notes", f"{float(done.stdout):.0f} MB", "<= 200 MB"
