"""A program on a pseudo-terminal, timed from outside as a player would meet it."""

import fcntl
import os
import pty
import select
import struct
import termios
import time
from collections.abc import Mapping, Sequence
from types import TracebackType
from typing import Self

GAP_S = 0.004  # a frame is one write: after such a gap comes another frame, such as the clock's
REST_S = 0.03  # two frames between keys, quicker than anybody types
PATIENCE_S = 20.0


class Terminal:
    """Runs a program on a pseudo-terminal of its own."""

    def __init__(
        self,
        command: Sequence[str],
        environment: Mapping[str, str],
        rows: int = 24,
        columns: int = 80,
    ) -> None:
        self.started = time.perf_counter()
        self.seen = b""
        self.pid, self._fd = pty.fork()
        if self.pid == 0:
            size = struct.pack("HHHH", rows, columns, 0, 0)
            fcntl.ioctl(0, termios.TIOCSWINSZ, size)
            os.execvpe(command[0], list(command), dict(environment))

    def wait_for(self, text: bytes) -> float:
        """Return seconds from the start until a text has been written."""
        while text not in self.seen:
            if not self._read(PATIENCE_S):
                raise TimeoutError(f"{text!r} did not come; the end was {self.seen[-300:]!r}")
        return time.perf_counter() - self.started

    def press_until(self, keys: bytes, until: bytes) -> None:
        """Type, and read until a text has been written since."""
        before = len(self.seen)
        os.write(self._fd, keys)
        while until not in self.seen[before:]:
            if not self._read(PATIENCE_S):
                raise TimeoutError(f"after {keys!r} came no {until!r}: {self.seen[-300:]!r}")

    def settle(self, silence_s: float = 0.3) -> None:
        """Read until nothing more comes."""
        while self._read(silence_s):
            pass

    def press(self, keys: bytes) -> float:
        """Type, and return seconds until the last byte of the repaint."""
        before = time.perf_counter()
        os.write(self._fd, keys)
        if not self._read(PATIENCE_S):
            raise TimeoutError(f"{keys!r} painted nothing")
        last = time.perf_counter()
        while self._read(GAP_S):
            last = time.perf_counter()
        self.settle(REST_S)
        return last - before

    def _read(self, timeout_s: float) -> bool:
        ready, _, _ = select.select([self._fd], [], [], timeout_s)
        if not ready:
            return False
        try:
            data = os.read(self._fd, 65536)
        except OSError:
            return False
        self.seen += data
        return bool(data)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        fault: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        os.kill(self.pid, 9)
        os.waitpid(self.pid, 0)
        os.close(self._fd)
