"""What the player has to be told, before there is a screen, while there is, and after."""

import threading
from collections.abc import Callable


class Notices:
    """Keeps notices until somebody listens.

    Attributes:
        waiting: what nobody has heard yet.
    """

    def __init__(self) -> None:
        self.waiting: list[str] = []
        self._listener: Callable[[str], None] | None = None
        self._lock = threading.Lock()

    def tell(self, notice: str) -> None:
        """Pass a notice on, or keep it; may be called from any thread."""
        with self._lock:
            if self._listener is None:
                self.waiting.append(notice)
            else:
                self._listener(notice)

    def listen(self, listener: Callable[[str], None] | None) -> None:
        """Hand everything to a listener from now on; None stops that."""
        with self._lock:
            self._listener = listener
            while listener is not None and self.waiting:
                listener(self.waiting.pop(0))
