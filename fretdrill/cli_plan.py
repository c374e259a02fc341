"""``fretdrill plan``: from the words on the command line to the page or the object."""

import argparse
import re
import shutil
from collections.abc import Callable

from fretdrill.cli_options import CommandLineFault, blaming
from fretdrill.errors import printable
from fretdrill.hand.advice import MoreFrets, Octaves, OtherTuning, Way, ways_in
from fretdrill.hand.cost import CostModel
from fretdrill.hand.failure import NoFingering, OutOfRange
from fretdrill.hand.plan import Plan
from fretdrill.hand.planner import Planner
from fretdrill.hand.reasons import reasons
from fretdrill.hand.states import ANY, Pin
from fretdrill.hand.weights import weights_named
from fretdrill.neck.neck import Neck, Place
from fretdrill.neck.position import parse_position
from fretdrill.practice.home import Home
from fretdrill.practice.library import find_line
from fretdrill.practice.settings import Settings
from fretdrill.presentation.names import Names
from fretdrill.scores.reading import Reading, Sort
from fretdrill.theory.line import Line

_PIN = re.compile(r"(\d{1,6})=([0-4])(?:@(\d{1,2}/\d{1,2}))?")


def print_plan(
    options: argparse.Namespace, home: Home, settings: Settings, narrate: Callable[[str], None]
) -> None:
    """Read the line, plan it and print the result to stdout.

    Raises:
        CommandLineFault: an option does not fit.
        InputError: the line cannot be read or fingered, and why.
    """
    if options.minimax and options.best is not None:
        raise CommandLineFault("--minimax and --best ask for different plans; give one of them")
    reading = find_line(options.line, home.lines, tune=options.tune, track=options.track)
    line = _as_asked(reading.line, options)
    for notice in reading.notices:
        if not options.json or notice.sort is Sort.CHOSEN:
            narrate(str(notice))
    with blaming(options, "weights"):
        weights = weights_named("bass" if options.weights is None else options.weights)
    model = CostModel(
        settings.neck,
        settings.hand,
        weights,
        strict=options.strict,
        open_strings=not options.no_open,
    )
    plan = _planned(line, model, options)
    if options.json:
        _print_json(plan, reading, options)
    else:
        _print_page(plan, settings, options)


def _as_asked(line: Line, options: argparse.Namespace) -> Line:
    if options.octave is not None:
        with blaming(options, "octave"):
            line = line.transposed_octaves(options.octave)
    if options.tempo is not None:
        with blaming(options, "tempo"):
            line = line.at_tempo(options.tempo)
    return line


def _planned(line: Line, model: CostModel, options: argparse.Namespace) -> Plan:
    position = None
    if options.position is not None:
        with blaming(options, "position"):
            position = parse_position(options.position)
    pins = _pins(line, options)
    try:
        solution = Planner(model).solve(line, pins, position)
    except NoFingering as fault:
        raise _advised(fault, line, model.neck) from fault
    path = solution.easiest_hardest() if options.minimax else solution.best()
    return Plan(line, solution, path)


def _advised(fault: NoFingering, line: Line, neck: Neck) -> NoFingering:
    """Add what would help where notes lie outside the neck."""
    if not any(isinstance(cause, OutOfRange) for cause in fault.causes):
        return fault
    ways = [_option(way) for way in ways_in(line, neck)]
    return NoFingering(fault.causes, f"{' or '.join(ways)} would bring all in" if ways else "")


def _option(way: Way) -> str:
    match way:
        case Octaves(octaves):
            return f"--octave {octaves:+d}"
        case OtherTuning(tuning):
            return f"--tuning {tuning}"
        case MoreFrets(frets):
            return f"--fret-count {frets}"


def _pins(line: Line, options: argparse.Namespace) -> dict[int, Pin]:
    pins = {}
    if options.keep_fingering:
        written = enumerate(line.notes)
        pins = {i: Pin(note.finger, note.string, note.fret) for i, note in written}
        pins = {i: pin for i, pin in pins.items() if pin != ANY}
    settled: set[int] = set()
    for text in options.pin:
        index, pin = _read_pin(text)
        if not 0 <= index < len(line.notes):
            raise CommandLineFault(f"--pin {text}: the line has notes 1 to {len(line.notes)}")
        if index in settled:
            raise CommandLineFault(f"--pin {text}: note {index + 1} is settled twice")
        settled.add(index)
        pins[index] = pin
    return pins


def _read_pin(text: str) -> tuple[int, Pin]:
    match = _PIN.fullmatch(text)
    if match is None:
        raise CommandLineFault(
            f"--pin {text}: write NOTE=FINGER or NOTE=FINGER@STRING/FRET, such as 5=2@3/5"
        )
    place = Place.parse(match[3]) if match[3] else None
    string, fret = (None, None) if place is None else place
    return int(match[1]) - 1, Pin(int(match[2]), string, fret)


def _print_json(plan: Plan, reading: Reading, options: argparse.Namespace) -> None:
    import json

    from fretdrill.presentation.plan_data import path_data, plan_data

    dropped = [str(n) for n in reading.notices if n.sort is not Sort.CHOSEN]
    data = plan_data(plan, reasons(plan), dropped)
    if options.best is not None:
        data["best"] = [path_data(path) for path in plan.solution.best_paths(options.best)]
    print(json.dumps(data))


def _print_page(plan: Plan, settings: Settings, options: argparse.Namespace) -> None:
    from fretdrill.plain.plan import alternatives, page, spoken_page

    names, why = Names(settings.ascii_only), reasons(plan)
    width = shutil.get_terminal_size().columns
    if getattr(options, "plain", False):
        rows = spoken_page(plan, why, names, width)
    else:
        rows = page(plan, why, names, width, brief=options.brief)
    if options.best is not None:
        rows += alternatives(plan, plan.solution.best_paths(options.best), names, width)
    text = printable("\n".join(rows))
    print(text.encode("ascii", "replace").decode() if settings.ascii_only else text)
