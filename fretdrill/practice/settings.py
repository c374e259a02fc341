"""The player's settings: a TOML file, checked whole, written back in place.

Every value has a default, so no file is needed. Comments and keys that a person
wrote into the file stay when it is saved.
"""

import os
from collections.abc import Mapping, MutableMapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from fretdrill.engine import table
from fretdrill.engine.player import Player
from fretdrill.engine.table import Setting
from fretdrill.errors import InputError, Located, ManyFaults
from fretdrill.hand.hand import MAX_SPAN_MM, MIN_SPAN_MM, SYSTEMS, Hand
from fretdrill.neck.geometry import MAX_SCALE_MM, MIN_SCALE_MM
from fretdrill.neck.neck import MAX_FRETS, MIN_FRETS, Neck
from fretdrill.neck.tuning import Tuning
from fretdrill.practice.files import read_text, write_whole
from fretdrill.theory.pitch import ACCIDENTALS

THEMES = ("auto", "dark", "light")

KEY_ROWS = {
    "qwerty": ("1234567890", "qwertyuiop", "asdfghjkl;", "zxcvbnm,./"),
    "qwertz": ("1234567890", "qwertzuiop", "asdfghjklö", "yxcvbnm,.-"),
    "azerty": ("&é\"'(-è_çà", "azertyuiop", "qsdfghjklm", "wxcvbn,;:!"),
    "nordic": ("1234567890", "qwertyuiop", "asdfghjklö", "zxcvbnm,.-"),
    "dvorak": ("1234567890", "',.pyfgcrl", "aoeuidhtns", ";qjkxbmwvz"),
}
"""Keyboard layout → its four rows of ten keys, top to bottom."""

ROWS, KEYS_A_ROW = 4, 10
OWN_LAYOUT = "own"


@dataclass(frozen=True)
class Settings:
    """All that a player can set.

    Attributes:
        neck, hand, accidentals: see :class:`fretdrill.engine.player.Player`.
        left_handed: draw the neck mirrored.
        ascii_only: draw with ASCII signs alone.
        theme: one of :data:`THEMES`.
        key_hints: show on the neck which key marks which place.
        key_rows: four rows of keys that stand for strings.
        commands: command id → keys, where the player changed them.
    """

    neck: Neck = field(default_factory=Neck)
    hand: Hand = field(default_factory=Hand)
    accidentals: str = "flats"
    left_handed: bool = False
    ascii_only: bool = False
    theme: str = "auto"
    key_hints: bool = True
    key_rows: tuple[str, ...] = KEY_ROWS["qwerty"]
    commands: Mapping[str, str] = field(default_factory=dict)

    @property
    def player(self) -> Player:
        """What drills need to know of the player."""
        return Player(self.neck, self.hand, self.accidentals)

    @property
    def key_layout(self) -> str:
        """The name of the keyboard layout, ``"own"`` if it is none of the presets."""
        return next((name for name, rows in KEY_ROWS.items() if rows == self.key_rows), OWN_LAYOUT)


def _key_rows(value: Any) -> tuple[str, ...]:
    if isinstance(value, str):
        return KEY_ROWS[table.one_of("keyboard layout", tuple(KEY_ROWS))(value)]
    rows = table.list_of(table.text)(value)
    if len(rows) != ROWS:
        raise InputError(f"there are {len(rows)} rows; a keyboard has {ROWS}, top to bottom")
    long = next((row for row in rows if len(row) > KEYS_A_ROW), None)
    if long is not None:
        raise InputError(f"the row '{long}' has more than {KEYS_A_ROW} keys")
    keys = "".join(rows)
    twice = sorted({key for key in keys if keys.count(key) > 1})
    if twice:
        raise InputError(f"the key '{twice[0]}' stands twice")
    return rows


def _commands(value: Any) -> dict[str, str]:
    if not isinstance(value, Mapping):
        raise InputError("is not a table of command = key")
    return {str(name): table.text(keys) for name, keys in value.items()}


