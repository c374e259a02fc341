"""A key held down counts once."""

from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.tui.key_guard import KeyGuard

SHORT = st.floats(0, 0.69)
LONG = st.floats(0.71, 100)


@given(st.lists(SHORT, max_size=60), st.floats(0, 1e6))
@settings(max_examples=100)
def test_a_stream_of_one_key_counts_once(gaps: list[float], start: float) -> None:
    guard, now = KeyGuard(), start
    answers = [guard.is_repeat("enter", now)]
    for gap in gaps:
        now += gap
        answers.append(guard.is_repeat("enter", now))
    assert answers.count(False) == 1
    assert answers[0] is False


@given(st.lists(LONG, max_size=30))
@settings(max_examples=60)
def test_a_key_pressed_again_at_leisure_counts_each_time(gaps: list[float]) -> None:
    guard, now = KeyGuard(), 0.0
    assert not guard.is_repeat("enter", now)
    for gap in gaps:
        now += gap
        assert not guard.is_repeat("enter", now)


@given(st.lists(st.tuples(st.sampled_from("ab"), SHORT), min_size=1, max_size=60))
@settings(max_examples=100)
def test_another_key_in_between_means_that_the_first_was_let_go(
    stream: list[tuple[str, float]],
) -> None:
    guard, now, last = KeyGuard(), 0.0, ""
    for key, gap in stream:
        now += gap
        assert guard.is_repeat(key, now) == (key == last)
        last = key


def test_usual_keyboard_repeat_is_one_press() -> None:
    """Half a second before the first repeat, then 30 a second: common practice, no source."""
    guard = KeyGuard()
    times = [0.0, *(0.5 + n / 30 for n in range(90))]
    assert [guard.is_repeat("enter", at) for at in times].count(False) == 1
    assert not guard.is_repeat("enter", times[-1] + 0.75)


def test_the_first_key_ever_is_no_repeat() -> None:
    assert not KeyGuard().is_repeat("enter", 0.0)
