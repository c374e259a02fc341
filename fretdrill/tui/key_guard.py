"""Telling a key that is held down from one that is pressed again.

Terminals report neither release nor repeat; a held key comes as a stream of equal
events, the second after a quarter to two thirds of a second (common settings, no
source), the rest close behind. So an event is taken for a repeat if the event just
before it was the same key, less than :data:`HELD_S` ago. Any other key in between
means that the first was let go.
"""

HELD_S = 0.7


class KeyGuard:
    """Remembers the last key."""

    def __init__(self) -> None:
        self._key = ""
        self._at = 0.0

    def is_repeat(self, key: str, now_s: float) -> bool:
        """Take note of a key and say whether it is held down since the last.

        Args:
            key: the key's name.
            now_s: seconds on any clock that does not run backwards.

        """
        held = key == self._key and now_s - self._at < HELD_S
        self._key, self._at = key, now_s
        return held
