"""Today: the neck, the sessions there are, what was done before."""

from typing import TYPE_CHECKING, ClassVar

from rich.text import Text
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.widgets import Static

from fretdrill.errors import FretdrillError, InputError
from fretdrill.practice.start import DAILY
from fretdrill.presentation.neck_drawing import NeckView
from fretdrill.tui.commands import Command, bindings
from fretdrill.tui.screen import FretScreen

if TYPE_CHECKING:
    from textual.widgets import OptionList

    from fretdrill.engine.packs import Pack

SITTINGS_SHOWN = 4
TITLE_COLUMN = 18


class TodayScreen(FretScreen):
    """Where practice begins."""

    TITLE_WORD = "Today"
    PURPOSE = (
        "Choose a session and press Enter; the first one is for every day. Each question is "
        "answered on the neck, by a note's name, or by a finger, and scored by how right and how "
        "quick it was, against your own pace."
    )
    ACTIONS = (
        Command("today.start", "enter", "Start", "Start the session under the cursor.", "start"),
        Command("today.lines", "l", "Lines", "Written lines, and how to play them.", "lines"),
        Command("today.setup", "s", "Set-up", "Tuning, neck, hand, keys and colours.", "setup"),
        Command("today.quit", "q", "Quit", "Leave fretdrill.", "app.quit"),
    )
    BINDINGS: ClassVar[list[BindingType]] = bindings(ACTIONS)

    def __init__(self) -> None:
        """Begin with no packs read."""
        super().__init__()
        self._packs: dict[str, Pack] = {}
        self._loaded = False

    def compose_parts(self) -> ComposeResult:
        """Compose the screen."""
        yield Static("fretdrill", id="title", classes="title", markup=False)
        yield self.neck_widget()
        yield Static(id="past", markup=False)
        yield Static(id="safety", classes="quiet", markup=False)

    def load(self) -> None:
        """Read what is on disk; the neck has been painted before."""
        from textual.widgets.option_list import Option

        from fretdrill.practice.library import load_pack, pack_files
        from fretdrill.tui.widgets.pack_list import PackList

        options = PackList(id="packs", compact=True, markup=False)
        files = pack_files(self.fretdrill.practice.home.packs)
        faulty = []
        for name, path in files.items():
            try:
                self._packs[name] = load_pack(path, self.fretdrill.practice.home.lines)
            except InputError as fault:
                first = str(fault).splitlines()[0]
                faulty.append(Option(f"{name}: {first}", id=name, disabled=True))
        for name, pack in sorted(self._packs.items(), key=lambda item: (item[1].rank, item[0])):
            options.add_option(Option(_label(pack, pack.about), id=name))
        options.add_options(faulty)
        self.mount(options, after="#neck")
        options.highlighted = 0
        options.focus()
        self._loaded = True
        self._show_past()

    def on_screen_resume(self) -> None:
        """Show what has changed while another screen was open."""
        super().on_screen_resume()
        settings = self.fretdrill.settings
        self.neck.apply(ascii_only=settings.ascii_only, mirrored=settings.left_handed)
        self.neck.show(NeckView(settings.neck))
        if self._loaded:
            self._show_past()

    def _show_past(self) -> None:
        from fretdrill.presentation.words import SAFETY

        try:
            sittings = self.fretdrill.practice.sittings(SITTINGS_SHOWN)
        except FretdrillError as fault:  # a journal that must not be touched
            self.fretdrill.exit(fault)
            return
        lines = [self.words.sitting(sitting) for sitting in sittings]
        past = ["Last sessions", *lines] if lines else []
        self.query_one("#past", Static).update("\n".join(past))
        self.query_one("#safety", Static).update("" if lines else SAFETY)
        daily = self._packs.get(DAILY)
        if daily is not None:
            about = daily.about if lines else "Press Enter to start"
            self._list.replace_option_prompt(DAILY, _label(daily, about))

    @property
    def _list(self) -> "OptionList":
        from fretdrill.tui.widgets.pack_list import PackList

        return self.query_one("#packs", PackList)

    def on_option_list_option_selected(self, event: "OptionList.OptionSelected") -> None:
        """Start the session that was chosen."""
        from fretdrill.practice.program import Program

        pack = self._packs[str(event.option_id)]
        self.fretdrill.begin(Program.of_pack(pack))

    def action_start(self) -> None:
        """Start the session under the cursor."""
        if self._loaded:
            self._list.action_select()

    def action_lines(self) -> None:
        """Open the list of lines."""
        from fretdrill.tui.screens.lines import LinesScreen

        self.app.push_screen(LinesScreen())

    def action_setup(self) -> None:
        """Open Set-up."""
        from fretdrill.tui.screens.setup import SetupScreen

        self.app.push_screen(SetupScreen())


def _label(pack: "Pack", about: str) -> Text:
    questions = sum(drill.count for drill in pack.drills)
    label = Text(f"{pack.title:<{TITLE_COLUMN}}", "bold", end="")
    return Text.assemble(label, f"{questions:3} questions  {about}")
