"""Killed at any moment, a session loses at most the question on the screen."""

import os
import re
import signal
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path
from typing import IO

import pytest

from fretdrill.practice.home import Home
from fretdrill.practice.journal import Journal, open_journal

from .test_journal import NOW

pytestmark = pytest.mark.skipif(os.name != "posix", reason="there is no kill -9")

OPTIONS = ("--plain", "--position", "5", "--count", "60", "--seed", "5")
COMMAND = [sys.executable, "-m", "fretdrill", "drill", "find", *OPTIONS]
VERDICT = re.compile(r"^> \d+ points?: ", re.MULTILINE)


def start() -> subprocess.Popen[bytes]:
    environment = {**os.environ, "PYTHONIOENCODING": "utf-8"}
    return subprocess.Popen(
        COMMAND,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        env=environment,
    )


def read_prompts(out: IO[bytes], prompts: int) -> str:
    """Read until so many prompts were shown."""
    seen = b""
    while seen.count(b"\n> ") < prompts:
        piece = os.read(out.fileno(), 65536)
        if not piece:
            raise AssertionError(f"the session ended early: {seen[-500:]!r}")
        seen += piece
    return seen.decode()


def kill(process: subprocess.Popen[bytes]) -> str:
    """Kill it and return what it had still written."""
    process.send_signal(signal.SIGKILL)
    rest = process.communicate()[0].decode()
    assert process.returncode == -signal.SIGKILL
    return rest


def verdicts_before_a_question(seen: str) -> int:
    """Count the verdict lines that another question follows."""
    shown = seen[: seen.rfind("\n> ")] if "\n> " in seen else ""
    return len(VERDICT.findall(shown))


def recorded(path: Path) -> int:
    """Count attempts as the next start of the program would find them."""
    with closing(sqlite3.connect(path)) as db:
        assert db.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        numbers = [n for (n,) in db.execute("SELECT number FROM attempt ORDER BY id")]
    assert numbers == list(range(1, len(numbers) + 1))
    journal, notice = open_journal(path, NOW)
    journal.close()
    assert notice == ""
    return len(numbers)


@pytest.mark.parametrize("answers", [0, 1, 2, 5, 12])
def test_killed_while_a_question_waits(home: Home, answers: int):
    with start() as process:
        assert process.stdin is not None
        assert process.stdout is not None
        seen = read_prompts(process.stdout, 1)
        for _ in range(answers):
            process.stdin.write(b"3/5 1/7\n")
            process.stdin.flush()
            seen += read_prompts(process.stdout, 1)
        seen += kill(process)
    assert verdicts_before_a_question(seen) == answers
    assert recorded(home.journal) >= answers - 1


@pytest.mark.parametrize("answers", [1, 4, 9])
def test_killed_right_after_an_answer_was_sent(home: Home, answers: int):
    with start() as process:
        assert process.stdin is not None
        assert process.stdout is not None
        seen = read_prompts(process.stdout, 1)
        for _ in range(answers):
            process.stdin.write(b"answer\n")
            process.stdin.flush()
            seen += read_prompts(process.stdout, 1)
        process.stdin.write(b"3/5\n")
        process.stdin.flush()
        seen += kill(process)
    assert recorded(home.journal) >= verdicts_before_a_question(seen) - 1 >= answers - 1


@pytest.mark.parametrize("prompts", [3, 17, 40])
def test_killed_in_a_flood_of_answers(home: Home, prompts: int):
    with start() as process:
        assert process.stdin is not None
        assert process.stdout is not None
        process.stdin.write(b"answer\n" * 59)
        process.stdin.flush()
        seen = read_prompts(process.stdout, prompts)
        seen += kill(process)
    assert recorded(home.journal) >= verdicts_before_a_question(seen) - 1


def test_a_session_goes_on_after_a_kill(home: Home):
    with start() as process:
        assert process.stdin is not None
        assert process.stdout is not None
        read_prompts(process.stdout, 1)
        process.stdin.write(b"answer\n")
        process.stdin.flush()
        read_prompts(process.stdout, 1)
        kill(process)
    done = subprocess.run(COMMAND, input=b"answer\nquit\n", capture_output=True, check=True)
    assert b"damaged" not in done.stderr
    with closing(Journal(home.journal)) as journal:
        assert journal.sittings()[0].questions == 1


@pytest.mark.slow
@pytest.mark.parametrize("moment", range(40))
def test_killed_at_any_moment(home: Home, moment: int):
    """Killed after so many bytes of what it writes, wherever that is."""
    with start() as process:
        assert process.stdin is not None
        assert process.stdout is not None
        process.stdin.write(b"answer\n" * 59)
        process.stdin.flush()
        seen = os.read(process.stdout.fileno(), 1).decode()
        for _ in range(moment * 97):
            piece = os.read(process.stdout.fileno(), 1)
            if not piece:
                break
            seen += piece.decode(errors="replace")
        seen += kill(process)
    assert recorded(home.journal) >= verdicts_before_a_question(seen) - 1
