"""Words on the command line to calls.

Exit status: 0 done, 1 what was given is at fault (a pack, a settings file, the
journal), 2 the command line itself is, 3 an unexpected error, logged to a file.
Results go to stdout, narration and faults to stderr. Nothing slow is imported
before it is needed: ``--version`` loads little more than the interpreter.
"""

import argparse
import os
import sys
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, NoReturn

from fretdrill import __version__
from fretdrill.errors import (
    FretdrillError,
    InputError,
    ManyFaults,
    UnknownName,
    nearest_name,
    printable,
)

if TYPE_CHECKING:
    from fretdrill.practice.home import Home
    from fretdrill.practice.program import Program
    from fretdrill.practice.settings import Settings

OK, INPUT_FAULT, COMMAND_FAULT, UNEXPECTED = 0, 1, 2, 3

COMMANDS = ("drill", "check")

EXAMPLES = """\
examples:
  fretdrill                                       today's practice
  fretdrill drill find --position 5               every D, G, A ... in fifth position
  fretdrill drill find --position V --notes D     only D
  fretdrill drill name --string 4 --minutes 3     three minutes on the lowest string
  fretdrill drill name --frets 0-12 --notes "key Bb major"
  fretdrill drill finger --position 1 --system 1-2-4
  fretdrill drill fifth-position                  a session that ships
  fretdrill drill my-lesson.toml                  a session of your own
  fretdrill check my-lesson.toml                  all that is wrong with it

String 1 is the highest. A position is the fret under finger 1.
"""


class CommandLineFault(FretdrillError):
    """The command line cannot be understood."""


class _Parser(argparse.ArgumentParser):
    def __init__(self, **options: Any) -> None:
        super().__init__(
            allow_abbrev=False, formatter_class=argparse.RawDescriptionHelpFormatter, **options
        )

    def error(self, message: str) -> NoReturn:
        raise CommandLineFault(f"{message}; see '{self.prog} --help'")


def main(argv: Sequence[str] | None = None) -> int:
    """Run fretdrill and return the exit status."""
    arguments = list(sys.argv[1:] if argv is None else argv)
    for stream in (sys.stdin, sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):  # what the encoding lacks must not end the program
            stream.reconfigure(errors="replace")
    try:
        return _run(arguments)
    except CommandLineFault as fault:
        _complain(str(fault))
        return COMMAND_FAULT
    except ManyFaults as fault:
        print(printable(str(fault)), file=sys.stderr)
        return INPUT_FAULT
    except FretdrillError as fault:
        _complain(str(fault))
        return INPUT_FAULT
    except KeyboardInterrupt:
        print(file=sys.stderr)
        return OK
    except BrokenPipeError:
        # The reader of our output has gone; there is nobody left to tell.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return OK
    except Exception:
        from fretdrill.practice.log import log_unexpected

        _complain(log_unexpected())
        return UNEXPECTED


def _complain(message: str) -> None:
    print(f"fretdrill: {printable(message)}", file=sys.stderr)


def _run(arguments: list[str]) -> int:
    if not arguments:  # the usual start; it need not wait for a parser
        return _practise(argparse.Namespace(command=None))
    parser = _parser()
    _check_words(arguments)
    options, unknown = parser.parse_known_args(arguments)
    if unknown:
        _refuse(unknown[0], parser, options.command)
    if options.command == "check":
        return _check(options)
    return _practise(options)


def _check_words(arguments: Sequence[str]) -> None:
    first = next((word for word in arguments if not word.startswith("-")), None)
    if first is not None and arguments[0] == first and first not in COMMANDS:
        raise CommandLineFault(str(UnknownName("command", first, COMMANDS)))


def _refuse(word: str, parser: argparse.ArgumentParser, command: str | None) -> NoReturn:
    if not word.startswith("-"):
        raise CommandLineFault(f"'{word}' is one word too many")
    option = word.split("=")[0]
    known = _options_of(parser, command)
    near = nearest_name(option, known)
    advice = f"did you mean '{near}'?" if near else f"see 'fretdrill {command or ''} --help'"
    raise CommandLineFault(f"unknown option '{option}'; {advice}")


def _options_of(parser: argparse.ArgumentParser, command: str | None) -> list[str]:
    actions = parser._actions  # argparse has no public list of its options
    for action in parser._actions:
        if isinstance(action, argparse._SubParsersAction) and command in action.choices:
            actions = action.choices[command]._actions
    return [option for action in actions for option in action.option_strings]


def _parser() -> argparse.ArgumentParser:
    parser = _Parser(
        prog="fretdrill",
        description=(
            "Fretboard and left-hand drills for bass players and teachers.\n"
            "Without a command: today's practice."
        ),
        epilog=EXAMPLES,
    )
    parser.add_argument("--version", action="version", version=f"fretdrill {__version__}")
    _add_show(parser)
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", parser_class=_Parser)
    drill = commands.add_parser(
        "drill",
        help="practise one kind of drill, or a session from a pack",
        description=(
            "Practise one kind of drill (find, name, finger), or a session from a pack: one that\n"
            "ships (daily, first-position, fifth-position, whole-neck), one of your own by name,\n"
            "or a .toml file."
        ),
        epilog=EXAMPLES,
    )
    drill.add_argument("what", metavar="KIND|PACK", nargs="?")
    _add_drill(drill)
    _add_player(drill)
    _add_show(drill)
    check = commands.add_parser(
        "check",
        help="list all that is wrong with packs",
        description="Read packs and list all that is wrong with them; exit status 1 if any.",
    )
    check.add_argument("packs", metavar="PACK", nargs="+", help="a .toml file or a pack's name")
    return parser


