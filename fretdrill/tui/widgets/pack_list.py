"""A list of packs to choose from."""

from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.widgets import OptionList


class PackList(OptionList, inherit_bindings=False):
    """The packs; Enter is left to the screen, so that the key line shows it."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "cursor_up", show=False),
        Binding("down", "cursor_down", show=False),
        Binding("home", "first", show=False),
        Binding("end", "last", show=False),
    ]
