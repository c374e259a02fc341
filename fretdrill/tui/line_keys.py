"""Where a key takes the cursor in a line."""

from fretdrill.presentation.line_moments import Moments
from fretdrill.tui.widgets.tab import TabWidget


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
