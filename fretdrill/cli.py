"""Words on the command line to calls.

Exit status: 0 done, 1 what was given is at fault (a pack, a settings file, the
journal), 2 the command line itself is, 3 an unexpected error, logged to a file.
Results go to stdout, narration and faults to stderr. Nothing slow is imported
before it is needed: ``--version`` loads little more than the interpreter.
"""

import argparse
import errno
import os
import sys
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

from fretdrill.cli_options import CommandLineFault, blaming
from fretdrill.cli_parser import parse
from fretdrill.errors import (
    FretdrillError,
    ManyFaults,
    printable,
)

if TYPE_CHECKING:
    from fretdrill.neck.neck import Neck
    from fretdrill.practice.home import Home
    from fretdrill.practice.program import Program
    from fretdrill.practice.settings import Settings

    Adapt = Callable[[Settings], Settings]

OK, INPUT_FAULT, COMMAND_FAULT, UNEXPECTED = 0, 1, 2, 3


def main(argv: Sequence[str] | None = None) -> int:
    """Run fretdrill and return the exit status."""
    arguments = list(sys.argv[1:] if argv is None else argv)
    for stream in (sys.stdin, sys.stdout):  # stderr escapes by itself
        # What the encoding lacks must not end the program; a closed stream is None.
        if hasattr(stream, "reconfigure"):
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
    except OSError as fault:
        if fault.errno != errno.ENOSPC:
            _complain(_logged())
            return UNEXPECTED
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        _complain("what was written does not fit on the disk")
        return INPUT_FAULT
    except Exception:
        _complain(_logged())
        return UNEXPECTED


def _logged() -> str:
    from fretdrill.practice.log import log_unexpected

    return log_unexpected()


def _complain(message: str) -> None:
    print(f"fretdrill: {printable(message)}", file=sys.stderr)


def _run(arguments: list[str]) -> int:
    try:
        options = parse(arguments)
        status = _COMMANDS.get(options.command, _practise)(options)
    except SystemExit as left:  # argparse leaves so after --help and --version
        status = int(left.code or OK)
    if sys.stdout is not None:
        sys.stdout.flush()  # so that a full disk is met here
    return status


def _check(options: argparse.Namespace) -> int:
    from fretdrill.plain.check import check
    from fretdrill.practice.home import Home
    from fretdrill.practice.settings import load_settings

    home = Home.find()
    neck = load_settings(home.settings).neck
    sound = [check(name, home, neck, sys.stdout) for name in options.files]
    return OK if all(sound) else INPUT_FAULT


def _plan(options: argparse.Namespace) -> int:
    from fretdrill.cli_plan import print_plan
    from fretdrill.practice.home import Home
    from fretdrill.practice.settings import load_settings

    if sys.stdout is None:
        raise CommandLineFault("there is nothing to write to")
    home = Home.find()
    ascii_only = getattr(options, "ascii", False) or not _writes_utf8()
    settings = _adapted(options, ascii_only, load_settings(home.settings))
    print_plan(options, home, settings, _complain)
    return OK


def _scale_mm(neck: "Neck", options: argparse.Namespace) -> float:
    """Return the scale length: of a guitar where its tuning alone is asked for."""
    from fretdrill.neck.geometry import SCALES_MM

    if options.scale_length is not None:
        return float(options.scale_length)
    turned = options.tuning == "guitar" and neck.tuning.preset != "guitar"
    return SCALES_MM["guitar"] if turned else neck.scale_mm


def _practise(options: argparse.Namespace) -> int:
    from fretdrill.practice.home import Home
    from fretdrill.practice.settings import load_settings

    home = Home.find()
    saved = load_settings(home.settings)
    # Found out once and early: while the app runs, stdout is not the terminal's.
    ascii_only = getattr(options, "ascii", False) or not _writes_utf8()
    adapt = partial(_adapted, options, ascii_only)
    program = None
    if options.command == "drill":
        from fretdrill.cli_drill import drill_program

        program = drill_program(options, home, adapt(saved), _complain)
    start = _plain if _needs_plain(options) else _on_screen
    return start(home, saved, adapt, program, getattr(options, "seed", None))


