"""What README.md and DEVELOPERS.md show is what the program does."""

import re
import shlex
from pathlib import Path
from random import Random

import pytest

from fretdrill.cli import main
from fretdrill.cli_parser import parse
from fretdrill.engine.drill import Drill, Standing
from fretdrill.engine.kinds.ahead import AheadStage
from fretdrill.engine.lines import Lines
from fretdrill.engine.packs import read_pack
from fretdrill.engine.piece import Piece
from fretdrill.engine.player import Player
from fretdrill.engine.question import Answer, Fingering, Shown
from fretdrill.engine.registry import KINDS
from fretdrill.hand.hand import Hand
from fretdrill.neck.neck import Neck, Place
from fretdrill.practice.library import find_line
from fretdrill.practice.session import judge
from fretdrill.presentation.neck_drawing import draw_neck
from fretdrill.presentation.neck_layout import lay_out
from fretdrill.presentation.question_view import question_view
from fretdrill.presentation.sheet import question_sheet
from fretdrill.presentation.words import Words
from tests.engine.cases import stage

ROOT = Path(__file__).resolve().parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
COLUMNS = 78
WRONG = 4  # the finger given in place of the easiest one


def blocks(language: str) -> list[str]:
    return re.findall(rf"^```{language}\n(.*?)^```", README, re.MULTILINE | re.DOTALL)


def picture() -> str:
    """Answer D in fifth position half rightly, and draw what the app draws."""
    words, player = Words(), Player(Neck(), Hand())
    drill = Drill("find", (stage("position 5", "D"),))
    question = drill.ask(player, 0, Random(1), Standing({}))
    verdict = judge(question, Answer(frozenset({Place(3, 5), Place(2, 6)}), 3.4), 9.0)
    layout = lay_out(player.neck, question.scope.frets(player.neck), COLUMNS)
    drawing = draw_neck(question_view(question, words, verdict=verdict), layout)
    lines = [
        f"{words.task(question)}  ({words.hint(question)})",
        "",
        *drawing.lines,
        "",
        words.verdict(verdict),
        *words.reasons(verdict),
    ]
    return "".join(f" {line}".rstrip() + "\n" for line in lines)


def look_ahead() -> str:
    """Take the next two notes with a finger that leaves none, and print what comes of it."""
    words, player = Words(), Player(Neck(), Hand())
    piece = Piece("walk-up", find_line("walk-up", None).line)
    stage_of_two = AheadStage(Lines((piece,)), 2, Shown.PLACES)
    kind = KINDS["ahead"]
    question = kind.ask(player, stage_of_two, "walk-up:12")
    best = question.right
    assert isinstance(best, Fingering)
    given = Fingering((best.choices[0]._replace(finger=WRONG), *best.choices[1:]))
    verdict = judge(question, Answer(given, 4.2), 9.0)
    lines = [
        words.task(question),
        "",
        *question_sheet(question, words, 0, verdict=verdict),
        "",
        words.verdict(verdict),
        *words.reasons(verdict),
    ]
    return "".join(f"{line}\n" for line in lines)


def test_the_verdict_on_coming_notes_is_what_is_said() -> None:
    assert look_ahead() in blocks("text")


def test_the_picture_is_what_is_drawn() -> None:
    assert blocks("text")[0] == picture()


def test_the_plan_is_what_is_printed(capsys, monkeypatch) -> None:
    (printed,) = (block for block in blocks("text") if block.startswith("$ fretdrill plan"))
    command, shown = printed.split("\n", 1)
    monkeypatch.setenv("COLUMNS", "80")
    assert main(shlex.split(command.removeprefix("$ fretdrill "))) == 0
    assert capsys.readouterr().out.startswith(shown)


def test_the_example_pack_is_sound() -> None:
    (pack,) = blocks("toml")
    shipped = find_line("walk-up", None).line  # stands for the player's own song too
    drills = read_pack(pack, "README.md", lambda name: shipped).drills
    assert [drill.kind for drill in drills] == ["find", "name", "ahead", "ahead", "chord", "read"]


@pytest.mark.parametrize(
    "line", re.findall(r"^    fretdrill ((?:drill|plan|check|open) .*?)  +\S", README, re.MULTILINE)
)
def test_every_example_is_understood(line: str) -> None:
    assert parse(shlex.split(line)).command == line.split()[0]


def test_the_folder_map_is_true() -> None:
    told = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    told_map = told[told.index("    fretdrill/") : told.index("Arrows go one way")]
    folders = re.findall(r"^ +(\w+)/ ", told_map, re.MULTILINE)
    packages = (path.parent.name for path in (ROOT / "fretdrill").rglob("*/__init__.py"))
    assert set(packages) <= {*folders, "screens", "widgets"}
