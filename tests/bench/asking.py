"""Figures of drills: how long a question takes to make, kind by kind."""

import time
from collections.abc import Iterator
from random import Random
from statistics import quantiles

from fretdrill.engine.drill import Drill, Standing
from fretdrill.engine.player import Player
from fretdrill.engine.registry import KINDS
from fretdrill.hand.hand import Hand
from fretdrill.neck.neck import Neck
from fretdrill.practice.library import find_line, line_files
from fretdrill.practice.spots import line_program
from fretdrill.theory.line import Line

QUESTIONS = 120


def asking_figures() -> Iterator[tuple[str, str, str]]:
    """Yield what was measured, the figure and its target."""
    player = Player(Neck(), Hand())
    for name, kind in KINDS.items():
        settings = kind.settings(_line)
        values = {key: setting.default for key, setting in settings.items()}
        yield _figure(f"a question of {name}, p95", Drill(name, kind.stages(values)), player)
    for name in line_files(None):
        for drill in line_program(name, _line(name), player).drills:
            if name == "walk-up":
                yield _figure(f"the same of {drill.kind} about a line", drill, player)


def _line(name: str) -> Line:
    return find_line(name, None).line


def _figure(what: str, drill: Drill, player: Player) -> tuple[str, str, str]:
    drill.check(player)
    times = []
    for number in range(QUESTIONS):
        rng, level = Random(number), number % (drill.top_level + 1)
        before = time.perf_counter()
        drill.ask(player, level, rng, Standing({}))
        times.append(time.perf_counter() - before)
    return what, f"{1000 * quantiles(times, n=20)[-1]:.1f} ms", "<= 20 ms"
