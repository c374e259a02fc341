"""How far plans agree with printed fingers of guitar editions; fits weights to them.

``python -m tests.reference.fingers_report PATH [--fit SECONDS]`` with the folder of
:mod:`tests.reference.printed_fingers`. Guitar editions are a proxy: a shorter scale, an
older style, open strings for their sound, and editors print the fingers that do not go
without saying. No open set of electric-bass lines with human fingers was found.

Halves: runs by even and odd number; a run that is printed twice stands, both times, in the
half of its first print, so no half holds music of the other note for note.
"""

import argparse
import math
import random
import time
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, fields, replace
from itertools import pairwise
from pathlib import Path
from typing import NamedTuple

from fretdrill.hand.cost import CostModel
from fretdrill.hand.failure import NoFingering
from fretdrill.hand.hand import Hand
from fretdrill.hand.planner import Planner
from fretdrill.hand.weights import WEIGHT_SETS, Weights
from fretdrill.neck.neck import Neck
from tests.reference.finger_baselines import BASELINES
from tests.reference.printed_fingers import (
    DEFAULT_BPM,
    FRETS,
    SCALE_MM,
    Change,
    Run,
    printed_changes,
    read_runs,
)

NEAR = 0.1  # a choice is near if the cheapest line through it costs at most so much more
EVEN, ODD = "even", "odd"

SURVEYED = {
    1: (284, "+1 54, 0 22, +2 19"),
    -1: (386, "-1 66, 0 16, -2 12"),
    2: (258, "+2 33, +3 22, 0 14, -2 14"),
    -2: (373, "-2 38, -3 23, -1 12, +3 12"),
    3: (443, "-2 34, -1 33, +3 16, -3 12"),
    4: (322, "-1 52, +1 24, 0 11"),
    5: (327, "+1 54, 0 27, +2 13"),
    7: (90, "+2 39, +3 37"),
    12: (58, "+2 40, +3 29, -2 16"),
}
"""Semitones → steps and % of finger changes in all 91 pieces surveyed (the data's README)."""

SEARCHED = [
    field.name
    for field in fields(Weights)
    if field.name not in {"broken_join", "bent", "crowded", "stretch_together"}  # not met in runs
]
AWAY_FROM_BASS = 0.003  # agreement given up per squared ln of a weight's factor
NEAR_SHARE = 0.1  # what the share of near choices counts beside agreement
RESTARTS = 3
LEAST = 0.15  # weights below this are varied as if they were so large


@dataclass
class Score:
    """What plans have in common with print.

    Attributes:
        printed: printed fingers.
        agreed: of those, the ones that the best plan has.
        near: of those, the ones with a line at most 10 % over the best.
        second: of those, the ones among the two fingers with the cheapest lines.
    """

    printed: int = 0
    agreed: int = 0
    near: int = 0
    second: int = 0

    def __str__(self) -> str:
        return (
            f"{_percent(self.agreed, self.printed)} agreed, {_percent(self.near, self.printed)} "
            f"within 10 %, {_percent(self.second, self.printed)} first or second "
            f"({self.printed} fingers)"
        )


class Models:
    """The cost models of one set of weights, one a neck."""

    def __init__(self, weights: Weights) -> None:
        self._weights = weights
        self._models: dict[Neck, CostModel] = {}

    def planner(self, neck: Neck) -> Planner:
        """Return a planner for a neck."""
        if neck not in self._models:
            self._models[neck] = CostModel(neck, Hand(), self._weights)
        return Planner(self._models[neck])


def score(runs: Iterable[Run], weights: Weights) -> Score:
    """Compare the best plans with print, no finger given."""
    models, total = Models(weights), Score()
    for run in runs:
        solution = models.planner(run.neck).solve(run.line)
        best = solution.best()
        for index, finger in run.printed.items():
            regrets: dict[int, float] = {}
            for choice, regret in solution.regrets(index):  # best first
                regrets.setdefault(choice.finger, regret)
            regret = regrets.get(finger, math.inf)
            total.printed += 1
            total.agreed += best.states[index].finger == finger
            total.near += regret <= NEAR * solution.cost
            total.second += finger in list(regrets)[:2]
    return total


