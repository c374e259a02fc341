"""Drills: levels, the ladder between them, and what is asked next."""

from collections import Counter
from itertools import pairwise
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.engine.drill import Drill, Ladder, Standing, choose, need
from fretdrill.engine.question import Answer, Question
from fretdrill.engine.registry import kind_named
from fretdrill.errors import InputError, NothingToAsk
from fretdrill.practice.session import judge

from .cases import NOTE_SETS, instrument, instruments, note_texts, parts, stage

ANSWERS = st.lists(st.tuples(st.booleans(), st.booleans()), max_size=60)


def drill(*scopes: str, kind: str = "find", notes: str = "naturals", order: str = "shuffled"):
    return Drill(
        kind,
        tuple(stage(scope, notes) for scope in scopes),
        order,
    )


# Levels


@pytest.mark.parametrize("count", [1, 2, 3, 5, 8])
def test_scopes_open_one_after_another_and_the_last_one_stays(count):
    scopes = [f"frets 1-{4 + i}" for i in range(count)]
    grown = drill(*scopes)
    reached = [scopes.index(str(grown.stage_at(n).scope)) for n in range(grown.top_level + 1)]
    assert reached[0] == 0
    assert reached[-1] == count - 1
    assert all(later - earlier in (0, 1) for earlier, later in pairwise(reached))


@pytest.mark.parametrize("count", [1, 2, 3, 5, 8])
def test_each_level_is_harder_by_a_wider_scope_or_less_time(count):
    scopes = [f"frets 1-{4 + i}" for i in range(count)]
    grown = drill(*scopes)
    hardness = [
        (scopes.index(str(grown.stage_at(n).scope)), -grown.time_factor_at(n))
        for n in range(grown.top_level + 1)
    ]
    assert hardness == sorted(set(hardness))


def test_target_time_never_grows_within_a_scope_and_ends_below_the_own_pace():
    grown = drill("position 5", "whole neck")
    factors = {}
    for level in range(grown.top_level + 1):
        factors.setdefault(str(grown.stage_at(level).scope), []).append(grown.time_factor_at(level))
    assert all(steps == sorted(steps, reverse=True) for steps in factors.values())
    assert grown.time_factor_at(0) > 1 > grown.time_factor_at(grown.top_level)


@pytest.mark.parametrize(
    ("changed", "settings_now"),
    [
        ("kind", {"kind": "name"}),
        ("notes", {"notes": "chromatic"}),
        ("order", {"order": "listed"}),
    ],
)
def test_the_key_tells_drills_apart(changed, settings_now):
    assert drill("position 5").key == drill("position V").key
    assert drill("position 5").key != drill("position 5", **settings_now).key, changed
    assert drill("position 5").key != drill("position 6").key
    assert drill("position 5").key != drill("position 5", "whole neck").key


# The ladder


def stand_by_counting(answers: list[tuple[bool, bool]], top: int) -> int:
    """Return the level by the plain words: 3 right in time climb, 2 wrong in a row drop."""
    level, since, run = 0, [], []
    for right, in_time in answers:
        run = [] if right else [*run, "wrong"]
        if right and in_time:
            since = [*since, "right"]
        elif not right:
            since = []
        if len(since) == 3:
            level, since = min(top, level + 1), []
        if len(run) == 2:
            level, run, since = max(0, level - 1), [], []
    return level


@given(ANSWERS, st.integers(0, 12))
@settings(max_examples=300)
def test_replaying_is_folding_and_both_are_plain_counting(answers, top):
    folded = Ladder()
    for right, in_time in answers:
        before = folded
        folded = folded.after(right=right, in_time=in_time, top=top)
        assert abs(folded.level - before.level) <= 1
        assert 0 <= folded.level <= top
        if not (right and in_time):
            assert folded.level <= before.level
        if right:
            assert folded.level >= before.level
    assert Ladder.replay(answers, top) == folded
    assert folded.level == stand_by_counting(answers, top)


