"""Commands: one declaration gives the key, the key line, the palette and the help.

A screen lists its commands; the keys can be changed in the settings file by the
command's id, as ``[keys.commands]`` with lines such as ``"drill.give-up" = "f4"``.
"""

from collections.abc import Iterable
from typing import NamedTuple

from textual.binding import Binding, BindingType

_KEY_NAMES = {
    "enter": "Enter",
    "space": "Space",
    "escape": "Esc",
    "ctrl": "Ctrl",
    "shift": "Shift",
    "question_mark": "?",
}


class Command(NamedTuple):
    """Something a player can do.

    Attributes:
        id: stable name, ``screen.verb``; without a screen where it is everywhere.
        keys: keys as Textual names them, separated by commas.
        label: a word or two, for the key line and the palette.
        help: what it does, in a sentence.
        action: name of the action method without ``action_``, after ``app.`` where
            it is the app's.
        in_line: whether the key line shows it.
        priority: whether it goes before the focused widget's own keys.
    """

    id: str
    keys: str
    label: str
    help: str
    action: str
    in_line: bool = True
    priority: bool = False

    @property
    def binding(self) -> Binding:
        """The command as Textual takes it."""
        return Binding(self.keys, self.action, self.label, id=self.id, priority=self.priority)


EVERYWHERE = (
    Command("help", "question_mark,f1", "Help", "What this screen is for, its keys.", "app.help"),
    Command("palette", "ctrl+p", "Find", "Find a command by its name.", "app.palette", False),
    Command("quit", "ctrl+q,ctrl+c", "Quit", "Leave fretdrill.", "app.quit", False, True),
)
"""What can be done on every screen."""


def bindings(commands: Iterable[Command]) -> list[BindingType]:
    """Return the bindings of some commands."""
    return [command.binding for command in commands]


def key_name(key: str) -> str:
    """Return what is printed on a key, from what Textual calls it."""
    *held, last = key.split("+")
    if held and len(last) == 1:
        last = last.upper()
    names = [
        _KEY_NAMES.get(part, part.title() if len(part) > 1 else part) for part in (*held, last)
    ]
    return "+".join(names)


def key_names(keys: str) -> list[str]:
    """Return what is printed on keys that Textual names, separated by commas."""
    return [key_name(key) for key in keys.split(",")]
