"""Pins kept on disk: what a player settled about the notes of a line.

One TOML file a line, named after the line::

    line = "walk-up"
    notes = "5f0c…"          # a fingerprint: pins of other notes would be wrong
    [[pin]]
    note = 5                 # from 1
    finger = 2
    string = 3               # 1 = highest
    fret = 5

A file that is damaged is set aside, never deleted; one of a line whose notes have changed since
is left alone until there are new pins, and then kept as ``….old.toml``.
"""

import os
import re
from collections.abc import Callable, Mapping
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from hashlib import sha256
from pathlib import Path
from typing import Any

from fretdrill.engine import table
from fretdrill.engine.table import Setting
from fretdrill.errors import InputError, Located, ManyFaults, printable
from fretdrill.hand.states import Pin
from fretdrill.neck.neck import MAX_FRETS
from fretdrill.neck.tuning import MAX_STRINGS
from fretdrill.practice.files import read_text, set_aside, write_whole
from fretdrill.practice.library import LINE_ENDINGS
from fretdrill.practice.log import log_unexpected
from fretdrill.theory.line import Line

Pins = Mapping[int, Pin]
"""Note of a line, from 0 → what is settled about it."""

FINGERPRINT_DIGITS, NAME_DIGITS, MOST_NAME = 16, 8, 40
MOST_NOTES = 1_000_000


def _tables(value: Any) -> list[dict[str, Any]]:
    if not isinstance(value, list) or not all(isinstance(one, dict) for one in value):
        raise InputError("is not a list of tables")
    return value


_FILE = {
    "line": Setting(table.text, required=True),
    "notes": Setting(table.text, required=True),
    "pin": Setting(_tables, ()),
}
_PIN = {
    "note": Setting(table.whole_number(1, MOST_NOTES), required=True),
    "finger": Setting(table.whole_number(0, 4)),
    "string": Setting(table.whole_number(1, MAX_STRINGS)),
    "fret": Setting(table.whole_number(0, MAX_FRETS)),
    "position": Setting(table.whole_number(1, MAX_FRETS)),
}


@dataclass(frozen=True)
class FoundPins:
    """What was found on disk.

    Attributes:
        pins: the pins that hold.
        notice: what the player has to know, a sentence; empty if nothing.
    """

    pins: Pins = field(default_factory=dict)
    notice: str = ""


def fingerprint(line: Line) -> str:
    """Return what tells a line's notes from any other's: when, how long, which pitch."""
    notes = "\n".join(f"{note.onset} {note.duration} {note.pitch.midi}" for note in line.notes)
    return sha256(notes.encode()).hexdigest()[:FINGERPRINT_DIGITS]


def pins_file(folder: Path, name: str) -> Path:
    """Return the file of a line's pins; names that differ have files that differ.

    A path is one name however it is written.
    """
    whole = os.path.abspath(name) if name.lower().endswith(LINE_ENDINGS) else name
    digest = sha256(whole.encode("utf-8", "surrogatepass")).hexdigest()[:NAME_DIGITS]
    readable = re.sub(r"[^a-z0-9]+", "-", Path(name).stem.casefold()).strip("-")[:MOST_NAME]
    return folder / f"{readable or 'line'}-{digest}.toml"


def load_pins(folder: Path, name: str, line: Line) -> FoundPins:
    """Read a line's pins; whatever is wrong with the file, there is something to go on with."""
    path = pins_file(folder, name)
    if not os.path.exists(path):  # unlike Path.exists, False where it may not be looked at
        return FoundPins()
    try:
        notes, pins = _read(path, len(line.notes))
    except ManyFaults as fault:
        return FoundPins(notice=_set_aside(path, fault))
    except InputError as fault:
        return FoundPins(notice=f"The pins of this line cannot be read: {fault}.")
    if notes != fingerprint(line):
        return FoundPins(notice="The notes of this line have changed; its old pins are left out.")
    return FoundPins(pins)


def _set_aside(path: Path, fault: ManyFaults) -> str:
    first = fault.faults[0].message
    try:
        kept = set_aside(path)
    except OSError:
        return f"The pins of this line are damaged ({first}) and left out."
    return f"The pins of this line were damaged ({first}); the file is kept as {kept.name}."


