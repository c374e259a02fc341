"""Playing a line through on the neck after its verdict, note by note."""

from collections.abc import Callable, Sequence

from textual.timer import Timer
from textual.widget import Widget

from fretdrill.presentation.line_view import Frame
from fretdrill.presentation.neck_drawing import NeckView

FIRST_S = 1.0  # time to see the verdict before anything moves


class PlayThrough:
    """Shows frames one after another; a key goes through them by hand."""

    def __init__(self, owner: Widget, show: Callable[[NeckView], None]) -> None:
        """Prepare.

        Args:
            owner: whose timer it uses.
            show: shows what is seen on the neck.
        """
        self._owner = owner
        self._show = show
        self._frames: Sequence[Frame] = ()
        self._at = 0
        self._timer: Timer | None = None

    @property
    def has_frames(self) -> bool:
        """Whether there is something to play."""
        return bool(self._frames)

    def start(self, frames: Sequence[Frame]) -> None:
        """Play frames from the first."""
        self.stop()
        self._frames = frames
        self._at = -1
        if frames:
            self._timer = self._owner.set_timer(FIRST_S, self._next)

    def stop(self) -> None:
        """Forget the frames."""
        self._pause()
        self._frames = ()

    def again(self) -> None:
        """Play the same frames once more."""
        frames = self._frames
        self.start(frames)
        if frames:
            self._pause()
            self._next()

    def step(self, by: int) -> bool:
        """Go to another frame by hand; False if there is nothing to play."""
        if not self._frames:
            return False
        self._pause()
        self._at = min(max(0, self._at + by), len(self._frames) - 1)
        self._show(self._frames[self._at].view)
        return True

    def _pause(self) -> None:
        if self._timer is not None:
            self._timer.stop()
            self._timer = None

    def _next(self) -> None:
        self._at += 1
        frame = self._frames[self._at]
        self._show(frame.view)
        if self._at + 1 < len(self._frames):
            self._timer = self._owner.set_timer(frame.seconds, self._next)
