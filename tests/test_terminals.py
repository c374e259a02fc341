"""The whole program on a pseudo-terminal, as different terminals would have it."""

import os
import re
import sys

import pytest

from tests.bench.terminal import Terminal

FRETDRILL = [sys.executable, "-m", "fretdrill"]
POSIX = {"LC_ALL": "POSIX", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}


Steps = list[tuple[bytes, bytes]]
"""Keys, each with what is to be seen before the next is pressed."""

BACK = b"\x1b"
ANSWER: Steps = [(b"\r", b"Give up"), (b"z", b"1 marked"), (b"\r", b"0 points")]


def walk(environment: dict[str, str], steps: Steps, *arguments: str) -> bytes:
    """Press keys one after another and return all output."""
    with Terminal([*FRETDRILL, *arguments], {**os.environ, **environment}) as terminal:
        terminal.wait_for(b"questions")
        for keys, until in steps:
            terminal.press_until(keys, until)
        return terminal.seen


@pytest.mark.parametrize("environment", [{"PYTHONIOENCODING": "ascii"}, POSIX])
def test_nothing_but_ascii_is_sent_where_the_output_is_not_utf8(
    environment: dict[str, str],
) -> None:
    steps = [
        (b"?", b"Help: Today"),
        (BACK, b"questions"),
        (b"s", b"Tuning"),
        (b"\r", b"drop-d"),
        (BACK, b"Frets"),
        (b"\x13", b"questions"),  # Ctrl+S
        (b"\x10", b"Type a command"),
        (BACK, b"questions"),
        *ANSWER,
    ]
    written = walk(environment, steps)
    assert all(byte < 128 for byte in written)
    # Textual writes what the encoding lacks as an escape such as \u25bc.
    assert not re.findall(rb"\\[uUx][0-9a-fA-F]{2,}", written)
    assert b"0 points" in written


def test_ascii_is_there_for_the_asking() -> None:
    written = walk({}, ANSWER, "--ascii")
    assert all(byte < 128 for byte in written)
    assert b"0 points" in written


@pytest.mark.parametrize("term", ["xterm-256color", "screen-256color", "linux", "vt100"])
def test_the_neck_is_drawn_and_a_question_is_judged_on(term: str) -> None:
    written = walk({"TERM": term}, ANSWER)
    assert "║".encode() in written
    assert b"0 points" in written


def test_no_color_sends_no_colours() -> None:
    written = walk({"NO_COLOR": "1"}, ANSWER)
    shades = re.findall(rb"\x1b\[(?:[\d;]*;)?[34]8;2;(\d+);(\d+);(\d+)", written)
    assert all(len(set(shade)) == 1 for shade in shades)  # greys at most
    assert b"0 points" in written