def _read(path: Path, most_notes: int) -> tuple[str, dict[int, Pin]]:
    """Return the fingerprint and the pins in a file.

    Raises:
        ManyFaults: all that is wrong in it.
        InputError: it cannot be read.
    """
    content = _content(path)
    values, faults = table.read_table(content, _FILE, path.name)
    pins: dict[int, Pin] = {}
    for number, one in enumerate(values["pin"], start=1):
        settled, wrong = table.read_table(one, _PIN, path.name, f"pin[{number}]")
        faults += wrong
        if not wrong:
            note = settled.pop("note") - 1
            pins[note] = Pin(**settled)
    if faults:
        raise ManyFaults(faults)
    return str(values["notes"]), {note: pin for note, pin in pins.items() if note < most_notes}


def _content(path: Path) -> dict[str, Any]:
    try:
        text = read_text(path)
    except InputError as fault:
        if isinstance(fault.__cause__, UnicodeDecodeError):
            raise ManyFaults([Located(path.name, "", "it is not text")]) from fault
        raise
    return table.parse_toml(text, path.name)


def save_pins(folder: Path, name: str, line: Line, pins: Pins) -> None:
    """Write a line's pins; without any, its file goes.

    Raises:
        OSError: they cannot be written; what was there is still whole.
    """
    path, notes = pins_file(folder, name), fingerprint(line)
    if os.path.exists(path) and _notes_of(path) != notes:
        path.replace(path.with_name(f"{path.stem}.old{path.suffix}"))
    if pins:
        write_whole(path, _text(name, notes, pins))
    else:
        path.unlink(missing_ok=True)


def _notes_of(path: Path) -> str:
    try:
        return _read(path, MOST_NOTES)[0]
    except InputError:
        return ""


def _text(name: str, notes: str, pins: Pins) -> str:
    quoted = printable(name).replace("\n", "?").replace("\\", "\\\\").replace('"', '\\"')
    parts = [f'line = "{quoted}"\nnotes = "{notes}"\n']
    for note, pin in sorted(pins.items()):
        settled = {
            "note": note + 1,
            "finger": pin.finger,
            "string": pin.string,
            "fret": pin.fret,
            "position": pin.position,
        }
        rows = [f"{key} = {value}\n" for key, value in settled.items() if value is not None]
        parts.append("\n[[pin]]\n" + "".join(rows))
    return "".join(parts)


class PinKeeper:
    """Keeps pins on disk without making the player wait.

    One background thread writes in the order of the calls. Where writing fails, the player is
    told once, and the pins hold for as long as the line is open.
    """

    def __init__(self, folder: Path, tell: Callable[[str], None]) -> None:
        """Prepare to keep pins.

        Args:
            folder: where; it need not exist.
            tell: called from the writing thread if writing fails.
        """
        self._folder = folder
        self._tell = tell
        self._told = False
        self._writer = ThreadPoolExecutor(1, thread_name_prefix="pins")

    def load(self, name: str, line: Line) -> FoundPins:
        """Read a line's pins, after all that is still to be written; waits for the disk."""
        return self._writer.submit(load_pins, self._folder, name, line).result()

    def save(self, name: str, line: Line, pins: Pins) -> None:
        """Write a line's pins in the background."""
        self._writer.submit(self._save, name, line, dict(pins))

    def _save(self, name: str, line: Line, pins: Pins) -> None:
        try:
            save_pins(self._folder, name, line, pins)
        except OSError as fault:
            self._note(f"Pins cannot be kept: {fault.strerror or fault}. They hold for now.")
        except Exception as fault:  # on a thread of its own, nobody else would hear of it
            log_unexpected()
            self._note(f"Pins cannot be kept: {fault!r}. They hold for now.")
        else:
            self._told = False

    def _note(self, trouble: str) -> None:
        if not self._told:
            self._tell(trouble)
        self._told = True

    def close(self) -> None:
        """Write what is left."""
        self._writer.shutdown(wait=True)
