"""The command line, as scripts and players meet it."""

import io
import os
import re
import shlex
import sqlite3
import subprocess
import sys
from pathlib import Path

import mido
import pytest

from fretdrill import __version__, cli, cli_parser
from fretdrill.practice.home import Home
from fretdrill.practice.journal import Journal

GOOD = 'title = "{}"\n[[drill]]\nkind = "find"\ncount = 2\n'
DRILL_WORDS = (
    "--position --frets --string --whole-neck --notes --order --count --minutes --seed "
    "--tuning --fret-count --scale-length --hand --system --plain --ascii "
    "find name finger daily first-position fifth-position whole-neck"
).split()
BAD = 'tilte = "x"\n[[drill]]\nkind = "fnd"\ncount = 0\nscope = "positon 5"\n'


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch):
    """Run the program in this process: status, what was printed, what was complained."""

    def call(*arguments: str, lines: str = "") -> tuple[int, str, str]:
        monkeypatch.setattr(sys, "stdin", io.StringIO(lines))
        capsys.readouterr()
        try:
            status = cli.main(list(arguments))
        except SystemExit as leaving:  # argparse leaves like this after --help
            status = int(leaving.code or 0)
        out, err = capsys.readouterr()
        return status, out, err

    return call


def run_program(
    *arguments: str, lines: str = "", **environment: str
) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "fretdrill", *arguments],
        input=lines,
        capture_output=True,
        encoding=environment.get("PYTHONIOENCODING", "utf-8"),
        env={**os.environ, "PYTHONIOENCODING": "utf-8", **environment},
        check=False,
    )


def questions(said: str) -> list[str]:
    return [line for line in said.splitlines() if re.match(r"\d+ of \d+\. ", line)]


# Version and help


def test_version(run):
    assert run("--version") == (0, f"fretdrill {__version__}\n", "")


def test_version_of_the_program():
    done = run_program("--version")
    assert (done.returncode, done.stdout, done.stderr) == (0, f"fretdrill {__version__}\n", "")


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("--help",), ("drill", "check", "--plain", "--version", "today's practice")),
        (("-h",), ("drill", "check")),
        (
            ("drill", "--help"),
            DRILL_WORDS,
        ),
        (("check", "--help"), ("PACK", "exit status 1")),
    ],
)
def test_help_says_what_there_is(run, arguments, words):
    status, out, err = run(*arguments)
    assert (status, err) == (0, "")
    for word in words:
        assert word in out
    assert out.isascii()


def test_every_example_of_the_help_works(run, monkeypatch, tmp_path):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "my-lesson.toml").write_text(GOOD.format("Mine"), encoding="utf-8")
    (tmp_path / "song.abc").write_text(
        "X:1\nT:Song\nM:4/4\nK:C octave=-1\nC,CEG|AGEC|\n", encoding="utf-8"
    )
    song = mido.MidiFile()
    for _ in range(3):
        notes = [mido.Message(kind, note=40, time=480) for kind in ("note_on", "note_off")]
        song.tracks.append(mido.MidiTrack(notes))
    song.save(tmp_path / "song.mid")
    examples = [
        line.split("   ")[0].strip()
        for line in cli_parser.EXAMPLES.splitlines()
        if "  fretdrill" in line
    ]
    assert len(examples) > 5
    for example in examples:
        status, _, err = run(*shlex.split(example)[1:], lines="answer\n")
        if " open " in example:  # only on a terminal
            assert (status, err.count("\n")) == (2, 1)
        else:
            assert (status, err) == (0, ""), example


