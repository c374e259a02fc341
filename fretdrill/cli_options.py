"""What the options of the command line mean, and which of them a fault came from.

Values are read where they belong (:mod:`fretdrill.engine.table`, the neck, the
hand); here it is only named which option gave them.
"""

import argparse
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from fretdrill.errors import FretdrillError, InputError


class CommandLineFault(FretdrillError):
    """The command line cannot be understood."""


@contextmanager
def blaming(options: argparse.Namespace, *names: str) -> Iterator[None]:
    """Turn a fault in a value into one of the options that gave it."""
    try:
        yield
    except InputError as fault:
        raise CommandLineFault(f"{given_options(options, *names)}: {fault}") from fault


def given_options(options: argparse.Namespace, *names: str) -> str:
    """Return those of some options that were given, as they are written."""
    values = {name: getattr(options, name) for name in names}
    given = [name for name, value in values.items() if value is not None and value is not False]
    return ", ".join(f"--{name.replace('_', '-')}" for name in given)


LISTED = ("chord", "tones", "key", "together", "figure", "next", "shown", "reach")
NUMBERS = ("together", "next", "reach")
"""Options of a drill that may list several things with commas between, and which are numbers."""


def settings_given(options: argparse.Namespace) -> dict[str, Any]:
    """Return the settings of a drill that stand on the command line, as packs write them."""
    given: dict[str, Any] = {key: getattr(options, key) for key in ("line", "notes", "order")}
    given["scope"] = scope_words(options) or None
    for key in LISTED:
        text = getattr(options, key)
        parts = [part.strip() for part in (text or "").split(",")]
        items = [_item(part) for part in parts] if key in NUMBERS else parts
        given[key] = None if text is None else items
    return {key: value for key, value in given.items() if value is not None}


def _item(text: str) -> str | int:
    return int(text) if text.isdecimal() and len(text) < 5 else text


def option_of(key: str, options: argparse.Namespace) -> str:
    """Return the options that a drill's setting was put together from."""
    if key == "line":
        return str(options.line)
    if key != "scope":
        return f"--{key}"
    return given_options(options, "position", "frets", "whole_neck", "string", "open")


def scope_words(options: argparse.Namespace) -> str:
    """Return the part of the neck that the options name, as packs write it."""
    parts = []
    if options.position is not None:
        half = options.position.casefold() == "half"
        parts.append("half position" if half else f"position {options.position}")
    if options.frets is not None:
        parts.append(f"frets {options.frets}")
    if options.whole_neck:
        parts.append("whole neck")
    if options.string is not None:
        parts.append(f"strings {options.string}")
    if options.open is not None:
        parts.append("open strings" if options.open else "no open strings")
    return ", ".join(parts)
