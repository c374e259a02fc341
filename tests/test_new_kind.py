"""The kind that DEVELOPERS.md shows how to add works wherever kinds do."""

import io
import re
from pathlib import Path
from typing import Any

import pytest

from fretdrill import cli
from fretdrill.engine import registry
from fretdrill.engine.packs import read_pack
from fretdrill.practice.home import Home
from fretdrill.practice.program import Program
from fretdrill.practice.session import State
from tests.conftest import FakeClock
from tests.tui.stage import on_stage

ROOT = Path(__file__).resolve().parents[1]
PACK = 'title = "Low"\n[[drill]]\nkind = "lowest"\nscope = "position 5"\nnotes = "A"\ncount = 2\n'


@pytest.fixture(autouse=True)
def lowest(monkeypatch: pytest.MonkeyPatch) -> None:
    """Do what the guide says: the module, and its line in the registry."""
    guide = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    (code,) = re.findall(r"^```python\n(.*?)^```", guide, re.MULTILINE | re.DOTALL)
    made: dict[str, Any] = {}
    exec(code, made)
    monkeypatch.setitem(registry.KINDS, "lowest", made["Lowest"]())


def test_in_plain_lines_and_by_the_command_line(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO("4/5\nanswer\n"))
    assert cli.main("drill lowest --position 5 --notes A --count 2 --plain".split()) == 0
    said = capsys.readouterr().out
    assert "Find every A in fifth position (V, frets 5 to 8), on the E string." in said
    assert "100 points: right" in said


async def test_on_the_screen_from_a_pack(home: Home, clock: FakeClock) -> None:
    program = Program.of_pack(read_pack(PACK, "low.toml"))
    async with on_stage(home, clock, program=program) as stage:
        await stage.press("z", "enter")  # A lies at the first key of the lowest row
        assert stage.drill.session.verdicts[-1].points == 100
        await stage.press("space", "f2")
        assert stage.state is State.JUDGED
        assert "E string, fret 5" in stage.text("#verdict")
