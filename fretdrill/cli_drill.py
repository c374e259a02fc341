"""``fretdrill drill``: from the words on the command line to a session's program."""

import argparse
from collections.abc import Callable
from dataclasses import replace
from functools import cache

from fretdrill.cli_options import CommandLineFault, option_of, settings_given
from fretdrill.engine.kind import FindLine
from fretdrill.engine.packs import DRILL_SETTINGS, Pack, read_drill
from fretdrill.engine.registry import KINDS
from fretdrill.errors import ManyFaults, UnknownName
from fretdrill.hand.advice import playable, ways_in
from fretdrill.practice.home import Home
from fretdrill.practice.library import LINE_ENDINGS, find_line, find_pack, line_files, pack_files
from fretdrill.practice.program import Program
from fretdrill.practice.settings import Settings
from fretdrill.practice.spots import line_program
from fretdrill.presentation.line_words import off_text
from fretdrill.presentation.names import Names
from fretdrill.theory.line import Line

Narrate = Callable[[str], None]


def drill_program(
    options: argparse.Namespace, home: Home, settings: Settings, narrate: Narrate
) -> Program:
    """Return what is to be asked.

    Args:
        options: the command line's.
        home: where the player's packs and lines are.
        settings: the player's, with what the command line says instead.
        narrate: called with what is worth telling of a line that is read.

    Raises:
        CommandLineFault: an option, a name or a kind's setting does not fit.
        InputError: a pack or a line is at fault, and why.
    """
    if options.what is None:
        kinds, packs = ", ".join(KINDS), ", ".join(pack_files(home.packs))
        lines = ", ".join(line_files(home.lines))
        raise CommandLineFault(f"drill what? kinds: {kinds}; packs: {packs}; lines: {lines}")
    if not options.what:
        raise CommandLineFault("the kind, pack or line is empty")

    @cache
    def find(name: str) -> Line:
        return _told_line(name, home, settings, narrate)

    if options.what in KINDS:
        program = _of_kind(options, find)
        try:
            program.check(settings.player)
        except ManyFaults as faults:
            message = "; ".join(fault.message for fault in faults.faults)
            raise CommandLineFault(message) from faults
        return program
    given = settings_given(options)
    if given:
        shown = option_of(next(iter(given)), options)
        raise CommandLineFault(f"{shown} goes with a kind ({', '.join(KINDS)}), not a pack or line")
    if options.what not in pack_files(home.packs) and _is_line(options.what, home):
        program = line_program(options.what, find(options.what), settings.player)
        program = replace(program, count=options.count, minutes=options.minutes)
    else:
        program = Program.of_pack(_pack(options.what, home), options.count, options.minutes)
    program.check(settings.player)
    return program


def _is_line(name: str, home: Home) -> bool:
    return name in line_files(home.lines) or name.lower().endswith(LINE_ENDINGS)


def _pack(name: str, home: Home) -> Pack:
    try:
        return find_pack(name, home.packs, home.lines)
    except UnknownName as fault:
        known = [*KINDS, *pack_files(home.packs), *line_files(home.lines)]
        raise CommandLineFault(str(UnknownName("kind, pack or line", name, known))) from fault


def _told_line(name: str, home: Home, settings: Settings, narrate: Narrate) -> Line:
    """Read a line, and tell what is left out of it."""
    reading = find_line(name, home.lines)
    for notice in reading.notices:
        narrate(str(notice))
    off = playable(reading.line, settings.neck).off
    if off:
        ways = ways_in(reading.line, settings.neck)
        narrate(off_text(reading.line, off, ways, Names(ascii_only=True)))
    return reading.line


def _of_kind(options: argparse.Namespace, find: FindLine) -> Program:
    own, given = KINDS[options.what].settings(find), settings_given(options)
    for key in given:
        if key not in own and key not in DRILL_SETTINGS:
            raise CommandLineFault(f"{option_of(key, options)} does not go with {options.what}")
    if "line" in given:  # what is wrong with the line itself is told as it is
        find(given["line"])
    drill, faults = read_drill({"kind": options.what, **given}, "", "", find)
    if drill is None:
        told = (f"{option_of(f.key, options)}: {f.message}" if f.key else f.message for f in faults)
        raise CommandLineFault("; ".join(told))
    return Program(options.what.capitalize(), (drill,), options.count, options.minutes)
