"""Telling a key that is held down from one that is pressed again.

Terminals report neither release nor repeat; a held key comes as a stream of equal
events, the second after a quarter to two thirds of a second, the rest close behind
(common settings, no source). So an event that follows the same key is held down if
it is close behind, pressed anew if it is not; in between it may be either, and only
what comes next tells: another one close behind, or nothing.
"""

from enum import Enum

CLOSE_S = 0.12  # a held key's events, once they have begun, are closer than this
ANEW_S = 0.7  # no keyboard waits this long before it begins to repeat
WAIT_S = 0.15  # if nothing follows an unsure press for this long, it was one


class Press(Enum):
    """What an event of a key is."""

    ANEW = "pressed"
    HELD = "held down"
    UNSURE = "either"


class KeyGuard:
    """Remembers the last key."""

    def __init__(self) -> None:
        self._key = ""
        self._at = 0.0

    def take(self, key: str, now_s: float) -> Press:
        """Take note of a key and say what it is.

        Args:
            key: the key's name.
            now_s: seconds on any clock that does not run backwards.
        """
        since = now_s - self._at if key == self._key else ANEW_S
        self._key, self._at = key, now_s
        if since >= ANEW_S:
            return Press.ANEW
        return Press.HELD if since < CLOSE_S else Press.UNSURE

    def forget(self) -> None:
        """Take the next key for one that is pressed, whichever it is."""
        self._key = ""