# Faults of the command line: one line, the nearest name, status 2


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("dril", "find"), "'drill'"),
        (("chekc", "daily"), "'check'"),
        (("--plain", "dril", "find"), "'drill'"),
        (("--versoin",), "'--version'"),
        (("--plian",), "'--plain'"),
        (("drill", "find", "--positon", "5"), "'--position'"),
        (("drill", "find", "--position=5", "--notse=D"), "'--notes'"),
        (("drill", "find", "--mintues", "3"), "'--minutes'"),
        (("drill", "fnd"), "'find'"),
        (("drill", "fingers"), "'finger'"),
        (("drill", "fifth-postion"), "'fifth-position'"),
        (("drill", "dayly"), "'daily'"),
        (("drill", "find", "--notes", "natrals"), "'naturals'"),
        (("drill", "find", "--notes", "D H"), "'H'"),
        (("drill", "find", "--notes", "key F majr"), "'major'"),
        (("drill", "find", "--notes", "chord Dm77"), "'m7'"),
        (("drill", "find", "--tuning", "4-strng"), "'4-string'"),
        (("drill", "find", "--tuning", "E A D H"), "'H'"),
        (("drill", "find", "--system", "1-2-3"), "'1-2-4'"),
        (("drill", "find", "--hand", "larg"), "'large'"),
        (("drill", "find", "--order", "listd"), "'listed'"),
        (("drill",), "find, name, finger"),
        (("drill",), "daily"),
        (("drill", "find", "twice"), "twice"),
        (("drill", "daily", "--position", "5"), "--position"),
        (("drill", "find", "--position", "0"), "--position"),
        (("drill", "find", "--position", "37"), "--position"),
        (("drill", "find", "--position", "30"), "last fret"),
        (("drill", "find", "--position", ""), "--position"),
        (("drill", "find", "--frets", "9-5"), "--frets"),
        (("drill", "find", "--frets", "5-40"), "36"),
        (("drill", "find", "--frets", ""), "--frets"),
        (("drill", "find", "--string", "5"), "string 5"),
        (("drill", "find", "--string", "0"), "--string"),
        (("drill", "find", "--string", ""), "--string"),
        (("drill", "find", "--position", "5", "--whole-neck"), "two parts"),
        (("drill", "find", "--position", "5", "--string", "2", "--notes", "E"), "'E'"),
        (("drill", "find", "--count", "0"), "--count"),
        (("drill", "find", "--count", "x"), "--count"),
        (("drill", "find", "--count"), "--count"),
        (("drill", "find", "--minutes", "0"), "--minutes"),
        (("drill", "find", "--minutes", "nan"), "--minutes"),
        (("drill", "find", "--minutes", "1e99"), "--minutes"),
        (("drill", "find", "--seed", "-1"), "--seed"),
        (("drill", "find", "--seed", str(2**63)), "--seed"),
        pytest.param(("drill", "find", "--seed", "9" * 5000), "--seed", id="seed of 5000 digits"),
        (("drill", "find", "--fret-count", "11"), "--fret-count"),
        (("drill", "find", "--fret-count", "37"), "--fret-count"),
        (("drill", "find", "--scale-length", "0"), "--scale-length"),
        (("drill", "find", "--scale-length", "nan"), "--scale-length"),
        (("drill", "find", "--scale-length", "inches"), "--scale-length"),
        (("drill", "find", "--hand", "20"), "--hand"),
        (("drill", "find", "--hand", ""), "--hand"),
        (("drill", "find", "--system", ""), "--system"),
        (("drill", "find", "--tuning", ""), "--tuning"),
        (("drill", "find", "--tuning", "E1 A D G"), "octave"),
        (("drill", "find", "--notes", ""), "--notes"),
        (("check",), "PACK"),
    ],
)
def test_a_fault_of_the_command_line_is_one_line_that_helps(run, arguments, words):
    status, out, err = run(*arguments)
    assert status == 2
    assert out == ""
    assert err.count("\n") == 1
    assert err.startswith("fretdrill: ")
    assert words in err


@pytest.mark.parametrize(
    "arguments",
    [
        ("check", "--plain", "daily"),
        ("drill", "find", "--version"),
        ("drill", "find", "--position", ""),
        ("drill", "find", "--notes", "chord"),
    ],
)
def test_advice_never_offers_what_was_given(run, arguments):
    status, _, err = run(*arguments)
    if status == 0:
        return
    for word in arguments:
        assert f"did you mean '{word}'" not in err
    assert "did you mean 'position'" not in err


# Data at fault: status 1


def test_a_bad_pack_tells_all_its_faults_at_once(run, tmp_path):
    path = tmp_path / "lesson.toml"
    path.write_text(BAD, encoding="utf-8")
    status, out, err = run("drill", str(path))
    assert (status, out) == (1, "")
    lines = err.splitlines()
    assert len(lines) == 5
    assert all("lesson.toml: " in line for line in lines)
    for key in ("tilte", "title", "drill[1].kind", "drill[1].count", "drill[1].scope"):
        assert any(f"{key}: " in line for line in lines)
    assert "did you mean 'find'?" in err