@given(ANSWERS, ANSWERS, st.integers(0, 12))
def test_a_ladder_goes_on_from_where_it_stood(before, after, top):
    ladder = Ladder.replay(before, top)
    for right, in_time in after:
        ladder = ladder.after(right=right, in_time=in_time, top=top)
    assert ladder == Ladder.replay(before + after, top)


def test_right_but_slow_never_moves_the_level():
    assert Ladder.replay([(True, False)] * 50, 9).level == 0


def test_only_right_answers_in_time_open_the_next_level():
    assert Ladder.replay([(True, True)] * 2, 9).level == 0
    assert Ladder.replay([(True, True)] * 3, 9).level == 1
    assert Ladder.replay([(True, True)] * 300, 9).level == 9


def ask(grown: Drill, level: int, seed: int, standing: Standing | None = None) -> Question:
    return grown.ask(instrument().player, level, Random(seed), standing or Standing({}))


@given(st.integers(0, 2**32), st.integers(0, 8))
@settings(max_examples=60, deadline=None)
def test_the_generator_chooses_the_focus_but_never_the_scope(seed, level):
    grown = drill("position 5", "position 7", "whole neck")
    question = ask(grown, level, seed)
    assert question.scope == grown.stage_at(level).scope
    assert question == ask(grown, level, seed)


# What can be asked


@given(instruments(), st.data(), note_texts, st.sampled_from(("find", "name", "finger")))
@settings(max_examples=80, deadline=None)
def test_a_drill_that_passes_its_check_can_be_asked_at_every_level(bass, data, notes, kind):
    neck = bass.player.neck
    chosen = data.draw(
        st.lists(parts(len(bass.open_midi), neck.frets), min_size=1, max_size=3), label="parts"
    )
    grown = Drill(
        kind,
        tuple(stage(part.text, notes) for part in chosen),
    )
    try:
        grown.check(bass.player)
    except NothingToAsk:
        if kind == "finger":  # notes may lie beside the resting fingers
            return
        hits = [
            {
                bass.midi(s, f) % 12
                for s, f in part.places(neck.frets)
                if f > 0 or kind != "name"  # open strings are never asked by name
            }
            & NOTE_SETS[notes]
            for part in chosen
        ]
        assert not all(hits)
        return
    for level in range(grown.top_level + 1):
        question = grown.ask(bass.player, level, Random(level), Standing({}))
        verdict = judge(question, Answer(question.right, 0.0), 1.0)
        assert verdict.points == 100


@pytest.mark.parametrize(
    ("scope", "message"),
    [("position 30", "beyond the last fret"), ("string 5", "no string 5"), ("frets 25-30", "24")],
)
def test_a_scope_off_the_neck_is_refused(scope, message):
    with pytest.raises(InputError, match=message):
        drill("position 5", scope).check(instrument().player)


def test_notes_that_do_not_lie_in_the_scope_are_refused():
    # The D string's fifth position is G Ab A Bb, so there is no E.
    with pytest.raises(NothingToAsk, match="no note of 'E' can be asked in 'position 5, string 2'"):
        drill("position 5, string 2", notes="E").check(instrument().player)


# What is asked next

FOCI = st.lists(st.text("abcdefg", min_size=1, max_size=2), min_size=1, max_size=8, unique=True)


@st.composite
def standings(draw: st.DrawFn, foci: list[str]) -> Standing:
    met = draw(st.sets(st.sampled_from(foci)))
    weights = {focus: draw(st.sampled_from((1.0, 2.0, 4.0))) for focus in sorted(met)}
    recent = draw(st.lists(st.sampled_from(sorted(met)), max_size=2)) if met else []
    return Standing(weights, tuple(recent))