def _add_drill(parser: argparse.ArgumentParser) -> None:
    where = parser.add_argument_group("which part of the neck (for a kind)")
    where.add_argument("--position", metavar="P", help="frets P to P+3: 5, V, fifth or half")
    where.add_argument("--frets", metavar="A-B", help="a range of frets; from 0 with open strings")
    where.add_argument("--string", metavar="N", help="one string or several: 2 or 3-4")
    where.add_argument("--whole-neck", action="store_true", help="everywhere")
    where.add_argument(
        "--open", action=argparse.BooleanOptionalAction, help="with or without the open strings"
    )
    what = parser.add_argument_group("which notes (for a kind)")
    what.add_argument(
        "--notes",
        metavar="NOTES",
        help="naturals, chromatic, 'key F major', 'chord Dm7', or a list such as 'D G Bb'",
    )
    what.add_argument("--order", metavar="ORDER", help="shuffled, or listed: new notes as listed")
    length = parser.add_argument_group("how long")
    length.add_argument("--count", metavar="N", type=_whole(1, 500), help="number of questions")
    length.add_argument("--minutes", metavar="M", type=_minutes, help="end after M minutes")
    length.add_argument("--seed", metavar="S", type=_whole(0, 2**63 - 1), help="ask the same again")


def _add_player(parser: argparse.ArgumentParser) -> None:
    player = parser.add_argument_group("instrument and hand (else as in Set-up)")
    player.add_argument(
        "--tuning",
        metavar="TUNING",
        help="4-string, 5-string, 6-string, drop-d, bead, guitar, or notes low to high: 'D A D G'",
    )
    player.add_argument("--fret-count", metavar="N", type=_whole(12, 36), help="frets on the neck")
    player.add_argument("--scale-length", metavar="MM", type=_number, help="in mm: 863.6 is 34 in")
    player.add_argument(
        "--hand", metavar="SIZE", help="small, medium, large, or finger 1 to 4 in mm: 105"
    )
    player.add_argument("--system", metavar="SYSTEM", help="reach, one-per-fret or 1-2-4")


def _add_show(parser: argparse.ArgumentParser) -> None:
    # SUPPRESS: the option may stand before or after the command, and neither hides the other.
    show = parser.add_argument_group("how it is shown")
    show.add_argument(
        "--plain",
        action="store_true",
        default=argparse.SUPPRESS,
        help="plain lines of text: for screen readers and pipes",
    )
    show.add_argument(
        "--ascii", action="store_true", default=argparse.SUPPRESS, help="draw with ASCII signs only"
    )


def _whole(least: int, most: int) -> Any:
    def read(text: str) -> int:
        if not text.isdecimal() or not least <= int(text) <= most:
            raise argparse.ArgumentTypeError(f"'{text}' is not between {least} and {most}")
        return int(text)

    return read


def _number(text: str) -> float:
    try:
        return float(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"'{text}' is not a number") from None


def _minutes(text: str) -> float:
    minutes = _number(text)
    if not 0 < minutes <= 600:
        raise argparse.ArgumentTypeError(f"'{text}' is not between 0 and 600")
    return minutes


def _check(options: argparse.Namespace) -> int:
    from fretdrill.practice.home import Home
    from fretdrill.practice.library import find_pack

    own = Home.find().packs
    status = OK
    for name in options.packs:
        try:
            pack = find_pack(name, own)
        except InputError as fault:
            print(printable(str(fault)))
            status = INPUT_FAULT
        else:
            drills = "1 drill" if len(pack.drills) == 1 else f"{len(pack.drills)} drills"
            print(f"{name}: {pack.title}: {drills}, nothing wrong")
    return status


def _practise(options: argparse.Namespace) -> int:
    from fretdrill.practice.home import Home
    from fretdrill.practice.settings import load_settings

    home = Home.find()
    settings = _settings(options, load_settings(home.settings))
    program = _program(options, home)
    if program is not None:
        _check_program(program, settings, options)
    seed = getattr(options, "seed", None)
    if _needs_plain(options):
        return _plain(home, settings, program, seed)
    return _on_screen(home, settings, program, seed)


def _check_program(program: "Program", settings: "Settings", options: argparse.Namespace) -> None:
    from fretdrill.engine.registry import KINDS

    try:
        program.check(settings.player)
    except ManyFaults as faults:
        if options.what not in KINDS:
            raise
        raise CommandLineFault("; ".join(fault.message for fault in faults.faults)) from faults