def test_bad_settings_tell_all_their_faults_at_once(run, home: Home):
    home.config.mkdir(parents=True)
    home.settings.write_text("[neck]\nfrets = 99\ntunig = 1\n[nack]\n", encoding="utf-8")
    status, _, err = run("drill", "find", "--plain")
    assert status == 1
    assert len(err.splitlines()) == 3
    assert all("settings.toml: " in line for line in err.splitlines())


@pytest.mark.parametrize(
    "content",
    [b"\xff\xfe", b"[[[", b"#" * 2_000_000, None],
    ids=["binary", "not TOML", "big", "missing"],
)
def test_a_file_that_is_no_pack_is_one_line(run, tmp_path, content):
    path = tmp_path / "lesson.toml"
    if content is not None:
        path.write_bytes(content)
    status, _, err = run("drill", str(path))
    assert status == 1
    assert err.count("\n") == 1
    assert "lesson.toml" in err


def test_a_pack_that_does_not_fit_the_neck_is_told_drill_by_drill(run, tmp_path):
    path = tmp_path / "lesson.toml"
    drills = '[[drill]]\nkind = "find"\nscope = "string 5"\n'
    path.write_text(f'title = "Five strings"\n{drills * 2}', encoding="utf-8")
    status, _, err = run("drill", str(path))
    assert status == 1
    assert len(err.splitlines()) == 2
    assert run("drill", str(path), "--tuning", "5-string", lines="quit\n")[0] == 0


def test_a_newer_journal_is_refused_and_left_alone(run, home: Home):
    Journal(home.journal).close()
    db = sqlite3.connect(home.journal)
    db.execute("PRAGMA user_version = 99")
    db.close()
    before = {file.name: file.read_bytes() for file in home.data.iterdir()}
    status, _, err = run("drill", "find", "--plain", lines="answer\n")
    assert status == 1
    assert err.count("\n") == 1
    assert "newer" in err
    assert {file.name: file.read_bytes() for file in home.data.iterdir()} == before


# check


def test_check_of_sound_packs(run):
    status, out, err = run("check", "daily", "fifth-position")
    assert (status, err) == (0, "")
    assert [line.split(":")[0] for line in out.splitlines()] == ["daily", "fifth-position"]


def test_check_goes_through_all_packs_and_lists_all_faults(run, tmp_path):
    good, bad = tmp_path / "good.toml", tmp_path / "bad.toml"
    good.write_text(GOOD.format("Good"), encoding="utf-8")
    bad.write_text(BAD, encoding="utf-8")
    status, out, _ = run("check", str(bad), str(good), "nightly", str(tmp_path / "none.toml"))
    assert status == 1
    assert sum(line.startswith("bad.toml: ") for line in out.splitlines()) == 5
    assert "Good" in out
    assert "nightly" in out
    assert "none.toml" in out


@pytest.mark.parametrize("name", ["a" * 300, "dayly", "."], ids=["long", "near", "dot"])
def test_check_of_an_unknown_pack_is_one_line(run, name):
    status, out, err = run("check", name)
    assert status == 1
    assert (out + err).count("\n") == 1


@pytest.mark.parametrize("encoding", ["ascii", "latin-1"])
def test_check_writes_to_any_terminal(tmp_path: Path, encoding: str):
    path = tmp_path / "lesson.toml"
    path.write_text(GOOD.format("Übung in B♭"), encoding="utf-8")
    odd = tmp_path / "odd.toml"
    odd.write_text(GOOD.format("A") + 'notes = "chord Czz"\n', encoding="utf-8")
    done = run_program("check", str(path), str(odd), PYTHONIOENCODING=encoding)
    assert done.returncode == 1
    assert "unexpected" not in done.stderr
    assert "zz" in done.stdout


def test_check_starts_no_journal(run, home: Home):
    run("check", "daily")
    assert not home.data.exists()


# drill


def test_a_seed_asks_the_same_again(run, monkeypatch, tmp_path):
    def asked(seed: str, player: str) -> list[str]:
        monkeypatch.setenv("FRETDRILL_HOME", str(tmp_path / player))
        command = ("drill", "name", "--notes", "chromatic", "--count", "8", "--seed", seed)
        return questions(run(*command, lines="C\n" * 8)[1])

    first = asked("5", "one")
    assert len(first) == 8
    assert asked("5", "another") == first
    assert asked("6", "a third") != first