SECTIONS: dict[str, dict[str, Setting]] = {
    "neck": {
        "tuning": Setting(lambda value: Tuning.parse(table.text(value))),
        "frets": Setting(table.whole_number(MIN_FRETS, MAX_FRETS), 24),
        "scale_mm": Setting(table.number(MIN_SCALE_MM, MAX_SCALE_MM), Neck.scale_mm),
    },
    "hand": {
        "size": Setting(lambda value: Hand.parse(_size(value)).size, "medium"),
        "system": Setting(table.one_of("finger system", SYSTEMS), "reach"),
        "pace": Setting(lambda value: Hand.parse("medium", pace=_words(value)).pace_name, "steady"),
    },
    "notes": {"accidentals": Setting(table.one_of("accidentals", ACCIDENTALS), "flats")},
    "screen": {
        "left_handed": Setting(table.flag, False),
        "ascii": Setting(table.flag, False),
        "theme": Setting(table.one_of("theme", THEMES), "auto"),
        "key_hints": Setting(table.flag, True),
    },
    "keys": {
        "rows": Setting(_key_rows, KEY_ROWS["qwerty"]),
        "commands": Setting(_commands, {}),
    },
}


def _words(value: Any) -> str:
    return str(value) if isinstance(value, float) else table.text(value)


def _size(value: Any) -> str:
    if isinstance(value, int | float) and not isinstance(value, bool):
        return f"{table.number(MIN_SPAN_MM, MAX_SPAN_MM)(value):g} mm"
    return table.text(value)


def read_settings(content: Mapping[str, Any], source: str) -> Settings:
    """Build settings from a table of sections.

    Raises:
        ManyFaults: all that is wrong with it.
    """
    sections = {name: Setting(_is_section, {}) for name in SECTIONS}
    written, faults = table.read_table(content, sections, source)
    values: dict[str, dict[str, Any]] = {}
    for name, settings in SECTIONS.items():
        values[name], section_faults = table.read_table(written[name], settings, source, name)
        faults += section_faults
    if faults:
        raise ManyFaults(faults)
    neck, screen = values["neck"], values["screen"]
    try:
        return Settings(
            neck=Neck(neck["tuning"] or Tuning.parse("4-string"), neck["frets"], neck["scale_mm"]),
            hand=Hand.parse(**values["hand"]),
            accidentals=values["notes"]["accidentals"],
            left_handed=screen["left_handed"],
            ascii_only=screen["ascii"],
            theme=screen["theme"],
            key_hints=screen["key_hints"],
            key_rows=values["keys"]["rows"],
            commands=values["keys"]["commands"],
        )
    except InputError as fault:  # each value is sound, but not together
        raise ManyFaults([Located(source, "neck", str(fault))]) from fault


def _is_section(value: Any) -> Any:
    if not isinstance(value, dict):
        raise InputError("is not a table")
    return value


def load_settings(path: Path) -> Settings:
    """Read the settings file; defaults where there is none.

    Raises:
        ManyFaults: all that is wrong with it.
        InputError: it cannot be read.
    """
    if not os.path.exists(path):  # unlike Path.exists, False where it may not be looked at
        return Settings()
    return read_settings(table.parse_toml(read_text(path), str(path)), str(path))


def save_settings(path: Path, settings: Settings) -> None:
    """Write the settings into the file, keeping what else a person wrote there.

    Raises:
        OSError: the file cannot be written; the old one is then still whole.
        InputError: what is in the way cannot be read or is not TOML.
    """
    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    try:
        there = os.path.exists(path)
        document = tomlkit.parse(read_text(path)) if there else tomlkit.document()
    except TOMLKitError as fault:
        raise InputError(f"{path} is not TOML any more: {fault}") from fault
    for name, values in as_sections(settings).items():
        if name not in document:
            document[name] = tomlkit.table()
        section: Any = document[name]
        if not isinstance(section, MutableMapping):
            raise InputError(f"{path}: {name} is not a table any more")
        for key, value in values.items():
            if section.get(key) != value:
                section[key] = value
    write_whole(path, tomlkit.dumps(document))


def as_sections(settings: Settings) -> dict[str, dict[str, Any]]:
    """Return settings as the file has them; commands only if there are any."""
    tuning, layout = settings.neck.tuning, settings.key_layout
    return {
        "neck": {
            "tuning": tuning.preset or str(tuning),
            "frets": settings.neck.frets,
            "scale_mm": settings.neck.scale_mm,
        },
        "hand": {
            "size": settings.hand.size,
            "system": settings.hand.system,
            "pace": settings.hand.pace_name,
        },
        "notes": {"accidentals": settings.accidentals},
        "screen": {
            "left_handed": settings.left_handed,
            "ascii": settings.ascii_only,
            "theme": settings.theme,
            "key_hints": settings.key_hints,
        },
        "keys": {
            "rows": list(settings.key_rows) if layout == OWN_LAYOUT else layout,
            **({"commands": dict(settings.commands)} if settings.commands else {}),
        },
    }
