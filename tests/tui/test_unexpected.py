"""An error that nobody foresaw: one line that names the log, no traceback."""

import os
import pty
import re
import select
import signal
import sys
from pathlib import Path

import pytest

from fretdrill.practice.home import Home
from fretdrill.tui.screens.drill import DrillScreen
from fretdrill.tui.screens.today import TodayScreen
from tests.conftest import FakeClock
from tests.tui.stage import Stage, attempts_in, on_stage, program

PATIENCE_S = 20


def boom(*_: object) -> None:
    raise ZeroDivisionError("the string broke")


@pytest.mark.parametrize(
    ("screen", "action", "keys"),
    [(TodayScreen, "action_start", ("enter",)), (DrillScreen, "action_give_up", ("enter", "f2"))],
)
async def test_an_error_in_a_handler_ends_the_app_with_one_line(
    home: Home,
    clock: FakeClock,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    screen: type,
    action: str,
    keys: tuple[str, ...],
) -> None:
    monkeypatch.setattr(screen, action, boom)
    stages: list[Stage] = []

    async def play() -> None:
        async with on_stage(home, clock) as stage:
            stages.append(stage)
            await stage.press(*keys)

    with pytest.raises(ZeroDivisionError):  # run_test passes it on; App.run does not
        await play()
    (stage,) = stages
    (line,) = stage.notices.waiting
    assert str(home.log) in line
    assert "\n" not in line
    assert stage.app.return_code
    log = home.log.read_text(encoding="utf-8")
    assert "Traceback" in log
    assert "the string broke" in log
    shown = capsys.readouterr()
    assert "Traceback" not in shown.out + shown.err


async def test_what_was_answered_before_the_error_is_kept(
    home: Home, clock: FakeClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(DrillScreen, "action_leave", boom)

    async def play() -> None:
        async with on_stage(home, clock, program=program("find")) as stage:
            await stage.press("f2", "escape")

    with pytest.raises(ZeroDivisionError):
        await play()
    assert attempts_in(home) == 1


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs a pseudo-terminal")
def test_on_a_real_terminal_too(home: Home) -> None:
    code = (
        "import sys\n"
        "from fretdrill.tui.screens.today import TodayScreen\n"
        "def boom(self): raise ZeroDivisionError('the string broke')\n"
        "TodayScreen.action_start = boom\n"
        "from fretdrill.cli import main\n"
        "sys.exit(main([]))\n"
    )
    pid, terminal = pty.fork()
    if pid == 0:
        os.chdir(Path(__file__).parents[2])
        os.execv(sys.executable, [sys.executable, "-c", code])
    try:
        shown = _read_until(terminal, b"Press Enter to start")
        os.write(terminal, b"\r")
        shown += _read_until(terminal, None)
        _, status = os.waitpid(pid, 0)
    except BaseException:
        os.kill(pid, signal.SIGKILL)
        os.waitpid(pid, 0)
        raise
    finally:
        os.close(terminal)
    text = shown.decode("utf-8", "replace")
    after = re.sub(r"\x1b\[[0-9;?<>=]*[a-zA-Z]", "", text.rpartition("\x1b[?1049l")[2])
    lines = [line for line in after.splitlines() if line.strip()]
    assert len(lines) == 1, lines
    assert lines[0].startswith("fretdrill: ")
    assert str(home.log) in lines[0]
    assert "Traceback" not in text
    assert os.waitstatus_to_exitcode(status) == 3


def _read_until(terminal: int, mark: bytes | None) -> bytes:
    """Read what a terminal shows, until a mark is seen or, without one, until it ends."""
    shown = b""
    while mark is None or mark not in shown:
        ready, _, _ = select.select([terminal], [], [], PATIENCE_S)
        assert ready, f"nothing more came after {shown[-500:]!r}"
        try:
            part = os.read(terminal, 65536)
        except OSError:  # how Linux says that the other end is closed
            part = b""
        if not part:
            assert mark is None, f"it ended after {shown[-500:]!r}"
            return shown
        shown += part
    return shown