def test_a_seed_decides_alone_whatever_was_practised_before(run):
    command = ("drill", "name", "--notes", "chromatic", "--count", "8")
    first = questions(run(*command, "--seed", "5", lines="C\n" * 8)[1])
    assert len(first) == 8
    run(*command, lines="answer\n" * 8)
    assert questions(run(*command, "--seed", "5", lines="answer\n" * 8)[1]) == first


def test_a_session_is_in_the_journal_afterwards(run, home: Home):
    status, out, err = run("drill", "find", "--position", "V", "--count", "2", lines="3/5\n" * 2)
    assert (status, err) == (0, "")
    assert "typically in" in out
    journal = Journal(home.journal)
    (past,) = journal.sittings()
    journal.close()
    assert past.questions == 2


def test_todays_practice_needs_no_words(run):
    status, out, err = run(lines="answer\n" * 10)
    assert (status, err) == (0, "")
    assert out.startswith("Daily")
    assert "0 points" in out
    assert out.count("given up") == 10


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("--position", "5"), "fifth position"),
        (("--position", "V"), "fifth position"),
        (("--position", "fifth"), "fifth position"),
        (("--position", "half"), "frets 1 to 3"),
        (("--frets", "0-12"), "fret 1 to 12"),
        (("--string", "2"), "D string"),
        (("--string", "3-4"), "on the E and A strings"),
        (("--whole-neck",), "whole neck"),
        (("--string", "5", "--tuning", "5-string"), "B string"),
        (("--string", "1", "--tuning", "A D G C"), "C string"),
        (("--whole-neck", "--notes", "D"), "every D "),
    ],
)
def test_options_say_where_and_what(run, arguments, words):
    status, out, err = run("drill", "find", *arguments, lines="quit\n")
    assert (status, err) == (0, "")
    assert words in questions(out)[0]


def test_options_may_stand_before_the_command(run):
    assert run("--plain", "--ascii", "drill", "find", lines="quit\n")[0] == 0


def test_minutes_and_count_say_how_long(run):
    _, out, _ = run("drill", "find", "--count", "3", lines="answer\n" * 9)
    assert len(questions(out)) == 3
    _, out, _ = run("drill", "find", "--minutes", "5", lines="answer\n" * 4)
    assert out.count("given up") == 4


def test_a_pack_takes_a_count(run):
    _, out, _ = run("drill", "daily", "--count", "5", lines="answer\n" * 9)
    assert len(questions(out)) == 5


def test_own_packs_come_first(run, home: Home):
    home.packs.mkdir(parents=True)
    (home.packs / "daily.toml").write_text(GOOD.format("My own day"), encoding="utf-8")
    assert run("drill", "daily", lines="quit\n")[1].startswith("My own day")
    assert run(lines="quit\n")[1].startswith("My own day")


def test_practice_goes_on_without_a_journal(run, home: Home):
    home.journal.mkdir(parents=True)
    status, out, err = run("drill", "find", "--count", "1", lines="answer\n")
    assert status == 0
    assert "given up" in out
    assert err.count("\n") == 1
    assert "Practice goes on" in err


# Where it runs


@pytest.mark.skipif(os.name != "posix", reason="pseudo-terminals")
@pytest.mark.parametrize(("term", "plain"), [("dumb", ()), ("xterm-256color", ("--plain",))])
def test_a_dumb_terminal_or_a_word_goes_plain(term: str, plain: tuple[str, ...]):
    import pty

    main, other = pty.openpty()
    with subprocess.Popen(
        [sys.executable, "-m", "fretdrill", "drill", "find", "--count", "1", *plain],
        stdin=other,
        stdout=other,
        stderr=other,
        env={**os.environ, "TERM": term, "PYTHONIOENCODING": "utf-8"},
        start_new_session=True,
    ) as process:
        os.close(other)
        said = b""
        try:
            while b"\r\n> " not in said:
                said += os.read(main, 4096)
            os.write(main, b"quit\n")
            while True:
                said += os.read(main, 4096)
        except OSError:  # the other end is closed
            pass
    os.close(main)
    assert process.returncode == 0
    assert b"\x1b" not in said
    assert b"1 of 1. Find every" in said


