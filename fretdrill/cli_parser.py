"""What may stand on the command line, and what is said where it may not."""

import argparse
from collections.abc import Callable, Sequence
from typing import Any, NoReturn

from fretdrill import __version__
from fretdrill.cli_options import CommandLineFault
from fretdrill.errors import UnknownName, nearest_name

COMMANDS = ("drill", "open", "plan", "check")

EXAMPLES = """\
examples:
  fretdrill                                       today's practice
  fretdrill drill find --position 5               every D, G, A ... in fifth position
  fretdrill drill find --position V --notes D     only D
  fretdrill drill name --string 4 --frets 1-7     the low end of the lowest string
  fretdrill drill find --minutes 3                three minutes, from easy to hard
  fretdrill drill name --frets 0-12 --notes "key Bb major"
  fretdrill drill finger --position 1 --system 1-2-4
  fretdrill drill ahead walk-up --next 2          fingers for the next two notes of a line
  fretdrill drill ahead --figure arpeggio --key "Bb major" --shown staff
  fretdrill drill chord --chord "7 m7" --notes "C F Bb"
  fretdrill drill read --position 5 --key "F major" --together 3
  fretdrill drill walk-up                         a session from the decisions in a line
  fretdrill drill fifth-position                  a session that ships
  fretdrill drill my-lesson.toml                  a session of your own
  fretdrill open walk-up                          a line on the screen: every choice, its cost
  fretdrill plan walk-up                          the easiest fingering of a line, and why
  fretdrill plan song.abc --tempo 90 --pin 5=2    with finger 2 on note 5
  fretdrill plan song.mid --track 3 --json        for other programs
  fretdrill check my-lesson.toml song.abc         all that is wrong with them

String 1 is the highest. A position is the fret under finger 1 when the hand is at rest.
"""


class _Parser(argparse.ArgumentParser):
    def __init__(self, **options: Any) -> None:
        super().__init__(
            allow_abbrev=False, formatter_class=argparse.RawDescriptionHelpFormatter, **options
        )

    def error(self, message: str) -> NoReturn:
        raise CommandLineFault(f"{message}; see '{self.prog} --help'")


def parse(arguments: Sequence[str]) -> argparse.Namespace:
    """Read the command line.

    Raises:
        CommandLineFault: it cannot be understood.
    """
    if not arguments:  # the usual start; it need not wait for a parser
        return argparse.Namespace(command=None)
    parser = _parser()
    _check_command(arguments)
    options, unknown = parser.parse_known_args(arguments)
    if unknown:
        _refuse(unknown[0], parser, options.command)
    return options


def _check_command(arguments: Sequence[str]) -> None:
    first = next((word for word in arguments if not word.startswith("-")), None)
    if first is not None and first not in COMMANDS:
        raise CommandLineFault(str(UnknownName("command", first, COMMANDS)))