def baseline_score(runs: Iterable[Run], name: str) -> Score:
    """Compare a simple way to finger with print."""
    total = Score()
    for run in runs:
        fingers = BASELINES[name](run.neck, [note.pitch.midi for note in run.line.notes])
        total.printed += len(run.printed)
        total.agreed += sum(fingers[index] == finger for index, finger in run.printed.items())
    return total


def unplannable(runs: Iterable[Run], weights: Weights) -> list[str]:
    """Return the runs that have no plan with all that is printed pinned."""
    models, failed = Models(weights), []
    for run in runs:
        try:
            models.planner(run.neck).solve(run.line, run.pins)
        except NoFingering:
            failed.append(run.line.title)
    return failed


def halves(runs: Sequence[Run]) -> dict[str, list[Run]]:
    """Part the runs by number; what is printed twice goes with its first print."""
    first: dict[object, int] = {}
    parted: dict[str, list[Run]] = {EVEN: [], ODD: []}
    for run in runs:
        number = first.setdefault(run.music, run.number)
        parted[ODD if number % 2 else EVEN].append(run)
    return parted


def planned_changes(runs: Iterable[Run], weights: Weights) -> list[Change]:
    """Return the finger changes of the best plans, both notes stopped."""
    models, changes = Models(weights), []
    for run in runs:
        states = models.planner(run.neck).solve(run.line).best().states
        for (note, one), (after, two) in pairwise(zip(run.line.notes, states, strict=True)):
            if one.finger and two.finger:
                step = after.pitch.midi - note.pitch.midi
                changes.append(Change(step, two.finger - one.finger))
    return changes


class Fit(NamedTuple):
    """The best weights of a search, rounded, how good they are and how many were tried."""

    weights: Weights
    worth: float
    tries: int


def fit(runs: Sequence[Run], seconds: float) -> Fit:
    """Search weights that agree with print, not far from those for the bass.

    Worth is agreement, then a tenth of the share of near choices, less what
    :data:`AWAY_FROM_BASS` takes. The seeds are fixed; the time is CPU time, so a faster
    machine tries more.
    """
    found = [_climb(runs, seconds / RESTARTS, seed) for seed in range(RESTARTS)]
    best = max(found, key=lambda fitted: fitted.worth)
    return best._replace(tries=sum(fitted.tries for fitted in found))


def _climb(runs: Sequence[Run], seconds: float, seed: int) -> Fit:
    rng, until = random.Random(seed), time.process_time() + seconds
    best = WEIGHT_SETS["bass"]
    worth, tries = _worth(runs, best), 0
    while time.process_time() < until:
        weights = _varied(best, rng)
        tried = _worth(runs, weights)
        tries += 1
        if tried > worth:
            best, worth = weights, tried
    rounded = {name: float(f"{getattr(best, name):.2g}") for name in SEARCHED}
    weights = replace(best, **rounded)
    return Fit(weights, _worth(runs, weights), tries)


def _varied(weights: Weights, rng: random.Random) -> Weights:
    """Change one to three weights, none beyond six times or a fifteenth of the bass's."""
    varied = {}
    for name in rng.sample(SEARCHED, rng.choice((1, 1, 1, 2, 3))):
        usual = max(getattr(WEIGHT_SETS["bass"], name), LEAST)
        now = max(getattr(weights, name), LEAST / 7) * math.exp(rng.gauss(0.0, 0.5))
        varied[name] = min(6 * usual, max(usual / 15, now))
    return replace(weights, **varied)


def _worth(runs: Sequence[Run], weights: Weights) -> float:
    found = score(runs, weights)
    away = 0.0
    for name in SEARCHED:
        usual = max(getattr(WEIGHT_SETS["bass"], name), LEAST)
        value = getattr(weights, name)
        if value != getattr(WEIGHT_SETS["bass"], name):
            away += math.log(max(value, LEAST / 7) / usual) ** 2
    return (found.agreed + NEAR_SHARE * found.near) / found.printed - AWAY_FROM_BASS * away


def _percent(part: int, whole: int) -> str:
    return f"{100 * part / whole:.1f} %" if whole else "none"


