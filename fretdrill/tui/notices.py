"""What the player has to be told, before there is a screen, while there is, and after."""

from collections.abc import Callable


class Notices:
    """Keeps notices until somebody listens.

    Attributes:
        waiting: what nobody has heard yet.

    """

    def __init__(self) -> None:
        self.waiting: list[str] = []
        self._listener: Callable[[str], None] | None = None

    def tell(self, notice: str) -> None:
        """Pass a notice on, or keep it; may be called from any thread."""
        if self._listener is None:
            self.waiting.append(notice)
        else:
            self._listener(notice)

    def listen(self, listener: Callable[[str], None] | None) -> None:
        """Hand everything to a listener from now on; None stops that."""
        self._listener = listener
        if listener is not None:
            while self.waiting:
                listener(self.waiting.pop(0))