def _refuse(word: str, parser: argparse.ArgumentParser, command: str | None) -> NoReturn:
    if not word.startswith("-"):
        raise CommandLineFault(f"'{word}' is one word too many")
    option = word.split("=")[0]
    known = _options_of(parser, command)
    near = nearest_name(option, known)
    program = f"fretdrill {command}" if command else "fretdrill"
    advice = f"did you mean '{near}'?" if near else f"see '{program} --help'"
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
        help="practise one kind of drill, or a session from a pack or a line",
        description=(
            "Practise one kind of drill (find, name, finger, chord, read, slur, ahead, shift), a\n"
            "session from a pack, or one made from the decisions in a line. Packs that ship:\n"
            "daily, first-position, fifth-position, whole-neck, look-ahead, shifts, chord-tones,\n"
            "reading. Packs and lines of your own go by name, or by file."
        ),
        epilog=EXAMPLES,
    )
    drill.add_argument("what", metavar="KIND|PACK|LINE", nargs="?")
    drill.add_argument("line", metavar="LINE", nargs="?", help="for ahead, shift and slur")
    _add_drill(drill)
    _add_player(drill)
    _add_show(drill)
    opened = commands.add_parser(
        "open",
        help="a written line on the screen: every choice, its cost, pins",
        description=(
            "Open a written line on the screen: the easiest fingering, what every other choice\n"
            "costs by the end, pins, positions, hard spots, looking ahead. LINE is an ABC or a\n"
            "Standard MIDI file, a line that ships, or one of your own."
        ),
        epilog=EXAMPLES,
    )
    opened.add_argument("line", metavar="LINE")
    _add_player(opened)
    _add_show(opened)
    plan = commands.add_parser(
        "plan",
        help="the easiest fingering of a written line, and why",
        description=(
            "Work out where on the neck and with which fingers a line is easiest, what every\n"
            "other choice would cost, where the hand shifts and which note gives the time for it.\n"
            "LINE is an ABC or Standard MIDI file, a line that ships, or one of your own."
        ),
        epilog=EXAMPLES,
    )
    plan.add_argument("line", metavar="LINE")
    _add_plan(plan)
    _add_player(plan)
    _add_show(plan)
    check = commands.add_parser(
        "check",
        help="list all that is wrong with packs and lines",
        description=(
            "Read packs and lines and list all that is wrong with them; exit status 1 if any.\n"
            "What is left out of a line, such as grace notes, is told and does not count."
        ),
    )
    check.add_argument(
        "files", metavar="PACK|LINE", nargs="+", help="a file, or the name of a pack or line"
    )
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
    what.add_argument("--chord", metavar="CHORDS", help="qualities such as 'maj min, 7 m7', or Dm7")
    what.add_argument("--tones", metavar="HOW", help="one chord tone at a time, or all: one, all")
    what.add_argument("--key", metavar="KEYS", help="of what is read or made up: 'F major, Dm'")
    what.add_argument("--together", metavar="N", help="how many notes to read at once: 1 or 1,2,3")
    lines = parser.add_argument_group("which lines (for ahead and shift)")
    lines.add_argument(
        "--figure",
        metavar="FIGURES",
        help="make lines up: stepwise, arpeggio, octave, chromatic, syncopated",
    )
    lines.add_argument("--next", metavar="N", help="how many of the coming notes: 1, 2 or 1,2,3")
    lines.add_argument("--shown", metavar="HOW", help="coming notes as places, names or staff")
    lines.add_argument("--reach", metavar="N", help="notes on either side of a shift: 2 to 8")
    length = parser.add_argument_group("how long")
    length.add_argument("--count", metavar="N", type=_whole(1, 500), help="number of questions")
    length.add_argument("--minutes", metavar="M", type=_minutes, help="end after M minutes")
    length.add_argument("--seed", metavar="S", type=_whole(0, 2**63 - 1), help="ask the same again")


def _add_plan(parser: argparse.ArgumentParser) -> None:
    what = parser.add_argument_group("what is played")
    what.add_argument(
        "--tempo",
        metavar="BPM",
        type=_number,
        help="plan for the tempo you want to reach",
    )
    what.add_argument(
        "--tune", metavar="N", type=_whole(0, 10**9), help="which tune of an ABC file"
    )
    what.add_argument("--track", metavar="T", help="which track of a MIDI file: number or name")
    what.add_argument(
        "--octave", metavar="N", type=_octaves, help="move it by octaves: -1 for a part written up"
    )
    how = parser.add_argument_group("how it is taken")
    how.add_argument("--position", metavar="P", help="where the hand begins: 5, V or fifth")
    how.add_argument(
        "--pin",
        metavar="N=FINGER[@STRING/FRET]",
        action="append",
        default=[],
        help="settle a note: 5=2 or 5=2@3/5; may be given again",
    )
    how.add_argument(
        "--keep-fingering", action="store_true", help="keep fingers, strings and frets as written"
    )
    how.add_argument("--no-open", action="store_true", help="without open strings")
    how.add_argument(
        "--minimax", action="store_true", help="the line whose hardest note is easiest"
    )
    how.add_argument(
        "--strict", action="store_true", help="no shift that needs more time than there is"
    )
    how.add_argument("--weights", metavar="SET", help="what costs weigh: bass or guitar")
    shown = parser.add_argument_group("what is printed")
    shown.add_argument("--json", action="store_true", help="one JSON object")
    shown.add_argument("--brief", action="store_true", help="only the tab and the shifts")
    shown.add_argument(
        "--best", metavar="K", type=_whole(1, 100), help="also the K cheapest ways to play it"
    )


def _octaves(text: str) -> int:
    try:
        octaves = int(text)
    except ValueError:
        octaves = 99
    if not -4 <= octaves <= 4:
        raise argparse.ArgumentTypeError(f"'{text}' is not between -4 and 4")
    return octaves


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
    player.add_argument(
        "--pace",
        metavar="PACE",
        help="of shifts: fluent, steady, careful, novice, or seconds a bit: 0.07",
    )


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


def _whole(least: int, most: int) -> Callable[[str], int]:
    def read(text: str) -> int:
        if len(text) > 20 or not text.isdecimal() or not least <= int(text) <= most:
            shown = text if len(text) <= 20 else f"{text[:20]}..."
            raise argparse.ArgumentTypeError(f"'{shown}' is not between {least} and {most}")
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
