"""Set-up: the instrument, the hand, and how things are shown."""

from collections.abc import Iterator
from typing import Any, ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.widgets import Input, Label, Select, Static

from fretdrill.errors import InputError, ManyFaults
from fretdrill.hand.hand import PACES, SIZES, SYSTEMS, Hand
from fretdrill.hand.reach import resting_frets
from fretdrill.hand.shifts import shift_s
from fretdrill.neck.geometry import SCALES_INCHES, SCALES_MM
from fretdrill.neck.tuning import PRESETS
from fretdrill.practice.settings import (
    KEY_ROWS,
    OWN_LAYOUT,
    THEMES,
    Settings,
    read_settings,
    save_settings,
)
from fretdrill.presentation.neck_drawing import NeckView
from fretdrill.theory.pitch import ACCIDENTALS
from fretdrill.tui.commands import Command, bindings
from fretdrill.tui.screen import FretScreen

OWN = "own"
LABELS = {
    "neck": "Neck",
    "neck.tuning": "Tuning",
    "neck.frets": "Frets",
    "neck.scale_mm": "Scale length",
    "hand.size": "Hand",
}
"""Key of the settings file → label of the row that sets it, where it can be wrong."""
YES, NO = "yes", "no"
PREVIEW_POSITION = 1
SYSTEM_LABELS = {
    "reach": "1-2-4 low down, one per fret where comfortable",
    "one-per-fret": "one finger per fret everywhere",
    "1-2-4": "fingers 1, 2 and 4 everywhere",
}
ACCIDENTAL_LABELS = {"flats": "flats", "sharps": "sharps", "both": "both, in turn"}


