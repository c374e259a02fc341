"""The one place that asks the machine for the time.

Sessions are handed a clock, so that tests and replays can hand them another.
"""

import time
from datetime import datetime
from typing import Protocol


class Clock(Protocol):
    """What a session needs to know of time."""

    def seconds(self) -> float:
        """Return seconds since some fixed moment; they never run backwards."""

    def unix_ms(self) -> int:
        """Return Unix time in milliseconds, UTC."""

    def local(self) -> datetime:
        """Return local time with its zone."""


class SystemClock:
    """The machine's clocks."""

    def seconds(self) -> float:
        """Return monotonic seconds."""
        return time.monotonic()

    def unix_ms(self) -> int:
        """Return Unix time in milliseconds."""
        return time.time_ns() // 1_000_000

    def local(self) -> datetime:
        """Return local time."""
        return datetime.now().astimezone()
