"""Fixtures that every test shares."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

from fretdrill.practice.home import Home

# Whether examples are made quickly says something of the machine and its other work alone.
settings.register_profile("busy", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("busy")


class FakeClock:
    """A clock that moves only when it is told to."""

    def __init__(self) -> None:
        self.now = 1000.0

    def advance(self, seconds: float) -> None:
        self.now += seconds

    def seconds(self) -> float:
        return self.now

    def unix_ms(self) -> int:
        return 1_790_000_000_000 + round(self.now * 1000)

    def local(self) -> datetime:
        return datetime(2026, 11, 25, 18, 0, tzinfo=UTC) + timedelta(seconds=self.now)


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Home:
    """Keep every test away from the developer's own files and terminal habits."""
    folder = tmp_path / "home"
    monkeypatch.setenv("FRETDRILL_HOME", str(folder))
    for name in ("NO_COLOR", "COLORFGBG", "COLORTERM", "TEXTUAL_THEME"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("TERM", "xterm-256color")
    return Home(folder, folder, folder)


@pytest.fixture
def clock() -> FakeClock:
    return FakeClock()
