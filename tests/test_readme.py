"""What README.md and DEVELOPERS.md show is what the program does."""

import re
import shlex
from pathlib import Path
from random import Random

import pytest

from fretdrill.cli import main
from fretdrill.cli_options import parse
from fretdrill.engine.drill import Drill, Standing
from fretdrill.engine.packs import read_pack
from fretdrill.engine.player import Player
from fretdrill.engine.question import Answer
from fretdrill.hand.hand import Hand
from fretdrill.neck.neck import Neck, Place
from fretdrill.practice.session import judge
from fretdrill.presentation.neck_drawing import draw_neck
from fretdrill.presentation.neck_layout import lay_out
from fretdrill.presentation.question_view import question_view
from fretdrill.presentation.words import Words
from tests.engine.cases import stage

ROOT = Path(__file__).resolve().parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
COLUMNS = 78


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


def test_the_picture_is_what_is_drawn() -> None:
    assert blocks("text")[0] == picture()


def test_the_plan_is_what_is_printed(capsys, monkeypatch) -> None:
    command, shown = blocks("text")[1].split("\n", 1)
    monkeypatch.setenv("COLUMNS", "80")
    assert main(shlex.split(command.removeprefix("$ fretdrill "))) == 0
    assert capsys.readouterr().out.startswith(shown)


def test_the_example_pack_is_sound() -> None:
    (pack,) = blocks("toml")
    assert len(read_pack(pack, "README.md").drills) == 2


@pytest.mark.parametrize(
    "line", re.findall(r"^    fretdrill ((?:drill|plan|check) .*?)  +\S", README, re.MULTILINE)
)
def test_every_example_is_understood(line: str) -> None:
    assert parse(shlex.split(line)).command == line.split()[0]


def test_the_folder_map_is_true() -> None:
    told = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    told_map = told[told.index("    fretdrill/") : told.index("Arrows go one way")]
    folders = re.findall(r"^ +(\w+)/ ", told_map, re.MULTILINE)
    packages = (path.parent.name for path in (ROOT / "fretdrill").rglob("*/__init__.py"))
    assert set(packages) <= {*folders, "screens", "widgets"}