@given(st.data(), FOCI, st.sampled_from(("shuffled", "listed")), st.integers())
@settings(max_examples=300)
def test_nothing_is_asked_twice_in_a_row_while_there_is_something_else(data, foci, order, seed):
    standing = data.draw(standings(foci))
    chosen = choose(tuple(foci), standing, order, Random(seed))
    assert chosen in foci
    if len(foci) > 1 and standing.recent:
        assert chosen != standing.recent[-1]
    if len(foci) > 2:
        assert chosen not in standing.recent
    assert choose(tuple(foci), standing, order, Random(seed)) == chosen


@given(FOCI, st.integers(), st.integers(10, 60))
@settings(max_examples=100)
def test_listed_order_brings_new_things_as_they_are_listed(foci, seed, length):
    rng, standing, met = Random(seed), Standing({}), []
    for _ in range(length):
        focus = choose(tuple(foci), standing, "listed", rng)
        if focus not in met:
            met.append(focus)
        standing = Standing({**standing.weights, focus: 1.0}, (*standing.recent, focus)[-2:])
    assert met == foci[: len(met)]


def test_listed_order_gets_through_the_list():
    foci, rng, standing = tuple("abcdef"), Random(1), Standing({})
    for _ in range(40):
        focus = choose(foci, standing, "listed", rng)
        standing = Standing({**standing.weights, focus: 1.0}, (*standing.recent, focus)[-2:])
    assert set(standing.weights) == set(foci)


@given(st.data(), FOCI, st.sampled_from(("shuffled", "listed")), st.integers())
@settings(max_examples=300)
def test_the_same_subject_is_not_asked_twice_in_a_row_while_there_is_another(
    data, foci, order, seed
):
    standing = data.draw(standings(foci))
    chosen = choose(tuple(foci), standing, order, Random(seed), lambda focus: focus[0])
    assert chosen in foci
    if standing.recent and {focus[0] for focus in foci} != {standing.recent[-1][0]}:
        assert chosen[0] != standing.recent[-1][0]


@pytest.mark.parametrize("seed", range(20))
def test_the_same_finger_is_not_asked_twice_in_a_row_on_another_string(seed):
    grown, rng, standing = drill("position 5", kind="finger", notes="chromatic"), Random(seed), None
    frets = []
    for _ in range(15):
        question = grown.ask(instrument().player, 0, rng, standing or Standing({}))
        frets.append(question.task.place.fret)
        standing = (standing or Standing({})).after(judge(question, Answer(None, 1.0), 5.0))
    assert all(one != other for one, other in pairwise(frets))


def test_the_only_finger_there_is_is_asked_again():
    foci = ("5:3/5", "5:2/5")
    standing = Standing({"5:3/5": 1.0}, ("5:3/5",))
    subject = kind_named("finger").subject
    assert choose(foci, standing, "shuffled", Random(1), subject) in foci


def test_what_needs_asking_comes_in_proportion():
    weights = {"well": 1.0, "slow": 2.0, "wrong": 4.0}
    counts = Counter(
        choose(tuple(weights), Standing(weights), "shuffled", Random(seed)) for seed in range(7000)
    )
    # Binomial: five standard deviations of 7000 draws at p = 4/7 are 207.
    for focus, weight in weights.items():
        assert abs(counts[focus] - 1000 * weight) < 210


def test_wrong_needs_more_than_slow_and_slow_more_than_well():
    wrong = need(right=False, in_time=True)
    assert wrong == need(right=False, in_time=False)
    assert wrong > need(right=True, in_time=False) > need(right=True, in_time=True) > 0


def test_a_standing_keeps_the_last_answer_to_each_focus():
    question = ask(drill("position 5"), 0, 1)
    right = judge(question, Answer(question.right, 1.0), 5.0)
    wrong = judge(question, Answer(None, 1.0), 5.0)
    standing = Standing({}).after(right)
    assert standing.weights == {question.focus: need(right=True, in_time=True)}
    standing = standing.after(wrong)
    assert standing.weights == {question.focus: need(right=False, in_time=True)}
    assert standing.after(right).recent == (question.focus, question.focus)