def _needs_plain(options: argparse.Namespace) -> bool:
    on_terminal = sys.stdin.isatty() and sys.stdout.isatty()
    dumb = os.environ.get("TERM") == "dumb"
    return getattr(options, "plain", False) or dumb or not on_terminal


def _writes_utf8() -> bool:
    encoding = (sys.stdout.encoding or "ascii").casefold().replace("-", "").replace("_", "")
    return encoding in ("utf8", "utf8sig", "utf16", "utf32")


def _settings(options: argparse.Namespace, settings: "Settings") -> "Settings":
    """Return the player's settings with what the command line says instead."""
    from dataclasses import replace

    from fretdrill.hand.hand import Hand
    from fretdrill.neck.neck import Neck
    from fretdrill.neck.tuning import Tuning

    if getattr(options, "ascii", False) or not _writes_utf8():
        settings = replace(settings, ascii_only=True)
    if options.command != "drill":
        return settings
    neck, hand = settings.neck, settings.hand
    with _blaming("--tuning, --fret-count, --scale-length"):
        neck = Neck(
            neck.tuning if options.tuning is None else Tuning.parse(options.tuning),
            neck.frets if options.fret_count is None else options.fret_count,
            neck.scale_mm if options.scale_length is None else options.scale_length,
        )
    with _blaming("--hand, --system"):
        size = hand.size if options.hand is None else options.hand
        hand = Hand.parse(size, hand.system if options.system is None else options.system)
    return replace(settings, neck=neck, hand=hand)


def _program(options: argparse.Namespace, home: "Home") -> "Program | None":
    """Return what the command line asks for, None for today's practice."""
    if options.command != "drill":
        return None
    from fretdrill.engine.registry import KINDS
    from fretdrill.practice.library import find_pack, pack_files
    from fretdrill.practice.program import Program

    if options.what is None:
        kinds, packs = ", ".join(KINDS), ", ".join(pack_files(home.packs))
        raise CommandLineFault(f"drill what? kinds: {kinds}; packs: {packs}")
    if options.what in KINDS:
        return _program_of_kind(options)
    if not options.what:
        raise CommandLineFault("the kind or pack is empty")
    for option in ("position", "frets", "string", "whole_neck", "notes", "order", "open"):
        if getattr(options, option) not in (None, False):
            shown = option.replace("_", "-")
            raise CommandLineFault(f"--{shown} goes with a kind ({', '.join(KINDS)}), not a pack")
    try:
        pack = find_pack(options.what, home.packs)
    except UnknownName as fault:
        known = [*KINDS, *pack_files(home.packs)]
        raise CommandLineFault(str(UnknownName("kind or pack", options.what, known))) from fault
    return Program.of_pack(pack, options.count, options.minutes)


def _program_of_kind(options: argparse.Namespace) -> "Program":
    from fretdrill.engine.packs import read_drill
    from fretdrill.practice.program import Program

    settings: dict[str, Any] = {"kind": options.what}
    scope = _scope_words(options)
    if scope:
        settings["scope"] = scope
    for key in ("notes", "order", "count"):
        if getattr(options, key) is not None:
            settings[key] = getattr(options, key)
    drill, faults = read_drill(settings, "fretdrill drill")
    if drill is None:
        raise CommandLineFault("; ".join(f"{_option(f.key, options)}: {f.message}" for f in faults))
    return Program(options.what.capitalize(), (drill,), options.count, options.minutes)


def _option(key: str, options: argparse.Namespace) -> str:
    """Return the options that a drill's setting was put together from."""
    if key != "scope":
        return f"--{key}"
    candidates = ("position", "frets", "whole_neck", "string", "open")
    used = [o for o in candidates if getattr(options, o) not in (None, False)]
    return ", ".join(f"--{option.replace('_', '-')}" for option in used)


def _scope_words(options: argparse.Namespace) -> str:
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


class _blaming:  # noqa: N801 - reads as a statement
    """Turns a fault in a value into one of the option that gave it."""

    def __init__(self, options: str) -> None:
        self._options = options

    def __enter__(self) -> None:
        pass

    def __exit__(self, kind: object, fault: BaseException | None, trace: object) -> None:
        if isinstance(fault, InputError):
            raise CommandLineFault(f"{self._options}: {fault}") from fault


def _plain(home: "Home", settings: "Settings", program: "Program | None", seed: int | None) -> int:
    from fretdrill.plain.drills import PlainDrills
    from fretdrill.practice.start import Practice

    with Practice(home, settings, _complain, at_once=True) as practice:
        session = practice.session(program or practice.daily(), seed)
        drills = PlainDrills(session, settings, sys.stdin, sys.stdout)
        drills.run(first_time=practice.first_time)
    return OK


def _on_screen(
    home: "Home", settings: "Settings", program: "Program | None", seed: int | None
) -> int:
    from fretdrill.practice.start import Practice
    from fretdrill.tui.app import FretdrillApp
    from fretdrill.tui.notices import Notices

    notices = Notices()
    with Practice(home, settings, notices.tell) as practice:
        app = FretdrillApp(practice, notices, program, seed)
        app.run()
    for notice in notices.waiting:
        _complain(notice)
    return UNEXPECTED if app.crashed else app.return_code or OK
