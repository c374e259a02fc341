"""The words: tasks, verdicts and reasons as a teacher would say them.

One place for all that is said about notes, places, fingers and results, so that
both front ends say the same and a screen never builds a sentence. :class:`Words`
knows how the player sees accidentals; everything else comes in as data.
"""

from dataclasses import dataclass
from itertools import zip_longest
from typing import Any

from fretdrill.engine import line_reasons
from fretdrill.engine import reasons as why
from fretdrill.engine.kinds.read import full_answer
from fretdrill.engine.part import Part
from fretdrill.engine.question import (
    AfterNote,
    AnswerForm,
    ChooseShift,
    FindNote,
    FindTones,
    FingerAhead,
    Fingering,
    FingerPlace,
    Given,
    Grade,
    Joining,
    JoinNotes,
    NamePlace,
    Question,
    ReadNotes,
    Verdict,
)
from fretdrill.hand.hand import Hand
from fretdrill.hand.reach import finger_offsets
from fretdrill.neck.neck import Neck, Place, in_order
from fretdrill.neck.position import ordinal, roman
from fretdrill.neck.scope import Scope
from fretdrill.practice.attempt import PastSitting
from fretdrill.practice.session import Result, Session
from fretdrill.presentation import line_task_words, tone_words
from fretdrill.presentation.names import Names, frets_away, small_number
from fretdrill.theory.chord import Chord
from fretdrill.theory.key import Key
from fretdrill.theory.pitch import NoteName

SAFETY = (
    "Playing can hurt. Warm up first, stop at pain or numbness, rest every 25 minutes, and ask "
    "a teacher or a clinician when it does not pass. Fingerings here are advice; your hand and "
    "your teacher decide."
)

MOST_TO_PRACTISE = 3


