"""Three pictures of the screen, looked at by eye when they were taken.

Take them anew with ``pytest --snapshot-update`` after looking at what has changed.
"""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

from textual.pilot import Pilot

from fretdrill.practice.home import Home
from fretdrill.practice.program import Program
from fretdrill.practice.settings import Settings
from fretdrill.practice.start import Practice
from fretdrill.tui.app import FretdrillApp
from fretdrill.tui.notices import Notices
from tests.conftest import FakeClock
from tests.tui.stage import SEED, program

Compare = Callable[..., bool]


@contextmanager
def app_of(
    home: Home, clock: FakeClock, settings: Settings, asked: Program | None = None
) -> Iterator[FretdrillApp]:
    notices = Notices()
    with Practice(home, settings, notices.tell, clock) as practice:
        yield FretdrillApp(practice, notices, asked, SEED)


def after(clock: FakeClock, *keys: str) -> Callable[[Pilot[Any]], Any]:
    """Return what presses keys a second and a half apart, then lets all settle."""

    async def run(pilot: Pilot[Any]) -> None:
        await pilot.pause()
        for key in keys:
            clock.advance(1.5)
            await pilot.press(key)
        await pilot.pause()

    return run


def test_today_on_a_first_run(home: Home, clock: FakeClock, snap_compare: Compare) -> None:
    with app_of(home, clock, Settings()) as app:
        assert snap_compare(app, terminal_size=(80, 24), run_before=after(clock))


def test_a_verdict(home: Home, clock: FakeClock, snap_compare: Compare) -> None:
    with app_of(home, clock, Settings(), program("find", notes="D")) as app:
        keys = after(clock, "a", "q", "enter")
        assert snap_compare(app, terminal_size=(80, 24), run_before=keys)


def test_a_question_in_ascii(home: Home, clock: FakeClock, snap_compare: Compare) -> None:
    settings = Settings(ascii_only=True)
    with app_of(home, clock, settings, program("name", notes="key Eb major")) as app:
        keys = after(clock, "b", "b")
        assert snap_compare(app, terminal_size=(80, 24), run_before=keys)
