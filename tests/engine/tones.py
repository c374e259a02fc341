"""What the tests of chord, read and slur share: stages from plain settings, questions, marks."""

from typing import Any

from hypothesis import strategies as st

from fretdrill.engine import table
from fretdrill.engine.kind import no_lines
from fretdrill.engine.player import Player
from fretdrill.engine.question import Answer, Question, Verdict
from fretdrill.engine.registry import kind_named
from fretdrill.neck.neck import Place
from fretdrill.practice.session import judge

PIANO_SEMITONE_MM = 13.75  # 6.5-in octave (Boyle, Boyle & Booker 2015)
PRACTICAL_SEMITONES = 10  # fingers 1 and 4 (Parncutt et al. 1997, table 1, thumb left out)


def stages(kind: str, **written: Any) -> tuple[Any, ...]:
    """Return the stages that settings mean, read as a pack's are."""
    drill = kind_named(kind)
    values, faults = table.read_table(written, drill.settings(no_lines), "test")
    assert not faults, faults
    return drill.stages(values)


def faults(kind: str, **written: Any) -> list[str]:
    """Return what is wrong with settings."""
    return [
        fault.message
        for fault in table.read_table(written, kind_named(kind).settings(no_lines), "test")[1]
    ]


def questions(kind: str, player: Player, stage: Any, most: int = 30) -> list[Question]:
    """Return the questions of a stage, every n-th where there are many."""
    drill = kind_named(kind)
    foci = drill.foci(player, stage)
    assert len(set(foci)) == len(foci)
    assert foci == drill.foci(player, stage)
    return [drill.ask(player, stage, focus) for focus in foci[:: 1 + len(foci) // most]]


def one(kind: str, player: Player, focus: str, **written: Any) -> Question:
    """Return the question of one focus, which has to be among those of the stage."""
    (stage,) = stages(kind, **written)
    assert focus in kind_named(kind).foci(player, stage)
    return kind_named(kind).ask(player, stage, focus)


def answered(question: Question, given: Any) -> Verdict:
    """Return the verdict on an answer that comes in time."""
    return judge(question, Answer(given, 0.5), 60.0)


def marks(player: Player) -> st.SearchStrategy[frozenset[Place]]:
    """Some places of a neck."""
    return st.frozensets(st.sampled_from(player.neck.places), max_size=8)


def places(text: str) -> frozenset[Place]:
    """Read ``"3/5 1/7"``."""
    return frozenset(map(Place.parse, text.split()))