@dataclass(frozen=True)
class Words(Names):
    """Says things about drills."""

    # Parts of the neck

    def _strings(self, neck: Neck, strings: list[int]) -> str:
        names = [self.string(neck, string) for string in strings]
        if not all(name.endswith(" string") for name in names):
            return _and(names)
        letters = _and([name.removesuffix(" string") for name in names])
        return f"the {letters} {'string' if len(names) == 1 else 'strings'}"

    def scope(self, neck: Neck, scope: Scope) -> str:
        """Return a part of the neck with its preposition: ``"in fifth position …"``."""
        last = min(scope.last_fret, neck.frets)
        frets = f"frets {scope.first_fret} to {last}"
        every_fret = scope.first_fret == 1 and last == neck.frets
        parts = []
        if scope.position is not None:
            name, numeral = ordinal(scope.position), roman(scope.position)
            parts.append(f"in {name} position ({numeral}, {frets})")
        elif not every_fret:
            parts.append(f"from fret {scope.first_fret} to {last}")
        elif scope.strings is None:
            parts.append("on the whole neck")
        if scope.strings is not None:
            parts.append(f"on {self._strings(neck, sorted(scope.strings, reverse=True))}")
        if scope.open_strings != every_fret:
            parts.append("open strings too" if scope.open_strings else "without open strings")
        return ", ".join(parts)

    def hand_row(self, neck: Neck, hand: Hand, position: int) -> str:
        """Return what to say of the hand in a position."""
        last = min(neck.frets, position + max(finger_offsets(neck, hand, position).values()))
        system = self._system(neck, hand, position)
        return f"{roman(position)}  {system}, {neck.span_mm(position, last):.0f} mm"

    # Tasks

    def task(self, question: Question) -> str:
        """Return what is asked."""
        neck = question.player.neck
        match question.task:
            case FindNote(name, context):
                note = f"{self.note(name)}{self._degree(name, context)}"
                return f"Find every {note} {self.scope(neck, question.scope)}."
            case NamePlace(place, context):
                within = f", in {self._context(context)}" if context else ""
                return f"Name the note{within}: {self.place(neck, place)}."
            case FingerPlace(place, position):
                system = self._system(neck, question.player.hand, position)
                where = f"{ordinal(position).capitalize()} position ({roman(position)}), {system}"
                return f"{where}: which finger takes {self.place(neck, place)}?"
            case FingerAhead() | ChooseShift() as task:
                return line_task_words.task_text(self, question, task)
            case FindTones() | ReadNotes() | JoinNotes() as task:
                return tone_words.task_text(self, question, task)

    def _context(self, context: Key | Chord) -> str:
        return context.text(ascii_only=self.ascii_only)

    def _degree(self, name: NoteName, context: Key | Chord | None) -> str:
        """Return what a note is in a chord, in brackets; nothing in a key."""
        if not isinstance(context, Chord):
            return ""
        degree = context.degrees[context.tones.index(name)]
        if not self.ascii_only:
            degree = degree.replace("b", "♭").replace("#", "♯")
        return f" ({degree} of {self._context(context)})"

    @staticmethod
    def _system(neck: Neck, hand: Hand, position: int) -> str:
        offsets = finger_offsets(neck, hand, position)
        return "one finger per fret" if 3 in offsets else "1-2-4"

    def hint(self, question: Question) -> str:
        """Return what helps to know when to stop."""
        if question.form is AnswerForm.PLACES and not isinstance(question.task, ReadNotes):
            return "1 place" if question.units == 1 else f"{question.units} places"
        return ""

    def given(self, question: Question, given: Given) -> str:
        """Return an answer in words."""
        neck = question.player.neck
        if isinstance(given, frozenset):
            return "; ".join(self.place(neck, place) for place in in_order(given))
        match given:
            case NoteName():
                return self.note(given)
            case Fingering() | AfterNote():
                return line_task_words.given_text(self, question, given)
            case Joining():
                return given.value
        return f"finger {given}" if given else "open, no finger"

    # Verdicts

    def grade(self, verdict: Verdict) -> str:
        """Return a verdict's word."""
        if verdict.answer.given is None:
            return "given up"
        if verdict.grade is not None:
            return self._grade(verdict, verdict.grade)
        if verdict.right:
            return "right"
        right, marked = verdict.question.right, verdict.answer.given
        if isinstance(verdict.question.task, ReadNotes) and isinstance(marked, frozenset):
            right = full_answer(verdict.question, marked)
        if not isinstance(right, frozenset) or not isinstance(marked, frozenset):
            given = verdict.answer.given
            return f"not {self.given(verdict.question, given)}" if given else "not open"
        wrong = len(marked - right)
        found = f"{len(marked & right)} of {len(right)} found"
        return f"{found}, {wrong} wrong" if wrong else found

    @staticmethod
    def _grade(verdict: Verdict, grade: Grade) -> str:
        if any(isinstance(reason, line_reasons.NoWayToTake) for reason in verdict.reasons):
            return "cannot be taken so"
        if isinstance(verdict.question.task, ChooseShift) and grade is Grade.NO_FINGER:
            late = any(isinstance(r, line_reasons.ShiftAfter) and r.given for r in verdict.reasons)
            return "no time for it there" if late else "not there"
        return grade.value

    def verdict(self, verdict: Verdict) -> str:
        """Return a verdict in a line: points, word, time."""
        points = "1 point" if verdict.points == 1 else f"{verdict.points} points"
        return f"{points}: {self.grade(verdict)}, {seconds(verdict.answer.seconds)}"

    def reasons(self, verdict: Verdict) -> list[str]:
        """Return the reasons, a sentence or two each."""
        shown = verdict.answer.given is None
        told = (self._reason(verdict.question, reason, shown) for reason in verdict.reasons)
        return [f"{text[:1].upper()}{text[1:]}" for text in told]

    def _reason(self, question: Question, reason: why.Reason, shown: bool) -> str:
        neck = question.player.neck
        match reason:
            case why.Missed(place, way):
                missed = "" if shown else "Missed: "
                return f"{missed}{self.place(neck, place)}{self._way(neck, place, way)}."
            case why.WrongPlace():
                return self._wrong_place(neck, reason)
            case why.OutsideScope(place):
                where = self.scope(neck, question.scope)
                return f"{self.place(neck, place)} is the right note, but not {where}."
            case why.OtherSpelling():
                return self._other_spelling(reason)
            case why.NoteThere(place, name, way):
                there = f"{self.place(neck, place)} is {self.note(name)}"
                return f"{there}{self._way(neck, place, way)}."
            case why.WrongName():
                return self._wrong_name(reason)
            case why.OtherFinger():
                return self._other_finger(neck, reason)
            case why.UnfitFinger() | why.OpenNeedsNoFinger():
                return self._no_finger(neck, reason)
            case why.GaveUp():
                answer = self.given(question, question.right)
                easiest = isinstance(question.right, Fingering)
                return f"Easiest: {answer}." if easiest else f"{answer[:1].upper()}{answer[1:]}."
            case why.Slow(_, target_s):
                return f"Full points up to {seconds(target_s)}."
        if isinstance(reason, line_reasons.LineReason):
            return line_task_words.reason_text(self, question, reason)
        return tone_words.reason_text(self, question, reason)

    def _wrong_place(self, neck: Neck, reason: why.WrongPlace) -> str:
        text = f"{self.place(neck, reason.place)} is {self.note(reason.sounds)}"
        if reason.nearest is None:
            return f"{text}; there is no {self.note(reason.wanted)} on that string here."
        there = "open" if reason.nearest.fret == 0 else f"fret {reason.nearest.fret}"
        return f"{text}; {self.note(reason.wanted)} on that string is {there}."

    def _other_spelling(self, reason: why.OtherSpelling) -> str:
        given, fitting = self.note(reason.given), self.note(reason.fitting)
        same = f"{given} and {fitting} are the same fret"
        if reason.context is None:
            return f"{same}."
        return f"{same}; {self._context(reason.context)} writes it {fitting}."

    def _way(self, neck: Neck, place: Place, way: why.Landmark) -> str:
        """Return how to find a place, after a comma; nothing for an open string."""
        if place.fret == 0:
            return ""
        start = self.place(neck, way.start)
        if way.relation is why.Relation.UNISON:
            return f", the same pitch as {start}"
        if way.relation is why.Relation.STEPS:
            if way.start.fret == 0:
                return f", {frets_away(way.frets)} above the open string"
            name = self.note(neck.tuning.strings[place.string - 2].name)
            return f", {frets_away(way.frets)} above fret {way.start.fret}, which is {name}"
        octaves = "an octave" if way.relation is why.Relation.OCTAVE else "two octaves"
        above = neck.midi(place) > neck.midi(way.start)
        text = f", {octaves} {'above' if above else 'below'} {start}"
        path = _path(way.strings, way.frets)
        return f"{text}: {path}" if path and way.start.fret else text

    def _wrong_name(self, reason: why.WrongName) -> str:
        given = self.note(reason.given)
        if reason.given_at is None:
            return f"{given} is not on that string."
        if reason.given_at.fret == 0:
            return f"{given} is the open string."
        off = reason.given_at.fret - reason.place.fret
        direction = "up" if off > 0 else "back"
        return f"{given} is {frets_away(off)} {direction}, fret {reason.given_at.fret}."

    def _no_finger(self, neck: Neck, reason: why.UnfitFinger | why.OpenNeedsNoFinger) -> str:
        place = reason.place
        if isinstance(reason, why.UnfitFinger):
            problem = {
                why.Unfit.BEHIND_NUT: "would leave finger 1 behind the nut",
                why.Unfit.SYSTEM: "is not used in 1-2-4",
                why.Unfit.OUT_OF_REACH: (
                    f"does not reach it: {reason.span_mm:.0f} mm from finger 1, "
                    f"{reason.limit_mm:.0f} mm at the most"
                ),
            }[reason.why]
            return f"{_lies(reason)}; finger {reason.given} {problem}."
        if reason.best:
            where = self.place(neck, place)
            return f"{where} is pressed down, not open: finger {reason.best} takes it."
        return f"The open {self.string(neck, place.string)} needs no finger: 0."

    def _other_finger(self, neck: Neck, reason: why.OtherFinger) -> str:
        given = f"{_lies(reason)}; finger {reason.given}"
        if reason.moves:
            there = reason.position + reason.moves
            span = neck.span_mm(reason.position, there)
            way = "up" if reason.moves > 0 else "back"
            path = f"{frets_away(reason.moves)} {way} to {roman(there)}, {span:.0f} mm"
            return f"{given} takes the hand along, {path}."
        if reason.span_mm > reason.comfortable_mm:
            return (
                f"{given} reaches it, {reason.span_mm:.0f} mm from finger 1 where "
                f"{reason.comfortable_mm:.0f} mm is comfortable."
            )
        if reason.rests_on is not None and reason.rests_on < reason.place.fret:
            return f"{given} reaches it too, but has to stretch."
        return f"{given} reaches it too, but the hand closes up."

    # Sessions

    def praise(self, *, recovered: bool) -> str:
        """Return a word for what went wrong last time and right now."""
        return "That one was missed last time; now you have it." if recovered else ""

    def level_change(self, moved: int, neck: Neck, stage: Any, next_stage: Any) -> str:
        """Return what a change of level means, empty if nothing moved."""
        if not moved:
            return ""
        if next_stage != stage:
            wider = "Next level" if moved > 0 else "Back a level"
            return f"{wider}: {self.stage(neck, next_stage)}."
        time = "less" if moved > 0 else "more"
        return f"{'Next' if moved > 0 else 'Back a'} level: {time} time for full points."

    def stage(self, neck: Neck, stage: Any) -> str:
        """Return what a drill is about at a stage."""
        if isinstance(stage, Part):
            return self.scope(neck, stage.scope)
        told = line_task_words.stage_text(stage) or tone_words.stage_text(self, neck, stage)
        return told or str(stage)

    def remarks(self, session: Session) -> list[str]:
        """Return what the last answer of a session means beyond itself."""
        neck = session.player.neck
        said = (
            self.praise(recovered=session.recovered),
            self.level_change(session.level_moved, neck, session.stage, session.next_stage),
        )
        return [remark for remark in said if remark]

    def number(self, session: Session) -> str:
        """Return which question of a session it is: ``"3 of 10"``."""
        return f"{session.number} of {session.length}" if session.length else str(session.number)

    def result(self, result: Result) -> str:
        """Return how a session went, in a line."""
        if not result.verdicts:
            return "No question was answered."
        count = len(result.verdicts)
        return (
            f"{result.points} of {100 * count} points. {result.right} of {count} right, "
            f"typically in {seconds(result.median_s)}, {minutes(result.seconds)} in all."
        )

    def to_practise(self, result: Result) -> str:
        """Return what of a session is worth another look, empty if nothing is."""
        wrong = [verdict.question for verdict in result.verdicts if not verdict.right]
        # Of each kind the first, then of each the second …: no kind hides the others.
        by_kind: dict[str, list[str]] = {}
        for question in wrong:
            subjects = by_kind.setdefault(question.kind, [])
            if self._subject(question) not in subjects:
                subjects.append(self._subject(question))
        in_turn = [s for turn in zip_longest(*by_kind.values()) for s in turn if s]
        subjects = in_turn[:MOST_TO_PRACTISE]
        return f"Worth another look: {'; '.join(subjects)}." if subjects else ""

    def _subject(self, question: Question) -> str:
        neck = question.player.neck
        match question.task:
            case FindNote(name):
                return f"where {self.note(name)} lies"
            case NamePlace(place):
                return self.place(neck, place)
            case FingerPlace(place, position):
                fret = "open strings" if place.fret == 0 else f"fret {place.fret}"
                return f"the finger for {fret} in {ordinal(position)} position"
            case FingerAhead() | ChooseShift() as task:
                return line_task_words.subject_text(self, question, task)
            case FindTones() | ReadNotes() | JoinNotes() as task:
                return tone_words.subject_text(self, question, task)

    def sitting(self, sitting: PastSitting) -> str:
        """Return an earlier session in a line."""
        questions = "1 question" if sitting.questions == 1 else f"{sitting.questions} questions"
        return (
            f"{sitting.started:%d %b %H:%M}  {sitting.title}  {questions}, "
            f"{sitting.points * sitting.questions:.0f} of {100 * sitting.questions} points"
        )

    def label(self, question: Question, place: Place) -> str:
        """Return the note at a place, spelled as the question would."""
        return self.note(question.name_at(place))


def seconds(value: float) -> str:
    """Write a time in seconds."""
    return f"{value:.1f} s"


def minutes(value: float) -> str:
    """Write a time in minutes and seconds."""
    whole = round(value)
    return f"{whole // 60}:{whole % 60:02}"


def _lies(reason: why.OtherFinger | why.UnfitFinger) -> str:
    where = f"In {ordinal(reason.position)} position"
    return f"{where} finger {reason.best} lies over fret {reason.place.fret}"


def _and(parts: list[str]) -> str:
    return parts[0] if len(parts) == 1 else f"{', '.join(parts[:-1])} and {parts[-1]}"


def _path(strings: int, frets: int) -> str:
    """Say how to get from one place to another, such as "two strings over …"."""
    parts = []
    if strings:
        count = "one string" if abs(strings) == 1 else f"{small_number(abs(strings))} strings"
        parts.append(f"{count} {'higher' if strings > 0 else 'lower'}")
    if frets:
        parts.append(f"{frets_away(frets)} {'up' if frets > 0 else 'back'}")
    return ", ".join(parts)
