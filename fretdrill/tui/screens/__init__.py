"""The screens, one class a file, each with its style sheet beside it."""


def command_ids() -> list[str]:
    """Return the id of every command, of the screens and of all of them."""
    from fretdrill.tui.commands import EVERYWHERE
    from fretdrill.tui.screens.drill import DrillScreen
    from fretdrill.tui.screens.help import HelpScreen
    from fretdrill.tui.screens.result import ResultScreen
    from fretdrill.tui.screens.setup import SetupScreen
    from fretdrill.tui.screens.today import TodayScreen

    screens = (TodayScreen, DrillScreen, ResultScreen, SetupScreen, HelpScreen)
    commands = [command for screen in screens for command in screen.ACTIONS]
    return [command.id for command in (*commands, *EVERYWHERE)]
