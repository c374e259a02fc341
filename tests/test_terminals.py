"""The whole program on a pseudo-terminal, as different terminals would have it."""

import os
import re
import sys

import pytest

from tests.bench.terminal import Terminal

FRETDRILL = [sys.executable, "-m", "fretdrill"]
QUIET_S = 0.25
POSIX = {"LC_ALL": "POSIX", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}


def walk(environment: dict[str, str], keys: list[bytes], *arguments: str) -> bytes:
    """Press keys one after another, each when the last has been painted; return all output."""
    with Terminal([*FRETDRILL, *arguments], {**os.environ, **environment}) as terminal:
        terminal.wait_for(b"questions")
        for key in keys:
            os.write(terminal._fd, key)
            terminal.settle(QUIET_S)
        return terminal.seen


@pytest.mark.parametrize("environment", [{"PYTHONIOENCODING": "ascii"}, POSIX])
def test_nothing_but_ascii_is_sent_where_the_output_is_not_utf8(
    environment: dict[str, str],
) -> None:
    palette, back = b"\x10", b"\x1b"
    keys = [b"?", back, b"s", b"\r", back, back, palette, back, b"\r", b"\r", b"z", b"\r"]
    written = walk(environment, keys)
    assert all(byte < 128 for byte in written)
    # Textual writes what the encoding lacks as an escape such as \u25bc.
    assert not re.findall(rb"\\[uUx][0-9a-fA-F]{2,}", written)
    assert b"0 points" in written


def test_ascii_is_there_for_the_asking() -> None:
    written = walk({}, [b"\r", b"z", b"\r"], "--ascii")
    assert all(byte < 128 for byte in written)
    assert b"0 points" in written


@pytest.mark.parametrize("term", ["xterm-256color", "screen-256color", "linux", "vt100"])
def test_the_neck_is_drawn_and_a_question_is_judged_on(term: str) -> None:
    written = walk({"TERM": term}, [b"\r", b"z", b"\r"])
    assert "║".encode() in written
    assert b"0 points" in written


def test_no_color_sends_no_colours() -> None:
    written = walk({"NO_COLOR": "1"}, [b"\r", b"z", b"\r"])
    shades = re.findall(rb"\x1b\[(?:[\d;]*;)?[34]8;2;(\d+);(\d+);(\d+)", written)
    assert all(len(set(shade)) == 1 for shade in shades)  # greys at most
    assert b"0 points" in written
