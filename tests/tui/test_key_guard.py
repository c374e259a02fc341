"""A key held down is told from one that is pressed again.

Limits as the rule is written: what follows the same key within 0.12 s is held down, what
comes 0.7 s later or more is pressed, what lies between may be either.
"""

from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.tui.key_guard import KeyGuard, Press

CLOSE = st.floats(0, 0.119)
BETWEEN = st.floats(0.121, 0.699)
LONG = st.floats(0.701, 100)
ANEW, HELD, UNSURE = Press.ANEW, Press.HELD, Press.UNSURE


@given(BETWEEN, st.lists(CLOSE, max_size=60), st.floats(0, 1e6))
@settings(max_examples=100)
def test_a_stream_of_one_key_counts_once(first: float, gaps: list[float], start: float) -> None:
    """The second of a stream may be a press; the third, close behind, tells that it was not."""
    guard, now = KeyGuard(), start
    answers = [guard.take("enter", now)]
    for gap in (first, *gaps):
        now += gap
        answers.append(guard.take("enter", now))
    assert answers == [ANEW, UNSURE, *[HELD] * len(gaps)]


@given(st.lists(LONG, max_size=30))
@settings(max_examples=60)
def test_a_key_pressed_again_at_leisure_counts_each_time(gaps: list[float]) -> None:
    guard, now = KeyGuard(), 0.0
    assert guard.take("enter", now) is ANEW
    for gap in gaps:
        now += gap
        assert guard.take("enter", now) is ANEW


@given(
    st.lists(
        st.tuples(
            st.sampled_from("ab"),
            st.one_of(
                st.tuples(CLOSE, st.just(HELD)),
                st.tuples(BETWEEN, st.just(UNSURE)),
                st.tuples(LONG, st.just(ANEW)),
            ),
        ),
        min_size=1,
        max_size=60,
    )
)
@settings(max_examples=100)
def test_another_key_in_between_means_that_the_first_was_let_go(
    stream: list[tuple[str, tuple[float, Press]]],
) -> None:
    guard, now, last = KeyGuard(), 0.0, ""
    for key, (gap, if_same) in stream:
        now += gap
        assert guard.take(key, now) is (if_same if key == last else ANEW)
        last = key


def test_usual_keyboard_repeat_is_one_press() -> None:
    """Half a second before the first repeat, then 30 a second: common practice, no source."""
    guard = KeyGuard()
    times = [0.0, *(0.5 + n / 30 for n in range(90))]
    assert [guard.take("enter", at) for at in times] == [ANEW, UNSURE, *[HELD] * 89]
    assert guard.take("enter", times[-1] + 0.75) is ANEW


def test_no_common_delay_before_a_repeat_counts_as_a_press() -> None:
    """A quarter to two thirds of a second, then 10 to 40 a second: common settings, no source."""
    for delay in (0.25, 0.4, 0.5, 0.6, 0.66):
        for rate in (10, 20, 30, 40):
            guard = KeyGuard()
            times = [5.0, *(5.0 + delay + n / rate for n in range(20))]
            assert [guard.take("a", at) for at in times] == [ANEW, UNSURE, *[HELD] * 19]


def test_the_first_key_ever_is_pressed() -> None:
    assert KeyGuard().take("enter", 0.0) is ANEW


@given(st.floats(0, 0.699))
def test_what_is_forgotten_is_pressed_next_time(gap: float) -> None:
    guard = KeyGuard()
    guard.take("enter", 0.0)
    guard.forget()
    assert guard.take("enter", gap) is ANEW
    assert guard.take("enter", gap + 0.05) is HELD