def _needs_plain(options: argparse.Namespace) -> bool:
    if getattr(options, "plain", False) or os.environ.get("TERM") == "dumb":
        return True
    # A stream is None where a service has closed it.
    return not all(stream is not None and stream.isatty() for stream in (sys.stdin, sys.stdout))


def _writes_utf8() -> bool:
    asked = (os.environ.get(name) for name in ("LC_ALL", "LC_CTYPE", "LANG"))
    if next(filter(None, asked), None) in ("C", "POSIX"):
        return False  # Python would write UTF-8 all the same; who asks for C may not see it
    encoding = (getattr(sys.stdout, "encoding", None) or "ascii").casefold()
    return encoding.replace("-", "").replace("_", "") in ("utf8", "utf8sig", "utf16", "utf32")


def _adapted(options: argparse.Namespace, ascii_only: bool, settings: "Settings") -> "Settings":
    """Return the player's settings with what the command line says instead."""
    from fretdrill.hand.hand import Hand
    from fretdrill.neck.neck import Neck
    from fretdrill.neck.tuning import Tuning

    if ascii_only:
        settings = replace(settings, ascii_only=True)
    if options.command not in ("drill", "open", "plan"):
        return settings
    neck, hand = settings.neck, settings.hand
    with blaming(options, "tuning", "fret_count", "scale_length"):
        neck = Neck(
            neck.tuning if options.tuning is None else Tuning.parse(options.tuning),
            neck.frets if options.fret_count is None else options.fret_count,
            _scale_mm(neck, options),
        )
    with blaming(options, "hand", "system", "pace"):
        hand = Hand.parse(
            hand.size if options.hand is None else options.hand,
            hand.system if options.system is None else options.system,
            hand.pace_name if options.pace is None else options.pace,
        )
    return replace(settings, neck=neck, hand=hand)


def _plain(
    home: "Home", saved: "Settings", adapt: "Adapt", program: "Program | None", seed: int | None
) -> int:
    from fretdrill.plain.drills import PlainDrills
    from fretdrill.practice.start import Practice

    if sys.stdin is None or sys.stdout is None:
        raise CommandLineFault("there is nothing to read from or nothing to write to")
    with Practice(home, saved, _complain, adapt=adapt, at_once=True) as practice:
        session = practice.session(program or practice.daily(), seed)
        drills = PlainDrills(session, practice.settings, sys.stdin, sys.stdout)
        drills.run(first_time=practice.first_time)
    return OK


def _on_screen(
    home: "Home",
    saved: "Settings",
    adapt: "Adapt",
    program: "Program | None",
    seed: int | None,
    line: str | None = None,
) -> int:
    from fretdrill.practice.start import Practice
    from fretdrill.tui.app import FretdrillApp
    from fretdrill.tui.notices import Notices

    notices = Notices()
    with Practice(home, saved, notices.tell, adapt=adapt) as practice:
        app = FretdrillApp(practice, notices, program, seed, line)
        fault = app.run()
    for notice in notices.waiting:
        _complain(notice)
    if isinstance(fault, FretdrillError):
        raise fault
    return UNEXPECTED if app.crashed else OK


def _open(options: argparse.Namespace) -> int:
    from fretdrill.practice.home import Home
    from fretdrill.practice.library import find_line
    from fretdrill.practice.settings import load_settings

    home = Home.find()
    saved = load_settings(home.settings)
    ascii_only = getattr(options, "ascii", False) or not _writes_utf8()
    find_line(options.line, home.lines)  # what cannot be read is told here, not over a screen
    if _needs_plain(options):
        raise CommandLineFault(
            f"a line is opened on a terminal; 'fretdrill plan {options.line}' prints it"
        )
    adapt = partial(_adapted, options, ascii_only)
    return _on_screen(home, saved, adapt, None, None, options.line)


_COMMANDS: "dict[str | None, Callable[[argparse.Namespace], int]]" = {
    "check": _check,
    "open": _open,
    "plan": _plan,
}
