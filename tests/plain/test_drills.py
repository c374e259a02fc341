"""Whole sessions on plain lines of text."""

import io
import os
import subprocess
import sys

import pytest

from fretdrill.engine.question import Question
from fretdrill.plain.drills import PlainDrills
from fretdrill.practice.session import Result, Session
from fretdrill.practice.settings import Settings

from ..conftest import FakeClock
from ..practice.samples import PLAYER, drill, program


def run(lines: str, *drills, ascii_only: bool = False, first_time: bool = False, **options):
    """Run a session on lines and return its result and what was said."""
    write = io.StringIO()
    session = Session(program(*drills, **options), PLAYER, 3, FakeClock())
    settings = Settings(ascii_only=ascii_only)
    plain = PlainDrills(session, settings, io.StringIO(lines), write)
    result = plain.run(first_time=first_time)
    return result, write.getvalue()


class Player(io.StringIO):
    """Answers every question rightly, seeing only what a player sees."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session

    def readline(self, size: int = -1, /) -> str:
        return f"{written(self._session.question)}\n"


def written(question: Question | None) -> str:
    assert question is not None
    right = question.right
    if isinstance(right, frozenset):
        return " ".join(f"{place.string}/{place.fret}" for place in right)
    return str(right)


def play_rightly(ascii_only: bool = False) -> tuple[Result, str]:
    drills = (
        drill("find", count=4),
        drill("name", notes="chromatic", count=4),
        drill("finger", notes="chromatic", count=4),
    )
    session = Session(program(*drills), PLAYER, 3, FakeClock())
    write = io.StringIO()
    plain = PlainDrills(session, Settings(ascii_only=ascii_only), Player(session), write)
    return plain.run(first_time=True), write.getvalue()


def only_plain_text(text: str) -> bool:
    return all(sign == "\n" or sign.isprintable() for sign in text)


# Whole sessions


@pytest.mark.parametrize("ascii_only", [False, True])
def test_a_session_answered_rightly_scores_a_hundred_throughout(ascii_only):
    result, said = play_rightly(ascii_only)
    assert (len(result.verdicts), result.points, result.right) == (12, 1200, 12)
    assert result.mean_points == 100
    assert "1200 of 1200 points. 12 of 12 right" in said
    assert said.count("100 points: ") == 12
    assert only_plain_text(said)
    assert said.isascii() or not ascii_only
    for number in range(1, 13):
        assert f"\n{number}. " in said or f"\n{number} of 12. " in said


def test_cautions_are_said_the_first_time_only():
    assert "stop at pain" in run("quit\n", first_time=True)[1]
    assert "stop at pain" not in run("quit\n")[1]


def test_the_verdict_says_points_and_reasons():
    _, said = run("3/6\n", drill("find", notes="D"))
    assert "0 points" in said
    assert "Missed: A string, fret 5" in said


def test_answer_gives_up_with_nothing_and_shows_the_answer():
    result, said = run("answer\n", drill("find", notes="D"))
    assert (result.verdicts[0].points, len(result.verdicts)) == (0, 1)
    assert "0 points: given up" in said
    assert "  A string, fret 5, the same pitch as D string, open." in said
    assert "  G string, fret 7, an octave above A string, fret 5: " in said
    assert said.index("  A string, fret 5") < said.index("  G string, fret 7")


def test_what_went_wrong_is_worth_another_look_and_right_answers_are_not():
    assert "\nWorth another look: where D lies.\n" in run("answer\n", drill("find", notes="D"))[1]
    assert "Worth another look" not in run("3/5 1/7\n", drill("find", notes="D"))[1]


def test_what_was_wrong_last_time_is_praised_when_it_is_right():
    praise = "That one was missed last time; now you have it."
    assert run("answer\n3/5 1/7\n", drill("find", notes="D"))[1].count(praise) == 1
    assert praise not in run("3/5 1/7\n3/5 1/7\n", drill("find", notes="D"))[1]


def test_how_to_answer_is_said_the_first_time_of_each_form():
    said = play_rightly()[1]
    assert said.count("Answer with ") == 3
    for way in ("string/fret", "a note, ", "a finger, "):
        assert said.count(f"Answer with {way}") == 1


@pytest.mark.parametrize(
    ("ascii_only", "degrees"),
    [
        (False, {"D": "1", "F": "♭3", "A": "5", "C": "♭7"}),
        (True, {"D": "1", "F": "b3", "A": "5", "C": "b7"}),
    ],
)
def test_the_task_says_the_degree_in_the_chord(ascii_only, degrees):
    lesson = drill("find", notes="chord Dm7")
    _, said = run("answer\n" * 20, lesson, ascii_only=ascii_only, count=20)
    tasks = [line.split("Find every ")[1] for line in said.splitlines() if "Find every " in line]
    told = {task.split(")")[0] for task in tasks}
    assert told == {f"{note} ({degree} of Dm7" for note, degree in degrees.items()}


def test_the_task_says_the_chord_a_name_belongs_to():
    assert "Name the note, in Dm7: " in run("", drill("name", notes="chord Dm7"))[1]


def test_give_up_is_another_word_for_it():
    assert run("give up\n")[0].verdicts[0].answer.given is None


@pytest.mark.parametrize("ascii_only", [False, True])
def test_neck_draws_the_neck_and_asks_on(ascii_only):
    result, said = run("neck\n", drill("find", notes="D"), ascii_only=ascii_only)
    assert len(result.verdicts) == 0
    drawn = said.split("\n> ")[1].splitlines()
    for string in "GDAE":
        assert any(line.strip().startswith(string) for line in drawn)
    assert all(len(line) <= 80 for line in drawn)
    assert only_plain_text(said)
    assert said.isascii() or not ascii_only


def test_neck_shows_no_answer():
    """Neither the places nor the name of the note asked for stand on the drawing."""
    first = run("neck\n", drill("find", notes="D"))[1].split("\n> ")[1]
    other = run("neck\n", drill("find", notes="A"))[1].split("\n> ")[1]
    assert first == other


@pytest.mark.parametrize("word", ["quit", "q", "exit", "QUIT", "  quit  "])
def test_leaving(word):
    result, said = run(f"answer\n{word}\nanswer\n", count=5)
    assert len(result.verdicts) == 1
    assert said.count("\n> ") == 2


@pytest.mark.parametrize("lines", ["", "answer\n", "answer", "neck\n", "x"])
def test_the_end_of_the_lines_ends_the_session_well(lines):
    result, said = run(lines, count=5)
    assert len(result.verdicts) == lines.startswith("answer")
    assert said.endswith("\n")
    if not result.verdicts:
        assert said.endswith("No question was answered.\n")


@pytest.mark.parametrize("line", ["", "help", "?", "   ", "HELP"])
def test_help_says_how_to_answer_and_asks_on(line):
    result, said = run(f"{line}\nanswer\n", count=1)
    assert "string/fret" in said
    assert len(result.verdicts) == 1


@pytest.mark.parametrize(
    ("kind", "line"),
    [
        ("find", "everywhere"),
        ("find", "9/9"),
        ("find", "3/99"),
        ("find", "C5"),
        ("name", "H"),
        ("name", "Bbbbb"),
        ("finger", "5"),
        ("finger", "thumb"),
        ("find", "\x1b[A"),
        ("name", "\x1b[D\x1b[D"),
        ("finger", "\x07"),
        ("find", "3/5\x00"),
        pytest.param("find", "3/" + "9" * 5000, id="find-digits"),
    ],
)
def test_wrong_input_asks_again_with_advice_and_costs_nothing(kind, line):
    result, said = run(f"{line}\nanswer\n", drill(kind), count=1)
    assert len(result.verdicts) == 1
    prompts = said.split("\n> ")
    assert len(prompts) == 3
    assert prompts[1].strip()
    assert "\n" not in prompts[1].strip()
    assert "help" in prompts[1]
    assert only_plain_text(said)


def test_minutes_alone_number_the_questions():
    _, said = run("answer\nanswer\n", minutes=5)
    assert "\n1. " in said
    assert "\n2. " in said
    assert " of " not in said.split("\n1. ")[1].splitlines()[0].split(" ")[0]


def test_what_is_asked_says_how_many_places_there_are():
    _, said = run("", drill("find", notes="D"))
    assert "2 places" in said


# Through pipes


def through_pipes(lines: bytes, *arguments: str, **environment: str):
    command = [sys.executable, "-m", "fretdrill", *arguments]
    return subprocess.run(
        command, input=lines, capture_output=True, env={**os.environ, **environment}, check=False
    )


SESSION = ("drill", "name", "--notes", "chromatic", "--count", "3", "--seed", "2")
LINES = b"neck\n\xc3\xa9\n\xff\nEb\nB\xe2\x99\xad\nanswer\n"


def test_pipes_go_plain_without_being_asked():
    done = through_pipes(LINES, *SESSION, PYTHONIOENCODING="utf-8")
    assert done.returncode == 0
    assert done.stderr == b""
    said = done.stdout.decode()
    assert only_plain_text(said)
    assert said.count("\n> ") == 6
    assert "3 of 3" in said


@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "cp1252"])
def test_another_encoding_is_written_in_ascii(encoding):
    # What the player wrote is said back in their own encoding, so that is left out here.
    lines = LINES if encoding == "ascii" else b"neck\nH\nEb\nBb\nanswer\n"
    done = through_pipes(lines, *SESSION, PYTHONIOENCODING=encoding)
    assert done.returncode == 0
    assert max(done.stdout) < 128
    for escape in (b"\\u", b"\\x", b"\x1b"):
        assert escape not in done.stdout + done.stderr
    assert b"3 of 3" in done.stdout


def test_a_c_locale_is_written_in_ascii():
    done = through_pipes(
        LINES, *SESSION, LC_ALL="C", PYTHONUTF8="0", PYTHONCOERCECLOCALE="0", PYTHONIOENCODING=""
    )
    assert done.returncode == 0
    assert max(done.stdout) < 128
    assert b"\\u" not in done.stdout


def test_ascii_can_be_asked_for():
    done = through_pipes(b"neck\nanswer\n", "drill", "find", "--ascii", PYTHONIOENCODING="utf-8")
    assert done.returncode == 0
    assert max(done.stdout) < 128


def test_the_end_of_the_pipe_ends_well():
    done = through_pipes(b"", "drill", "find")
    assert (done.returncode, done.stderr) == (0, b"")
    assert done.stdout.decode().strip().endswith("No question was answered.")


def test_a_reader_that_has_gone_is_no_error():
    command = [sys.executable, "-m", "fretdrill", "drill", "find", "--count", "500"]
    with subprocess.Popen(
        command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as process:
        assert process.stdout is not None
        process.stdout.readline()
        process.stdout.close()
        assert process.stdin is not None
        try:
            process.stdin.write(b"answer\n" * 500)
            process.stdin.close()
        except BrokenPipeError:
            pass
        process.stdin = None
        assert process.stderr is not None
        said = process.stderr.read()
    assert b"Traceback" not in said
    assert b"unexpected" not in said
    assert process.returncode == 0
