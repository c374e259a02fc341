"""The screens, one class a file, each with its style sheet beside it."""

import unicodedata
from collections.abc import Iterator, Mapping

from textual.keys import Keys

from fretdrill.errors import UnknownName
from fretdrill.tui.commands import Command


def commands_by_screen() -> list[list[Command]]:
    """Return the commands that each screen knows, those of every screen included."""
    from fretdrill.tui.screens.drill import DrillScreen
    from fretdrill.tui.screens.help import HelpScreen
    from fretdrill.tui.screens.line import LineScreen
    from fretdrill.tui.screens.lines import LinesScreen
    from fretdrill.tui.screens.result import ResultScreen
    from fretdrill.tui.screens.setup import SetupScreen
    from fretdrill.tui.screens.today import TodayScreen

    screens = (
        TodayScreen,
        DrillScreen,
        ResultScreen,
        LinesScreen,
        LineScreen,
        SetupScreen,
        HelpScreen,
    )
    return [screen.commands() for screen in screens]


def faults_of_keys(changed: Mapping[str, str]) -> Iterator[str]:
    """Yield what is wrong with a player's own keys.

    Args:
        changed: command id → keys, separated by commas.
    """
    screens = commands_by_screen()
    known = list(dict.fromkeys(command.id for commands in screens for command in commands))
    for name, keys in changed.items():
        if name not in known:
            yield str(UnknownName("command", name, known))
        for key in keys.split(","):
            if not _is_key(key.strip()):
                yield f"{name}: there is no key '{key}'; write for example f4, ctrl+k or x"
    for commands in screens:
        yield from _clashes(commands, changed)


def _clashes(commands: list[Command], changed: Mapping[str, str]) -> Iterator[str]:
    """Yield keys that two commands of one screen share where one of them was changed."""
    owners: dict[str, Command] = {}
    for command in commands:
        for key in changed.get(command.id, command.keys).split(","):
            owner = owners.setdefault(key.strip(), command)
            # Answer and Next share their keys as they come: never both can be done.
            alike = owner.keys == command.keys
            if not alike and {owner.id, command.id} & changed.keys():
                yield f"{owner.id} and {command.id} share the key '{key.strip()}'"


def _is_key(key: str) -> bool:
    base = key.rsplit("+", 1)[-1]
    if len(base) == 1 or base in {known.value for known in Keys}:
        return True
    try:  # Textual calls other keys by their Unicode names, such as question_mark
        unicodedata.lookup(base.replace("_", " ").upper())
    except KeyError:
        return False
    return True