class SetupScreen(FretScreen):
    """Lets the player say what they hold."""

    CSS_PATH = "setup.tcss"
    TITLE_WORD = "Set-up"
    PURPOSE = (
        "Say what you hold: tuning, frets, scale length, and your left hand. The neck above shows "
        "it at once, with your fingers in first position. Ctrl+S keeps it, Escape leaves things as "
        "they were."
    )
    ACTIONS = (
        Command("setup.save", "ctrl+s,f10", "Save", "Keep these settings.", "save", priority=True),
        Command("setup.cancel", "escape", "Cancel", "Leave things as they were.", "cancel"),
        Command("setup.next", "tab", "Next row", "Go to the next row.", "app.focus_next"),
    )
    MORE_KEYS = (
        ("Shift+Tab", "go back a row"),
        ("Enter", "open a row's choices, and take one; the arrows move among them"),
    )
    BINDINGS: ClassVar[list[BindingType]] = bindings(ACTIONS)

    def __init__(self) -> None:
        """Begin with nothing changed."""
        super().__init__()
        self._warned = False

    def compose_parts(self) -> ComposeResult:
        """Compose the form."""
        settings = self.fretdrill.practice.saved
        yield Static("Set-up", classes="title", markup=False)
        yield self.neck_widget()
        yield Static(id="faults", markup=False)
        with VerticalScroll(id="form", can_focus=False):
            yield from self._instrument(settings)
            yield from self._hand(settings)
            yield from self._display(settings)

    def _instrument(self, settings: Settings) -> Iterator[Horizontal]:
        neck = settings.neck
        tunings = [(f"{name}: {strings}", name) for name, strings in PRESETS.items()]
        yield _with_own("Tuning", "tuning", tunings, neck.tuning.preset, str(neck.tuning))
        yield _row("Frets", Input(str(neck.frets), id="frets", type="integer", compact=True))
        scales = [
            (f"{name}, {SCALES_INCHES[name]:g} in, {mm:g} mm", name)
            for name, mm in SCALES_MM.items()
        ]
        preset = next((name for name, mm in SCALES_MM.items() if mm == neck.scale_mm), None)
        yield _with_own("Scale length", "scale", scales, preset, f"{neck.scale_mm:g}")

    def _hand(self, settings: Settings) -> Iterator[Horizontal]:
        hand = settings.hand
        preset = hand.size if hand.size in SIZES else None
        sizes = [
            (f"{name}, {Hand(scale).span(1, 4).comfortable:.0f} mm from finger 1 to 4", name)
            for name, scale in SIZES.items()
        ]
        yield _with_own("Hand", "hand", sizes, preset, hand.size.removesuffix(" mm"))
        systems = [(SYSTEM_LABELS[name], name) for name in SYSTEMS]
        yield _row("Fingers", _select("system", systems, hand.system))
        paces = [
            (f"{name}: {1000 * shift_s(Hand(pace=pace), 5):.0f} ms for five frets", name)
            for name, pace in PACES.items()
        ]
        if hand.pace_name not in PACES:
            paces.append((f"{hand.pace_name} s a bit, from the settings file", hand.pace_name))
        yield _row("Shifts", _select("pace", paces, hand.pace_name))
        yield _row("Left-handed", _yes_or_no("left", settings.left_handed))

    def _display(self, settings: Settings) -> Iterator[Horizontal]:
        accidentals = [(ACCIDENTAL_LABELS[name], name) for name in ACCIDENTALS]
        yield _row("Accidentals", _select("accidentals", accidentals, settings.accidentals))
        layouts = [(name, name) for name in KEY_ROWS]
        if settings.key_layout == OWN_LAYOUT:
            layouts.append(("own, from the settings file", OWN_LAYOUT))
        yield _row("Keyboard", _select("keyboard", layouts, settings.key_layout))
        yield _row("Keys on neck", _yes_or_no("hints", settings.key_hints))
        yield _row("ASCII only", _yes_or_no("ascii", settings.ascii_only))
        yield _row("Theme", _select("theme", [(name, name) for name in THEMES], settings.theme))

    def on_mount(self) -> None:
        """Begin at the first row, with the neck as it is."""
        self.query_one("#tuning").focus()
        self._show()

    def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        """Mark the row in hand by its label, not by a shade alone."""
        for row in self.query(".setting"):
            row.set_class(row in event.widget.ancestors, "-in-hand")

    @on(Select.Changed)
    @on(Input.Changed)
    def _show(self) -> None:
        """Show the neck as the form has it, or what is wrong with the form."""
        for name in ("tuning", "scale", "hand"):
            own = self.query_one(f"#{name}", Select).value == OWN
            self.query_one(f"#{name}-own", Input).display = own
        faults = self.query_one("#faults", Static)
        try:
            settings = self.fretdrill.practice.adapted(self._settings())
        except ManyFaults as fault:
            faults.update("\n".join(f"{LABELS[f.key]}: {f.message}" for f in fault.faults))
            faults.set_class(True, "-some")
            return
        faults.set_class(False, "-some")
        self.neck.apply(ascii_only=settings.ascii_only, mirrored=settings.left_handed)
        fingers = resting_frets(settings.neck, settings.hand, PREVIEW_POSITION)
        text = self.words.hand_row(settings.neck, settings.hand, PREVIEW_POSITION)
        self.neck.show(NeckView(settings.neck, fingers=fingers, hand_text=text))

    def _settings(self) -> Settings:
        """Return what the form says.

        Raises:
            ManyFaults: all that is wrong with it.
        """
        scale = self._chosen("scale")
        layout, before = self._select_value("keyboard"), self.fretdrill.practice.saved
        table: dict[str, dict[str, Any]] = {
            "neck": {
                "tuning": self._chosen("tuning"),
                "frets": _number(self.query_one("#frets", Input).value),
                "scale_mm": SCALES_MM.get(scale, _number(scale)),
            },
            "hand": {
                "size": self._chosen("hand"),
                "system": self._select_value("system"),
                "pace": self._select_value("pace"),
            },
            "notes": {"accidentals": self._select_value("accidentals")},
            "screen": {
                "left_handed": self._select_value("left") == YES,
                "ascii": self._select_value("ascii") == YES,
                "theme": self._select_value("theme"),
                "key_hints": self._select_value("hints") == YES,
            },
            "keys": {
                "rows": list(before.key_rows) if layout == OWN_LAYOUT else layout,
                "commands": dict(before.commands),
            },
        }
        return read_settings(table, "Set-up")

    def _select_value(self, name: str) -> str:
        return str(self.query_one(f"#{name}", Select).value)

    def _chosen(self, name: str) -> str:
        value = self._select_value(name)
        return self.query_one(f"#{name}-own", Input).value if value == OWN else value

    def action_save(self) -> None:
        """Keep the settings and go back."""
        try:
            settings = self._settings()
            save_settings(self.fretdrill.practice.home.settings, settings)
        except ManyFaults:
            self.notify("Not saved: see what is wrong above the form.", severity="error")
            return
        except (InputError, OSError) as fault:
            self.notify(f"Not saved: {fault}", severity="error", markup=False)
            return
        self.fretdrill.practice.saved = settings
        self.fretdrill.apply_settings()
        self.notify("Saved.", timeout=2)
        self.app.pop_screen()

    def action_cancel(self) -> None:
        """Go back; ask once more if something would be lost."""
        if self._warned or not self._is_changed():
            self.app.clear_notifications()
            self.app.pop_screen()
            return
        self._warned = True
        save, leave = map(self.fretdrill.key_of, self.ACTIONS[:2])
        self.notify(f"Not saved yet: {save} saves, {leave} again leaves things as they were.")

    def _is_changed(self) -> bool:
        try:
            return self._settings() != self.fretdrill.practice.saved
        except ManyFaults:
            return True


def _row(label: str, *widgets: Any) -> Horizontal:
    return Horizontal(Label(label), *widgets, classes="setting")


def _select(name: str, options: list[tuple[str, str]], value: str) -> Select[str]:
    return Select(options, value=value, allow_blank=False, id=name, compact=True)


def _yes_or_no(name: str, value: bool) -> Select[str]:
    # Not a checkbox: on and off would differ by colour alone.
    return _select(name, [(NO, NO), (YES, YES)], YES if value else NO)


def _with_own(
    label: str, name: str, options: list[tuple[str, str]], preset: str | None, own: str
) -> Horizontal:
    """Return a row that offers presets, and a field for anything else."""
    select = _select(name, [*options, ("own:", OWN)], preset or OWN)
    return _row(label, select, Input(own, id=f"{name}-own", compact=True))


def _number(text: str) -> float | int | str:
    """Return a number if the text is one, so that the reader can say what is wrong."""
    try:
        value = float(text)
    except ValueError:
        return text
    return int(value) if value.is_integer() else value
