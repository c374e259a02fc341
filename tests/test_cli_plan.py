"""``fretdrill plan`` and ``fretdrill check`` of lines, as scripts and players meet them."""

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from fretdrill import cli
from fretdrill.hand.shifts import shift_s
from tests.hand.lines import HAND, abc_text
from tests.scores.midi_files import smf, written

SONG = abc_text("G,,,C,,E,,G,,|C,2_E,2|", bpm=100, key="F")
TWO_TUNES = "X:1\nT:One\nM:4/4\nL:1/4\nK:C\nC,4|\n\nX:7\nT:Seven\nM:4/4\nL:1/4\nK:C\nD,4|\n"
LEAP = abc_text("G,,,G,|C,,2|", bpm=300, metre="2/4")
MIDI = written([(0, 480, 31), (480, 960, 36), (960, 1920, 40)], name="Bass")


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path):
    """Run the program in this process: status, what was printed, what was complained."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COLUMNS", "80")
    for name in ("LC_ALL", "LC_CTYPE", "LANG"):
        monkeypatch.delenv(name, raising=False)
    Path("song.abc").write_text(SONG)

    def call(*arguments: str) -> tuple[int, str, str]:
        capsys.readouterr()
        try:
            status = cli.main(list(arguments))
        except SystemExit as leaving:
            status = int(leaving.code or 0)
        out, err = capsys.readouterr()
        assert "Traceback" not in out + err
        return status, out, err

    return call


@pytest.fixture
def plan(run):
    """Plan a line: the object, with nothing to complain of."""

    def call(*arguments: str, content: str | bytes | None = None) -> dict:
        if content is not None:
            Path("it").write_bytes(content.encode() if isinstance(content, str) else content)
        name = "song.abc" if content is None else "it"
        status, out, err = run("plan", name, "--json", *arguments)
        assert (status, err) == (0, "")
        assert out.isascii()
        assert out.count("\n") == 1
        return json.loads(out)

    return call


@pytest.fixture
def refused(run):
    """Run what is refused: the status and the one line that says why."""

    def call(*arguments: str) -> tuple[int, str]:
        status, out, err = run(*arguments)
        assert out == ""
        assert err.count("\n") == 1
        assert err.startswith("fretdrill: ")
        return status, err

    return call


def taken(data: dict, *names: str) -> list:
    names = names or ("string", "fret", "finger")
    return [tuple(note[name] for name in names) for note in data["notes"]]


# The page


def test_page(run):
    status, out, err = run("plan", "song.abc")
    assert (status, err) == (0, "")
    rows = out.splitlines()
    assert rows[0] == "Test: 4/4, F major, 100 bpm, 6 notes"
    assert re.fullmatch(
        r"Positions? [IVX, ]+ (no|one|two) shifts?; cost \d+\.\d, \d+\.\d a note\.", rows[1]
    )
    assert [row[:4] for row in rows[5:9]] == [" G |", " D |", " A |", " E |"]
    titles = [row for row in rows if row in ("Shifts", "Hardest", "Why", "Otherwise")]
    assert titles[-1] == "Otherwise"
    assert "Beginning in another position than " in out
    assert "E♭" in out or "♭" not in out


def test_help(run):
    status, out, err = run("plan", "--help")
    assert (status, err) == (0, "")
    options = (
        "--tempo --tune --track --octave --position --pin --keep-fingering --no-open --minimax "
        "--strict --weights --best --json --hand --tuning --scale-length --system --pace "
        "--fret-count --ascii --plain LINE"
    )
    for word in options.split():
        assert word in out


def test_every_line_that_ships(run):
    from fretdrill.practice.library import line_files

    for name in line_files(Path("none")):
        status, out, err = run("plan", name)
        assert (status, err) == (0, ""), name
        assert "Otherwise" in out.splitlines()


@pytest.mark.parametrize("ascii_by", ["--ascii", "LC_ALL"])
def test_ascii(run, monkeypatch, ascii_by):
    Path("flat.abc").write_text(abc_text("_B,,,_E,,_A,,_D,|_G,^C^F_B,|", key="Db", bpm=200))
    assert "♭" in run("plan", "flat.abc", "--best", "2")[1]
    if ascii_by == "LC_ALL":
        monkeypatch.setenv("LC_ALL", "C")
        status, out, _ = run("plan", "flat.abc", "--best", "2")
    else:
        status, out, _ = run("plan", "flat.abc", "--best", "2", "--ascii")
        assert run("--ascii", "plan", "flat.abc", "--best", "2")[1] == out
    assert status == 0
    assert out.isascii()


@pytest.mark.parametrize("columns", [30, 50, 80, 120])
def test_tab_and_sentences_wrap_to_the_window(run, monkeypatch, columns):
    music = "|".join(["G,,,C,,E,,G,,C,E,G,C"] * 8)
    Path("long.abc").write_text(abc_text(music, unit="1/8", bpm=160))
    monkeypatch.setenv("COLUMNS", str(columns))
    _, out, _ = run("plan", "long.abc", "--best", "3")
    rows = out.splitlines()
    tab = [row for row in rows if re.match(r" [GDAE] \|", row)]
    assert tab
    assert max(map(len, tab)) <= columns
    sentences = [row for row in rows if row.startswith("  ") and not re.match(r" {6}", row)]
    assert sentences
    assert max(map(len, sentences)) <= columns


@pytest.mark.parametrize("columns", [40, 80])
def test_all_rows_wrap_to_the_window(run, monkeypatch, columns):
    monkeypatch.setenv("COLUMNS", str(columns))
    _, out, _ = run("plan", "song.abc")
    assert max(map(len, out.splitlines())) <= columns


def test_json_and_page_agree(run, plan):
    data = plan()
    out = run("plan", "song.abc")[1]
    assert f"cost {data['cost']:.1f}, " in out
    fingers = [str(note["finger"]) for note in data["notes"]]
    assert " ".join(fingers) in [" ".join(row.split()) for row in out.splitlines()]


# What is played


def test_tempo(plan, refused):
    assert plan()["line"]["tempo_bpm"] == 100
    data = plan("--tempo", "60")
    assert data["line"]["tempo_bpm"] == 60
    assert [note["onset_s"] for note in data["notes"][:3]] == [0, 1, 2]
    for wrong in ("0", "-3", "nan", "1e9"):
        status, err = refused("plan", "song.abc", "--tempo", wrong)
        assert status == 2
        assert "--tempo" in err
    status, err = refused("plan", "song.abc", "--tempo", "fast")
    assert (status, "'fast' is not a number" in err) == (2, True)


def test_tune(run, plan, refused):
    Path("two.abc").write_text(TWO_TUNES)
    status, out, err = run("plan", "two.abc")
    assert (status, out.splitlines()[0][:4]) == (0, "One:")
    assert err.count("\n") == 1
    assert "'--tune N' takes another" in err
    assert run("plan", "two.abc", "--json")[2] == err  # a choice is worth a word to anyone
    status, out, err = run("plan", "two.abc", "--tune", "7")
    assert (status, out.splitlines()[0][:6], err) == (0, "Seven:", "")
    status, err = refused("plan", "two.abc", "--tune", "3")
    assert (status, "no tune 3; there are 1, 7" in err) == (1, True)
    for wrong in ("x", "-1", "1.5", ""):
        assert refused("plan", "two.abc", "--tune", wrong)[0] == 2


def test_track(plan, refused):
    assert taken(plan(content=MIDI), "midi") == [(31,), (36,), (40,)]
    assert plan("--track", "1", content=MIDI) == plan("--track", "Bass", content=MIDI)
    status, err = refused("plan", "it", "--track", "Drums")
    assert (status, "no track 'Drums'" in err) == (1, True)
    assert refused("plan", "it", "--track", "")[0] == 1
    assert refused("plan", "it", "--tune", "1")[0] == 1
    assert refused("plan", "song.abc", "--track", "1")[0] == 1


def test_octave(plan, refused):
    midis = [midi for (midi,) in taken(plan(), "midi")]
    for octaves in ("+1", "1"):
        assert taken(plan("--octave", octaves), "midi") == [(midi + 12,) for midi in midis]
    for wrong in ("5", "-5", "x", "1.5", ""):
        status, err = refused("plan", "song.abc", "--octave", wrong)
        assert (status, "between -4 and 4" in err) == (2, True)
    Path("top.abc").write_text(abc_text("c'''4"))
    status, err = refused("plan", "top.abc", "--octave", "4")
    assert (status, "+4 octaves takes C8 out of every range" in err) == (2, True)


def test_outside_the_neck_says_what_helps(refused):
    Path("low.abc").write_text(abc_text("E,,,,A,,,,D,,,2"))
    status, err = refused("plan", "low.abc")
    assert status == 1
    assert "notes 1 (E0), 2 (A0), 3 (D1) lie off the neck, which has E1 to G4" in err
    assert "--octave +1" in err
    Path("b.abc").write_text(abc_text("B,,,,C,,C,,2"))
    status, err = refused("plan", "b.abc")
    assert "note 1 is B0" in err
    assert "--octave +1 or --tuning 5-string would bring all in" in err
    Path("both.abc").write_text(abc_text("C,,,,2c''''2"))
    status, err = refused("plan", "both.abc")
    assert status == 1
    assert "would bring" not in err
    Path("many.abc").write_text(abc_text("|".join(["E,,,,4"] * 30)))
    status, err = refused("plan", "many.abc")
    assert "and 25 more" in err
    assert len(err) < 500


def test_the_advice_works(plan):
    low = abc_text("E,,,,A,,,,D,,,2")
    assert plan("--octave", "+1", content=low)["line"]["notes"] == 3
    five = plan("--tuning", "5-string", content=abc_text("B,,,,C,,C,,2"))
    assert five["neck"]["tuning"] == ["B0", "E1", "A1", "D2", "G2"]


# How it is taken


def test_position(plan, refused):
    for asked in ("3", "III", "third"):
        assert plan("--position", asked)["notes"][0]["position"] == 3
    for wrong in ("99", "fift", "", "0", "-1"):
        status, err = refused("plan", "song.abc", f"--position={wrong}")
        assert status == 2
        assert "--position" in err
    status, err = refused("plan", "song.abc", "--position", "12")
    assert status == 1
    assert "position 12" in err


def test_pins(plan):
    data = plan("--pin", "2=2@4/8", "--pin", "5=4", "--pin", "4=0@1/0")
    assert taken(data)[1] == (4, 8, 2)
    assert taken(data)[3] == (1, 0, 0)
    assert data["notes"][4]["finger"] == 4
    assert data["cost"] >= plan()["cost"]


def test_note_settled_twice(refused):
    status, err = refused("plan", "song.abc", "--pin", "2=1", "--pin", "2=3")
    assert (status, "note 2 is settled twice" in err) == (2, True)


@pytest.mark.parametrize(
    "pin",
    [
        "",
        "5",
        "5=",
        "=2",
        "5=5",
        "5=-1",
        "x=1",
        "5=1@",
        "5=1@3",
        "5=1@3/x",
        "5=1@/3",
        "5=1 ",
        "٥=1x",
    ],
)
def test_pin_that_is_none(refused, pin):
    status, err = refused("plan", "song.abc", f"--pin={pin}")
    assert status == 2
    assert "write NOTE=FINGER or NOTE=FINGER@STRING/FRET" in err


@pytest.mark.parametrize("index", ["0", "7", "999999"])
def test_pin_on_no_note(refused, index):
    status, err = refused("plan", "song.abc", "--pin", f"{index}=1")
    assert (status, "the line has notes 1 to 6" in err) == (2, True)


@pytest.mark.parametrize(
    ("pin", "limit"),
    [
        ("1=1@3/3", "note 1, G1: it is not at 3/3 (string/fret) but at 4/3"),
        ("1=0", "note 1, G1: it is no open string there, so it needs a finger"),
        ("4=2@1/0", "note 4, G2: an open string needs no finger: 0"),
        ("4=0@1/5", "note 4, G2: it is not at 1/5"),
        ("1=1@9/3", "it is not at 9/3"),
    ],
)
def test_pin_that_cannot_be(refused, pin, limit):
    status, err = refused("plan", "song.abc", "--pin", pin)
    assert (status, limit in err) == (1, True)


def test_keep_fingering(run, plan):
    song = abc_text("!2!G,,,!4!C,,!0!D,,E,,")
    kept = plan("--keep-fingering", content=song)
    assert [finger for (finger,) in taken(kept, "finger")][:3] == [2, 4, 0]
    assert kept["cost"] > plan(content=song)["cost"]
    pinned = plan("--keep-fingering", "--pin", "1=1", content=song)
    assert [finger for (finger,) in taken(pinned, "finger")][:3] == [1, 4, 0]
    assert "Written fingers" in run("plan", "it")[1]
    assert "Written fingers" not in run("plan", "it", "--keep-fingering")[1]


def test_no_open(plan, refused):
    song = abc_text("A,,,D,,G,,C,")
    assert 0 in [finger for (finger,) in taken(plan(content=song), "finger")]
    assert 0 not in [finger for (finger,) in taken(plan("--no-open", content=song), "finger")]
    pinned = plan("--no-open", "--pin", "1=0", content=song)
    assert pinned["notes"][0]["finger"] == 0
    Path("e.abc").write_text(abc_text("E,,,4"))
    status, err = refused("plan", "e.abc", "--no-open")
    assert (status, "note 1, E1, lies on an open string alone" in err) == (1, True)


def test_minimax(plan):
    song = abc_text("E,,,2G,,,2A,,,2C,,2|F,2A,2C2D2|F,,8|E,,2C2E,,4|", unit="1/8", bpm=160)
    best, easiest = plan(content=song), plan("--minimax", content=song)
    hardest = [max(note["cost"] for note in data["notes"]) for data in (best, easiest)]
    assert hardest[1] <= hardest[0]
    assert easiest["cost"] >= best["cost"]


def test_minimax_with_best(refused):
    status, err = refused("plan", "song.abc", "--minimax", "--best", "2")
    assert (status, "--minimax and --best" in err) == (2, True)


def test_strict(plan, refused):
    (shift, *_) = plan(content=LEAP)["shifts"]
    assert shift["needs_s"] > shift["available_s"]
    status, err = refused("plan", "it", "--strict")
    assert (status, "no hand gets from note 1 to note 2 in 0.20 s" in err) == (1, True)
    slow = plan("--strict", "--tempo", "40", content=LEAP)
    assert all(shift["needs_s"] <= shift["available_s"] for shift in slow["shifts"])


def test_strict_page_tells_no_cost_of_what_cannot_be_played(run):
    song = abc_text("A,,E,,A,,E,C,F,,D,,B,,,D,,E,,C,,B,,,", metre="none", bpm=180)
    Path("it.abc").write_text(song)
    status, out, _ = run("plan", "it.abc", "--strict")
    assert status == 0
    assert not re.search(r"\d{6}", out)


def test_minimax_page_compares_with_the_cheapest_line(run):
    song = abc_text("E,,,2G,,,2A,,,2C,,2|F,2A,2C2D2|F,,8|E,,2C2E,,4|", unit="1/8", bpm=160)
    Path("it.abc").write_text(song)
    _, out, _ = run("plan", "it.abc", "--minimax")
    told = " ".join(out.split())
    found = re.search(r"hardest note costs ([\d.]+), in the easiest line ([\d.]+); .*more\.", told)
    assert float(found[1]) <= float(found[2])
    assert "Beginning in" not in out


def test_plain_is_a_note_a_line(run):
    _, out, _ = run("plan", "song.abc", "--plain")
    assert "|" not in out
    assert re.search(r"^  Bar 1, beat 1: .+, finger \d, position [IVX]+\.$", out, re.MULTILINE)


def test_brief_ends_with_the_shifts(run):
    _, out, _ = run("plan", "song.abc", "--brief")
    assert "Why" not in out
    assert "Otherwise" not in out


def test_best_tells_what_is_otherwise(run):
    _, out, _ = run("plan", "song.abc", "--best", "3")
    rows = out[out.index("Cheapest ways") :].splitlines()
    assert rows[1] == "  1. +0.00: as above"
    assert rows[2].startswith("  2. +")


def test_weights(plan, refused):
    assert plan("--weights", "bass") == plan()
    assert set(plan("--weights", "guitar")) == set(plan())
    status, err = refused("plan", "song.abc", "--weights", "bas")
    assert (status, "--weights: unknown set of weights" in err) == (2, True)
    assert "did you mean 'bass'?" in err


def test_weights_without_a_name(refused):
    assert refused("plan", "song.abc", "--weights", "")[0] == 2


# The instrument and the hand


def test_neck_and_hand(plan):
    data = plan(
        *("--tuning", "6-string", "--fret-count", "20", "--scale-length", "762"),
        *("--hand", "small", "--system", "1-2-4", "--pace", "careful"),
    )
    assert data["neck"] == {
        "tuning": ["B0", "E1", "A1", "D2", "G2", "C3"],
        "frets": 20,
        "scale_mm": 762,
    }
    assert data["hand"] == {"size": "small", "system": "1-2-4", "pace_s_per_bit": 0.095}
    assert 3 not in [finger for (finger,) in taken(data, "finger")]
    assert plan("--hand", "105")["hand"]["size"] == "105 mm"
    assert plan("--pace", "0.07")["hand"]["pace_s_per_bit"] == 0.07


def test_pace_is_what_shifts_need(plan):
    (shift, *_) = plan("--pin", "1=1@4/3", "--pin", "2=1@4/8")["shifts"]
    assert shift["needs_s"] == pytest.approx(shift_s(HAND, 5), abs=1e-6)


@pytest.mark.parametrize(
    ("option", "wrong"),
    [
        ("--tuning", "H Q"), ("--tuning", ""), ("--fret-count", "11"), ("--fret-count", "37"),
        ("--fret-count", "x"), ("--scale-length", "0"), ("--scale-length", "nan"),
        ("--scale-length", "x"), ("--hand", "huge"), ("--hand", "500"), ("--hand", "nan"),
        ("--system", "two"), ("--pace", "slow"), ("--pace", "9"), ("--pace", "nan"),
        ("--best", "0"), ("--best", "101"), ("--best", "x"),
    ],
)  # fmt: skip
def test_faulty_values_name_their_option(refused, option, wrong):
    status, err = refused("plan", "song.abc", option, wrong)
    assert (status, option in err) == (2, True)


# The k best


def test_best(run, plan):
    data = plan("--best", "3")
    assert [way["cost"] for way in data["best"]] == sorted(way["cost"] for way in data["best"])
    assert len(data["best"]) == 3
    assert data["best"][0]["cost"] == data["cost"]
    assert "best" not in plan()
    out = run("plan", "song.abc", "--best", "3")[1]
    assert re.findall(r"^  (\d)\. \+", out, re.MULTILINE) == ["1", "2", "3"]
    assert "1. +0.00" in out


def test_best_of_fewer(plan):
    song = abc_text("E,,,4")
    assert len(plan("--best", "5", content=song)["best"]) == 1


# Which line


def test_unknown_line_names_the_nearest(refused, home):
    home.lines.mkdir(parents=True)
    (home.lines / "my-groove.abc").write_text(SONG)
    status, err = refused("plan", "my-grove")
    assert (status, err) == (1, "fretdrill: unknown line 'my-grove'; did you mean 'my-groove'?\n")


def test_own_line_by_name(run, home):
    home.lines.mkdir(parents=True)
    (home.lines / "my-groove.abc").write_text(SONG)
    (home.lines / "riff.mid").write_bytes(MIDI)
    assert run("plan", "my-groove")[0] == 0
    assert run("plan", "riff")[1].startswith("Bass: ")
    assert run("check", "my-groove", "riff")[0] == 0


@pytest.mark.parametrize("name", ["", "-", "daily"])
def test_no_line_of_that_name(refused, name):
    status, err = refused("plan", name)
    assert (status, f"unknown line '{name}'" in err) == (1, True)


def test_missing_file_and_folder(refused):
    assert refused("plan", "gone.abc") == (1, "fretdrill: there is no file gone.abc\n")
    assert refused("plan", "no/where.mid")[0] == 1
    Path("folder.abc").mkdir()
    for name in (".", "folder.abc"):
        assert refused("plan", name) == (1, f"fretdrill: {name} is a folder, not a file\n")


@pytest.mark.parametrize(
    "content",
    [
        b"", b"\n", b"\0" * 64, bytes(range(256)) * 8, b"PK\3\4rest", b"MThd", b"RIFF1234",
        b"MThd\0\0\0\6\0\1\0\1\0\x60MTrk\xff\xff\xff\xff", b"\xff\xfeX\0:\0", b"X:1\nK:C\n",
        b"X:1\nK:C\nz4|\n", b"X:1\nM:0/0\nK:C\nC4\n", b"\x89PNG\r\n\x1a\n" + b"\xaa" * 99,
        smf(b""), smf(), b"Just words, no music.",
    ],
)  # fmt: skip
@pytest.mark.parametrize("name", ["junk.abc", "junk.mid"])
def test_junk_is_refused(refused, name, content):
    Path(name).write_bytes(content)
    assert refused("plan", name)[0] == 1
    assert refused("plan", name, "--json")[0] == 1


def test_no_line_at_all(refused):
    status, err = refused("plan")
    assert (status, "LINE" in err) == (2, True)


@pytest.mark.parametrize(
    "arguments", [("song.abc", "more"), ("song.abc", "--jsn"), ("--temp", "3")]
)
def test_words_that_mean_nothing(refused, arguments):
    assert refused("plan", *arguments)[0] == 2


def test_mistyped_option_names_the_nearest(refused):
    assert "--json" in refused("plan", "song.abc", "--jsn")[1]


# Where it is written


def test_notices_go_to_stderr_and_into_the_object(run):
    Path("chord.abc").write_text(abc_text("[C,,E,,]4|"))
    status, out, err = run("plan", "chord.abc")
    assert status == 0
    assert err.startswith("fretdrill: ")
    assert err.count("\n") == 1
    notice = err.removeprefix("fretdrill: ").strip()
    assert notice not in out
    status, out, err = run("plan", "chord.abc", "--json")
    assert (status, err) == (0, "")
    assert json.loads(out)["dropped"] == [notice]


def test_title_cannot_steer_the_terminal(run):
    Path("it.mid").write_bytes(written([(0, 480, 40)], name="\x1b[2J\x07name"))
    status, out, _ = run("plan", "it.mid")
    assert status == 0
    assert all(sign.isprintable() or sign == "\n" for sign in out)
    assert json.loads(run("plan", "it.mid", "--json")[1])["line"]["title"]


def test_settings_of_the_player_hold(run, plan, home):
    from fretdrill.practice.settings import load_settings

    assert load_settings(home.settings).neck.frets == plan()["neck"]["frets"]


def test_same_again(run):
    assert run("plan", "song.abc", "--best", "5") == run("plan", "song.abc", "--best", "5")
    assert run("plan", "song.abc", "--json") == run("plan", "song.abc", "--json")


def program(*arguments: str, **environment: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "fretdrill", *arguments],
        capture_output=True,
        encoding="utf-8",
        env={**os.environ, "PYTHONIOENCODING": "utf-8", **environment},
        check=False,
    )


def test_the_program_itself(tmp_path):
    path = tmp_path / "song.abc"
    path.write_text(SONG)
    done = program("plan", str(path), "--json")
    assert (done.returncode, done.stderr) == (0, "")
    assert json.loads(done.stdout)["line"]["notes"] == 6
    done = program("plan", str(path), PYTHONIOENCODING="ascii")
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.isascii()
    assert "?" not in done.stdout


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="no /dev/full here")
def test_full_disk(tmp_path):
    path = tmp_path / "song.abc"
    path.write_text(SONG)
    with open("/dev/full", "w") as full:
        done = subprocess.run(
            [sys.executable, "-m", "fretdrill", "plan", str(path)],
            stdout=full,
            stderr=subprocess.PIPE,
            encoding="utf-8",
            check=False,
        )
    assert done.returncode == 1
    assert done.stderr == "fretdrill: what was written does not fit on the disk\n"
