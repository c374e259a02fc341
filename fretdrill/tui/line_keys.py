"""Where a key takes the cursor in a line, and which keys are worth telling."""

from collections.abc import Collection, Sequence

from fretdrill.presentation.line_moments import Moments
from fretdrill.tui.commands import Command
from fretdrill.tui.widgets.key_line import GAP
from fretdrill.tui.widgets.tab import TabWidget

Keys = Sequence[tuple[str, Command]]
"""What is printed on a key, and what it does."""


def note_by_key(key: str, note: int, moments: Moments, tab: TabWidget) -> int | None:
    """Return the note that a key goes to; None if it goes nowhere.

    Args:
        key: as Textual names it.
        note: where the cursor is, from 0.
        moments: the line's bars and notes.
        tab: the tab, whose systems depend on the window.
    """
    match key:
        case "left" | "right":
            return note + (1 if key == "right" else -1)
        case "ctrl+right":
            return moments.next_bar(note)
        case "ctrl+left":
            return moments.bar_before(note)
        case "home":
            return 0
        case "end":
            return len(moments.line.notes) - 1
        case "pageup" | "pagedown":
            return tab.next_system(1 if key == "pagedown" else -1)
    return None


def keys_that_fit(keys: Keys, columns: int, spare: Collection[str]) -> Keys:
    """Return the keys that fit a line, in their order.

    Args:
        keys: all of them.
        columns: the width.
        spare: ids of commands that are left out where there is no room, the first one first.
    """
    left = list(keys)
    for name in spare:
        if _width(left) <= columns:
            break
        left = [(key, command) for key, command in left if command.id != name]
    return left


def _width(keys: Keys) -> int:
    texts = [f"{key} {command.label}" for key, command in keys]
    return len(GAP.join(texts))
