"""A plan as plain data: the contract of ``fretdrill plan --json``.

Notes are counted from 1, string 1 is the highest, finger 0 is an open string, times
are seconds, lengths millimetres, beats are counted from 1 in the metre's lower number.
"""

import re
from collections.abc import Sequence
from dataclasses import fields, is_dataclass
from enum import Enum
from typing import Any

from fretdrill.hand.plan import HardSpot, Plan, Shift
from fretdrill.hand.problem import Path
from fretdrill.hand.reasons import Reason
from fretdrill.presentation.names import Names
from fretdrill.presentation.plan_words import PlanWords
from fretdrill.theory.line import Line

_NOTE_FIELDS = {"index", "at"}
_WORD = re.compile(r"(?<!^)(?=[A-Z])")


def plan_data(plan: Plan, reasons: Sequence[Reason], dropped: Sequence[str]) -> dict[str, Any]:
    """Return a plan as the contract has it."""
    words = PlanWords(plan, Names(ascii_only=True))
    model = plan.solution.problem.model
    line = plan.line
    return {
        "line": _line(line),
        "neck": {
            "tuning": str(model.neck.tuning).split(),
            "frets": model.neck.frets,
            "scale_mm": model.neck.scale_mm,
        },
        "hand": {
            "size": model.hand.size,
            "system": model.hand.system,
            "pace_s_per_bit": model.hand.pace,
        },
        "cost": plan.cost,
        "notes": [_note(plan, index) for index in range(len(line.notes))],
        "shifts": [_shift(shift) for shift in plan.shifts],
        "hard_spots": [_hard_spot(line, spot) for spot in plan.hard_spots],
        "reasons": [{**_reason(reason), "text": words.reason(reason)} for reason in reasons],
        "dropped": list(dropped),
    }


def path_data(path: Path) -> dict[str, Any]:
    """Return one of several ways to play a line."""
    states = [{**state.choice._asdict(), "position": state.anchor} for state in path.states]
    return {"cost": path.cost, "notes": states}


def _line(line: Line) -> dict[str, Any]:
    return {
        "title": line.title,
        "tempo_bpm": line.tempos[0].bpm,
        "meter": str(line.metre),
        "key": None if line.key is None else str(line.key),
        "notes": len(line.notes),
    }


def _moment(line: Line, index: int) -> dict[str, Any]:
    onset = line.notes[index].onset
    return {
        "index": index + 1,
        "bar": line.bar_at(onset).number,
        "beat": _rounded(float(line.beat_at(onset))),
    }


def _note(plan: Plan, index: int) -> dict[str, Any]:
    note, state = plan.line.notes[index], plan.states[index]
    return {
        **_moment(plan.line, index),
        "onset_s": _rounded(plan.line.seconds_at(note.onset)),
        "duration_s": _rounded(plan.line.seconds_between(note.onset, note.end)),
        "midi": note.pitch.midi,
        "name": str(note.pitch),
        "string": state.string,
        "fret": state.fret,
        "finger": state.finger,
        "position": state.anchor,
        "cost": plan.path.costs[index],
        "ready": plan.ready(index),
        "choices": [
            {**rated.choice._asdict(), "regret": rated.regret} for rated in plan.choices(index)
        ],
    }


def _shift(shift: Shift) -> dict[str, Any]:
    return {
        "from_index": shift.index + 1,
        "to_index": shift.index + 2,
        "from_position": shift.from_position,
        "to_position": shift.to_position,
        "distance_mm": _rounded(shift.distance_mm),
        "needs_s": _rounded(shift.needs_s),
        "available_s": _rounded(shift.available_s),
        "taken_from": shift.taken_from.value,
        "shortened_s": _rounded(shift.shortened_s),
    }


def _hard_spot(line: Line, spot: HardSpot) -> dict[str, Any]:
    return {**_moment(line, spot.index), "cost": spot.cost, "terms": spot.terms}


def _reason(reason: Reason) -> dict[str, Any]:
    kind = _WORD.sub(" ", type(reason).__name__).lower()
    return {"kind": kind, **_plain(reason)}


def _plain(value: Any) -> Any:
    """Return data classes, named tuples and enums as JSON has them; notes from 1."""
    if isinstance(value, Shift):
        return _shift(value)
    if is_dataclass(value) and not isinstance(value, type):
        items = {field.name: getattr(value, field.name) for field in fields(value)}
        return {
            name: item + 1 if name in _NOTE_FIELDS else _plain(item) for name, item in items.items()
        }
    if isinstance(value, tuple) and hasattr(value, "_asdict"):
        return {name: _plain(item) for name, item in value._asdict().items()}
    if isinstance(value, Enum):
        return value.value
    return _rounded(value) if isinstance(value, float) else value


def _rounded(value: float) -> float:
    return round(value, 6)
