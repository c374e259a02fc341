"""Prints one table of figures, each beside what it should be.

Ratios compare two things measured in turn in this run, so that the machine's speed and
its other work fall out. ``python -m tests.bench``, from the checkout's root.
"""

import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from statistics import median, quantiles

from fretdrill.practice.attempt import Attempt, Sitting
from fretdrill.practice.journal import Journal
from tests.bench.asking import asking_figures
from tests.bench.line_screen import line_figures
from tests.bench.planning import planning_figures
from tests.bench.terminal import Terminal

STARTS = 12
KEYS = 200
ATTEMPTS = 100_000

BARE_APP = """
from textual.app import App
from textual.widgets import Static
class Bare(App):
    def compose(self):
        yield Static("bare and painted")
Bare().run()
"""

SCRIPT = Path(sys.executable).with_name("fretdrill")
FRETDRILL = [str(SCRIPT)] if SCRIPT.exists() else [sys.executable, "-m", "fretdrill"]
NUT, PACKS = "║".encode(), b"questions"
DRILL = [*FRETDRILL, "drill", "find", "--position", "5", "--notes", "D"]


def main() -> None:
    """Measure and print."""
    print(f"{'what':58} {'measured':>22}   target")
    with tempfile.TemporaryDirectory() as folder:
        for what, measured, target in _figures(Path(folder)):
            print(f"{what:58} {measured:>22}   {target}", flush=True)


def _figures(folder: Path) -> Iterator[tuple[str, str, str]]:
    yield _starting(folder, NUT, "start to first paint, against a bare Textual app", "<= 1.3 x")
    yield _starting(folder, PACKS, "start to all of Today, against the same", "none set")
    yield _repainting(folder)
    yield _version(folder)
    yield _large_journal(folder)
    yield _plan_process(folder)
    yield from line_figures(folder, FRETDRILL, _environment(folder / "lines"))
    yield from asking_figures()
    yield from planning_figures()


def _environment(home: Path) -> dict[str, str]:
    return {**os.environ, "FRETDRILL_HOME": str(home), "TERM": "xterm-256color"}


def _starting(folder: Path, text: bytes, what: str, target: str) -> tuple[str, str, str]:
    environment = _environment(folder / "start")
    bare, ours = _in_turn(
        lambda: _first_paint([sys.executable, "-c", BARE_APP], b"bare and painted", environment),
        lambda: _first_paint(FRETDRILL, text, environment),
    )
    return what, f"{ours / bare:.2f} x ({1000 * ours:.0f}/{1000 * bare:.0f} ms)", target


def _repainting(folder: Path) -> tuple[str, str, str]:
    with Terminal(DRILL, _environment(folder / "keys")) as terminal:
        terminal.wait_for(b"Give up")
        terminal.settle()
        arrows = (b"\x1b[C", b"\x1b[A", b"\x1b[D", b"\x1b[B")
        times = [terminal.press(arrows[i % 4]) for i in range(KEYS)]
    p95 = quantiles(times, n=20)[-1]
    return (
        "key to repaint at 80x24, p95 (median)",
        f"{1000 * p95:.1f} ms ({1000 * median(times):.1f})",
        "<= 10 ms",
    )


def _version(folder: Path) -> tuple[str, str, str]:
    environment = _environment(folder / "version")
    bare, ours = _in_turn(
        lambda: _run([sys.executable, "-c", "pass"], environment),
        lambda: _run([*FRETDRILL, "--version"], environment),
    )
    return (
        "fretdrill --version, against python -c pass",
        f"{ours / bare:.2f} x ({1000 * ours:.0f}/{1000 * bare:.0f} ms)",
        "<= 4 x",
    )


def _plan_process(folder: Path) -> tuple[str, str, str]:
    environment = _environment(folder / "plan")
    line = folder / "line.abc"
    line.write_text("X:1\nT:Line\nL:1/8\nK:C octave=-1\n" + "C,E,G,A, B,A,G,E,|" * 4 + "\n")
    bare, ours = _in_turn(
        lambda: _run([sys.executable, "-c", "pass"], environment),
        lambda: _run([*FRETDRILL, "plan", str(line)], environment),
    )
    return (
        "fretdrill plan of 32 notes, as a process (python -c pass)",
        f"{1000 * ours:.0f} ms ({1000 * bare:.0f})",
        "<= 150 ms",
    )


def _large_journal(folder: Path) -> tuple[str, str, str]:
    empty, full = _environment(folder / "empty"), _environment(folder / "full")
    size = _fill(folder / "full" / "journal.db")
    Journal(folder / "empty" / "journal.db").close()
    small, large = _in_turn(
        lambda: _first_paint(DRILL, b"Give up", empty),
        lambda: _first_paint(DRILL, b"Give up", full),
    )
    return (
        f"first question with {ATTEMPTS:,} attempts ({size / ATTEMPTS:.0f} B each) against none",
        f"{large / small:.2f} x ({1000 * large:.0f}/{1000 * small:.0f} ms)",
        "<= 1.2 x",
    )


def _fill(path: Path, attempts: int = ATTEMPTS) -> int:
    """Write attempts as practice does, and return the file's size in bytes."""
    journal = Journal(path)
    drill = "find; position 5; D; shuffled"
    journal._db.execute("PRAGMA synchronous = OFF")  # the bench's own haste, not the player's
    for number in range(attempts):
        sitting = Sitting(1_700_000_000_000 + number // 10, "Find", number // 10)
        attempt = Attempt(
            number=number % 10 + 1,
            kind="find",
            drill=drill,
            player="E1 A1 D2 G2; 24 frets; 863.6 mm; medium; reach; flats",
            level=number % 5,
            focus="D",
            answer="3/5 1/7",
            accuracy=1.0,
            points=100,
            seconds=2.5,
            target_s=3.0,
            units=2,
            at_ms=1_700_000_000_000 + number * 5000,
        )
        journal.record(sitting, attempt)
    journal.close()
    return path.stat().st_size


def _in_turn(one: Callable[[], float], other: Callable[[], float]) -> tuple[float, float]:
    """Return the medians of two measurements taken in turn."""
    pairs = [(one(), other()) for _ in range(STARTS)]
    return median(a for a, _ in pairs), median(b for _, b in pairs)


def _first_paint(command: list[str], text: bytes, environment: dict[str, str]) -> float:
    with Terminal(command, environment) as terminal:
        return terminal.wait_for(text)


def _run(command: list[str], environment: dict[str, str]) -> float:
    before = time.perf_counter()
    subprocess.run(command, env=environment, check=True, capture_output=True)
    return time.perf_counter() - before


if __name__ == "__main__":
    main()
