"""Reading tables of settings and telling all that is wrong with them at once.

Every setting is declared once as a :class:`Setting`; packs, the player's settings
file and the command line all read through it, so that a value is understood, or
refused in the same words, wherever it was written.
"""

from collections.abc import Callable, Mapping, Sequence
from typing import Any, NamedTuple

from fretdrill.errors import InputError, Located, ManyFaults, UnknownName

HUGE = 1e12  # beyond this a number is not worth printing

_TYPE_NAMES = {
    bool: "true or false",
    int: "a whole number",
    float: "a number",
    str: "text",
}


class Setting(NamedTuple):
    """One setting of a table.

    Attributes:
        read: turns what is written into the value; raises InputError if it can't.
        default: the value where nothing is written.
        required: whether something has to be written.
    """

    read: Callable[[Any], Any]
    default: Any = None
    required: bool = False


def parse_toml(content: str, source: str) -> dict[str, Any]:
    """Read TOML text.

    Raises:
        ManyFaults: it is not TOML; the one fault says where.
    """
    import tomllib  # only when there is a file

    try:
        return tomllib.loads(content)
    except (ValueError, RecursionError) as fault:  # also absurd numbers and nesting
        raise ManyFaults([Located(source, "", f"not TOML: {fault}")]) from fault


def read_table(
    table: Mapping[str, Any],
    settings: Mapping[str, Setting],
    source: str,
    path: str = "",
) -> tuple[dict[str, Any], list[Located]]:
    """Read a table by its settings.

    Args:
        table: what was written.
        settings: the settings that may stand in it, by key.
        source: where it was written, for the faults.
        path: dotted path of the table inside the source.

    Returns:
        The values by key, defaults included, and every fault found.
    """
    prefix = f"{path}." if path else ""
    faults = []
    values = {key: setting.default for key, setting in settings.items()}
    for key in table:
        if key not in settings:
            faults.append(Located(source, prefix + key, str(UnknownName("key", key, settings))))
    for key, setting in settings.items():
        if key in table:
            try:
                values[key] = setting.read(table[key])
            except InputError as fault:
                faults.append(Located(source, prefix + key, str(fault)))
        elif setting.required:
            faults.append(Located(source, prefix + key, "is missing"))
    return values, faults


def text(value: Any) -> str:
    """Read text that is not empty."""
    words = _of_type(value, str)
    if not words.strip():
        raise InputError("is empty")
    if not words.isprintable():
        raise InputError("has control characters or line breaks in it")
    return str(words).strip()


def flag(value: Any) -> bool:
    """Read true or false."""
    return bool(_of_type(value, bool))


def whole_number(least: int, most: int) -> Callable[[Any], int]:
    """Return a reader of whole numbers within bounds."""

    def read(value: Any) -> int:
        number = int(_of_type(value, int))
        if not least <= number <= most:
            raise InputError(f"{_shown(number)} is not between {least} and {most}")
        return number

    return read


def number(least: float, most: float) -> Callable[[Any], float]:
    """Return a reader of numbers within bounds."""

    def read(value: Any) -> float:
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise _wrong_type(value, float)
        if not least <= value <= most:
            raise InputError(f"{_shown(value)} is not between {least:g} and {most:g}")
        return float(value)

    return read


def one_of(what: str, names: Sequence[str]) -> Callable[[Any], str]:
    """Return a reader of one of some names."""

    def read(value: Any) -> str:
        name = text(value)
        if name not in names:
            raise UnknownName(what, name, names)
        return name

    return read


def parsed(parse: Callable[[str], Any]) -> Callable[[Any], Any]:
    """Return a reader that parses text."""
    return lambda value: parse(text(value))


def list_of(read: Callable[[Any], Any]) -> Callable[[Any], tuple[Any, ...]]:
    """Return a reader of a list, or of a single value that stands for a list of one."""

    def read_all(value: Any) -> tuple[Any, ...]:
        values = value if isinstance(value, list) else [value]
        if not values:
            raise InputError("is an empty list")
        read_values, problems = [], []
        for number, item in enumerate(values, start=1):
            try:
                read_values.append(read(item))
            except InputError as fault:
                where = f"number {number} in the list: " if len(values) > 1 else ""
                problems.append(f"{where}{fault}")
        if problems:
            raise InputError("; ".join(problems))
        return tuple(read_values)

    return read_all


def side_by_side(*lists: Sequence[Any]) -> list[tuple[Any, ...]]:
    """Return the n-th items of some lists together; shorter ones stay at their last."""
    longest = max(map(len, lists))
    return [tuple(one[min(n, len(one) - 1)] for one in lists) for n in range(longest)]


def _of_type(value: Any, wanted: type) -> Any:
    if not isinstance(value, wanted) or (wanted is int and isinstance(value, bool)):
        raise _wrong_type(value, wanted)
    return value


def _shown(number: float) -> str:
    return f"{number:g}" if abs(number) < HUGE else "a number that large"


def _wrong_type(value: Any, wanted: type) -> InputError:
    shown = repr(value)
    if isinstance(value, bool):
        shown = shown.lower()
    elif isinstance(value, int | float):
        shown = _shown(value)
    return InputError(f"{shown} is not {_TYPE_NAMES[wanted]}")
