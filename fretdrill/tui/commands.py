"""Commands: one declaration gives the key, the footer, the palette and the help.

A screen lists its commands; the keys can be changed in the settings file by the
command's id, as ``[keys.commands]`` with lines such as ``"drill.give-up" = "f4"``.
"""

from collections.abc import Iterable
from typing import NamedTuple

from textual.binding import Binding, BindingType


class Command(NamedTuple):
    """Something a player can do on a screen.

    Attributes:
        id: stable name, ``screen.verb``.
        keys: keys as Textual names them, separated by commas.
        label: a word or two, for the footer and the palette.
        help: what it does, in a sentence.
        action: name of the screen's action method, without ``action_``.
        in_footer: whether the footer shows it.
        priority: whether it goes before the focused widget's own keys.

    """

    id: str
    keys: str
    label: str
    help: str
    action: str
    in_footer: bool = True
    priority: bool = False

    @property
    def binding(self) -> Binding:
        """The command as Textual takes it."""
        first = self.keys.split(",")[0]
        return Binding(
            self.keys,
            self.action,
            self.label,
            id=self.id,
            show=self.in_footer,
            priority=self.priority,
            tooltip=self.help,
            key_display=key_name(first),
        )


def key_name(key: str) -> str:
    """Return what is printed on a key, from what Textual calls it."""
    *held, last = key.split("+")
    if held and len(last) == 1:
        last = last.upper()
    names = [
        _KEY_NAMES.get(part, part.title() if len(part) > 1 else part) for part in (*held, last)
    ]
    return "+".join(names)


_KEY_NAMES = {
    "enter": "Enter",
    "space": "Space",
    "escape": "Esc",
    "ctrl": "Ctrl",
    "shift": "Shift",
    "question_mark": "?",
}


def key_names(keys: str) -> list[str]:
    """Return what is printed on keys that Textual names, separated by commas."""
    return [key_name(key) for key in keys.split(",")]


def bindings(commands: Iterable[Command]) -> list[BindingType]:
    """Return the bindings of some commands."""
    return [command.binding for command in commands]
