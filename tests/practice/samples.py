"""Sittings, attempts and programs that the practice tests share."""

from fretdrill.engine.drill import Drill
from fretdrill.engine.noteset import NoteSet
from fretdrill.engine.part import Part as Stage
from fretdrill.engine.player import Player
from fretdrill.hand.hand import Hand
from fretdrill.neck.neck import Neck
from fretdrill.neck.scope import Scope
from fretdrill.practice.attempt import Attempt, Sitting
from fretdrill.practice.program import Program

PLAYER = Player(Neck(), Hand())
SITTING = Sitting(1_790_000_000_000, "Fifth position", 7)


def attempt(number: int = 1, **changes: object) -> Attempt:
    values: dict[str, object] = {
        "number": number,
        "kind": "find",
        "drill": "find; position 5; naturals; shuffled",
        "player": "E1 A1 D2 G2; 24 frets; 863.6 mm; medium; reach; flats",
        "level": 2,
        "focus": "D",
        "answer": "3/5 1/7",
        "accuracy": 1.0,
        "points": 100,
        "seconds": 4.25,
        "target_s": 9.0,
        "units": 2,
        "at_ms": 1_790_000_001_000 + number,
    }
    return Attempt(**{**values, **changes})  # type: ignore[arg-type]


def drill(kind: str = "find", *scopes: str, notes: str = "naturals", count: int = 10) -> Drill:
    parsed = tuple(map(Scope.parse, scopes or ("position 5", "whole neck")))
    return Drill(kind, tuple(Stage(scope, NoteSet.parse(notes)) for scope in parsed), count=count)


def program(*drills: Drill, count: int | None = None, minutes: float | None = None) -> Program:
    return Program("Test", drills or (drill(),), count, minutes)