def _common(changes: Iterable[Change], semitones: int) -> str:
    counted = Counter(change.fingers for change in changes if change.semitones == semitones)
    total = sum(counted.values())
    ranked = sorted(counted.items(), key=lambda item: (-item[1], item[0]))[:4]
    shares = (f"{change:+d} {100 * n / total:.0f}" if change else f"0 {100 * n / total:.0f}"
              for change, n in ranked)  # fmt: skip
    return f"{', '.join(shares)} (n {total})" if total else "none"


def print_agreement(runs: Sequence[Run]) -> None:
    """Print what each set of weights and each baseline has in common with print."""
    same = WEIGHT_SETS["guitar"] == WEIGHT_SETS["bass"]
    for name, weights in WEIGHT_SETS.items():
        failed = unplannable(runs, weights)
        print(f"\n{name}: {len(runs) - len(failed)} of {len(runs)} runs plannable as printed")
        if name == "guitar":
            print("  same as bass, not fitted" if same else "  may be fitted on some of these runs")
        for half, members in {"all": list(runs), **halves(runs)}.items():
            print(f"  {half:5}{score(members, weights)}")
    print("\nbaselines, agreed")
    for name in BASELINES:
        parts = {"all": list(runs), **halves(runs)}
        scores = {half: baseline_score(members, name) for half, members in parts.items()}
        shares = (f"{half} {_percent(s.agreed, s.printed)}" for half, s in scores.items())
        print(f"  {name}: {', '.join(shares)}")


def print_changes(folder: Path, runs: Sequence[Run]) -> None:
    """Print the finger changes by interval: surveyed, in the table here, in our plans."""
    printed = list(printed_changes(folder))
    planned = {name: planned_changes(runs, weights) for name, weights in WEIGHT_SETS.items()}
    print("\nfinger changes in %, consecutive notes, both stopped")
    for step, (count, shares) in SURVEYED.items():
        print(f"  {step:+d} semitones")
        print(f"    91 pieces surveyed: {shares} (n {count})")
        print(f"    16 pieces here:     {_common(printed, step)}")
        for name, changes in planned.items():
            print(f"    plans, {name + ':':13}{_common(changes, step)}")


def print_fit(runs: Sequence[Run], seconds: float) -> None:
    """Fit on each half and print what comes of it on the other."""
    parted, held = halves(runs), Score()
    for fitted_on, held_out in ((EVEN, ODD), (ODD, EVEN)):
        found = fit(parted[fitted_on], seconds)
        other = score(parted[held_out], found.weights)
        print(f"\nfitted on the {fitted_on} half ({found.tries} tries)")
        print(f"  fitted   {score(parted[fitted_on], found.weights)}")
        print(f"  held out {other}")
        for field in fields(Weights):
            value = getattr(found.weights, field.name)
            if value != getattr(WEIGHT_SETS["bass"], field.name):
                print(f"    {field.name} = {value:g}")
        held = Score(*(getattr(held, f.name) + getattr(other, f.name) for f in fields(Score)))
    print(f"\nheld out, both halves together: {held}")


def main(arguments: Sequence[str] | None = None) -> None:
    """Print the report."""
    parser = argparse.ArgumentParser(prog="fingers_report", description=__doc__.splitlines()[0])
    parser.add_argument("path", type=Path, help="the folder with the runs and the table")
    parser.add_argument("--fit", type=float, metavar="SECONDS", help="CPU time for each half")
    options = parser.parse_args(arguments)
    runs = read_runs(options.path)
    notes, printed = sum(len(r.line.notes) for r in runs), sum(len(r.printed) for r in runs)
    print(f"{len(runs)} runs, {notes} notes, {printed} printed fingers; {len(halves(runs))} halves")
    print(f"neck: {SCALE_MM:g} mm, {FRETS} frets, each run's own strings; medium hand")
    print(f"tempo: the file's, else {DEFAULT_BPM:g} quarters a minute")
    print("within 10 %: the cheapest line with the finger on that note, at any place, costs at")
    print("most 1.1 times the run's best line; long runs leave more room. 'First or second' does")
    print("not depend on the scale of the costs.")
    print_agreement(runs)
    print_changes(options.path, runs)
    if options.fit:
        print_fit(runs, options.fit)


if __name__ == "__main__":
    main()