@pytest.mark.parametrize(
    ("locale", "is_ascii"),
    [
        ({"LC_ALL": "C"}, True),
        ({"LC_ALL": "POSIX"}, True),
        ({"LC_ALL": "C", "LC_CTYPE": "C.UTF-8", "LANG": "C.UTF-8"}, True),
        ({"LC_ALL": "C.UTF-8", "LC_CTYPE": "C", "LANG": "C"}, False),
    ],
)
def test_who_asks_for_a_c_locale_gets_ascii(locale: dict[str, str], is_ascii: bool):
    done = run_program("drill", "find", "--count", "1", lines="neck\nanswer\n", **locale)
    assert (done.returncode, done.stderr) == (0, "")
    assert "1 of 1. " in done.stdout
    assert done.stdout.isascii() == is_ascii


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="a full device")
@pytest.mark.parametrize("unbuffered", ["", "1"])
@pytest.mark.parametrize("arguments", [("drill", "find", "--count", "1"), ("check", "daily")])
def test_a_full_disk_is_one_line_and_status_1(arguments: tuple[str, ...], unbuffered: str):
    with open("/dev/full", "w", encoding="utf-8") as full:
        done = subprocess.run(
            [sys.executable, "-m", "fretdrill", *arguments],
            input=b"answer\n",
            stdout=full,
            stderr=subprocess.PIPE,
            env={**os.environ, "PYTHONUNBUFFERED": unbuffered},
            check=False,
        )
    said = done.stderr.decode()
    assert done.returncode == 1
    assert said.startswith("fretdrill: ")
    assert said.count("\n") == 1


@pytest.mark.skipif(os.name != "posix", reason="a POSIX shell closes streams")
@pytest.mark.parametrize("arguments", [(), ("drill", "find"), ("--plain",)])
def test_a_closed_stdin_is_one_line(arguments: tuple[str, ...]):
    program = [sys.executable, "-m", "fretdrill", *arguments]
    done = subprocess.run(
        ["/bin/sh", "-c", 'exec "$0" "$@" <&-', *program], capture_output=True, check=False
    )
    said = done.stderr.decode()
    assert done.returncode == 2
    assert done.stdout == b""
    assert said.startswith("fretdrill: ")
    assert said.count("\n") == 1
    assert "Traceback" not in said


# What nobody foresaw


def test_an_unexpected_error_is_one_line_and_a_log(run, home: Home, monkeypatch):
    def fail(*_: object) -> None:
        raise ZeroDivisionError("what nobody foresaw")

    monkeypatch.setattr("fretdrill.practice.settings.load_settings", fail)
    status, out, err = run("drill", "find")
    assert (status, out) == (3, "")
    assert err.count("\n") == 1
    assert str(home.log) in err
    assert "Traceback" not in err
    logged = home.log.read_text(encoding="utf-8")
    assert "Traceback (most recent call last)" in logged
    assert "ZeroDivisionError: what nobody foresaw" in logged
    run("drill", "find")
    assert home.log.read_text(encoding="utf-8").count("ZeroDivisionError: ") == 2


def test_an_unexpected_error_that_cannot_be_logged_is_still_one_line(run, home: Home, monkeypatch):
    def fail(*_: object) -> None:
        raise ZeroDivisionError("what nobody foresaw")

    home.logs.parent.mkdir(parents=True, exist_ok=True)
    home.logs.write_text("in the way", encoding="utf-8")
    monkeypatch.setattr(cli, "_run", fail)
    status, _, err = run("drill", "find")
    assert status == 3
    assert err.count("\n") == 1
    assert "what nobody foresaw" in err


def test_an_interrupt_ends_quietly(run, monkeypatch):
    def interrupt(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(cli, "_run", interrupt)
    status, out, err = run("drill", "find")
    assert (status, out, err.strip()) == (0, "", "")


def test_an_interrupt_in_a_session_keeps_what_was_answered(run, home: Home, monkeypatch):
    class Interrupting(io.StringIO):
        def readline(self, size: int = -1, /) -> str:
            line = super().readline()
            if not line:
                raise KeyboardInterrupt
            return line

    monkeypatch.setattr(io, "StringIO", Interrupting)
    status, _, _ = run("drill", "find", lines="answer\nanswer\n")
    assert status == 0
    journal = Journal(home.journal)
    assert journal.sittings()[0].questions == 2
    journal.close()


def test_a_home_that_cannot_be_looked_at_is_one_line_and_no_surprise(run, monkeypatch, tmp_path):
    monkeypatch.setenv("FRETDRILL_HOME", str(tmp_path / ("a" * 300)))
    status, _, err = run("drill", "find", "--count", "1", lines="answer\n")
    assert status in (0, 1)
    assert err.count("\n") == 1
    assert "unexpected" not in err
