"""Figures of the line screen: a pin's new plan, and the cursor, in a short line and a long one."""

import random
import time
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from statistics import median, quantiles

from tests.bench.terminal import Terminal

PINS = 40
MOVES = 200
SHORT, LONG = 64, 10_000
NOTES = "E,, F,, G,, A,, B,, C, D, E, F, G, A, B, C D E F G".split()
LEFT, RIGHT = b"\x1b[D", b"\x1b[C"


def line_figures(
    folder: Path, command: Sequence[str], environment: Mapping[str, str]
) -> Iterator[tuple[str, str, str]]:
    """Yield what was measured, the figure and its target.

    Args:
        folder: where lines can be written.
        command: runs fretdrill.
        environment: the process's.
    """
    for notes in (SHORT, LONG):
        path = folder / f"{notes}.abc"
        path.write_text(_tune(notes), encoding="utf-8")
        with Terminal([*command, "open", str(path)], environment) as terminal:
            terminal.wait_for(b"easiest")
            terminal.settle()
            if notes == SHORT:
                yield _pinning(terminal)
            yield _moving(terminal, notes)


def _pinning(terminal: Terminal) -> tuple[str, str, str]:
    times = []
    for _ in range(PINS):
        terminal.press(RIGHT)
        before = time.perf_counter()
        terminal.press_until(b"\r", b"pin")  # the heading then counts it
        times.append(time.perf_counter() - before)
        terminal.settle(0.05)
        terminal.press_until(b"z", b"cost")
        terminal.settle(0.05)
    what = f"pin to new plan on screen, {SHORT} notes, p95 (median)"
    return what, _milliseconds(times), "<= 50 ms"


def _moving(terminal: Terminal, notes: int) -> tuple[str, str, str]:
    times = [terminal.press(RIGHT if i % 8 < 6 else LEFT) for i in range(MOVES)]
    return f"cursor to repaint, {notes:,} notes, p95 (median)", _milliseconds(times), "<= 10 ms"


def _milliseconds(times: list[float]) -> str:
    p95 = quantiles(times, n=20)[-1]
    return f"{1000 * p95:.1f} ms ({1000 * median(times):.1f})"


def _tune(notes: int) -> str:
    """Write a wandering tune in eighths and quarters, the same every time."""
    rng, at, bars = random.Random(1), 8, []
    for _ in range(notes // 8):
        bar = []
        for _ in range(8):
            at = min(max(0, at + rng.choice((-3, -2, -1, 1, 2, 4))), len(NOTES) - 1)
            bar.append(NOTES[at])
        bars.append(" ".join(bar))
    return "X:1\nT:Line\nM:4/4\nL:1/8\nQ:1/4=100\nK:C bass octave=-1\n" + "|\n".join(bars) + "|\n"
