"""What a session consists of, and how questions are shared out."""

from itertools import islice, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fretdrill.engine.packs import read_pack
from fretdrill.errors import ManyFaults
from fretdrill.practice.program import Program, share_out

from .samples import PLAYER, drill, program

WEIGHTS = st.lists(st.integers(1, 500), min_size=1, max_size=12)


@given(st.integers(0, 2000), WEIGHTS)
def test_shares_add_up_and_lie_within_one_of_the_exact_share(total, weights):
    shares = share_out(total, weights)
    assert len(shares) == len(weights)
    assert sum(shares) == total
    for share, weight in zip(shares, weights, strict=True):
        assert abs(share - total * weight / sum(weights)) < 1
        assert share >= 0


@given(st.integers(0, 2000), WEIGHTS)
def test_more_weight_never_gets_less(total, weights):
    pairs = sorted(zip(weights, share_out(total, weights), strict=True))
    for (light, fewer), (heavy, more) in pairwise(pairs):
        assert light == heavy or fewer <= more


def test_earlier_drills_win_ties():
    assert share_out(1, [3, 3, 3]) == [1, 0, 0]
    assert share_out(10, [4, 3, 3]) == [4, 3, 3]
    assert share_out(5, [4, 3, 3]) == [2, 2, 1]


def test_drills_are_taken_in_order_with_their_own_counts():
    order = program(drill(count=2), drill("name", count=3)).order()
    assert list(order) == [0, 0, 1, 1, 1]


def test_a_count_is_shared_out_in_proportion():
    chosen = program(drill(count=4), drill("name", count=2), count=9)
    assert list(chosen.order()) == [0] * 6 + [1] * 3
    assert chosen.length == 9


def test_minutes_alone_go_round_the_drills_without_end():
    chosen = program(drill(count=2), drill("name", count=1), minutes=3)
    assert chosen.length is None
    assert list(islice(chosen.order(), 7)) == [0, 0, 1, 0, 0, 1, 0]


def test_a_pack_brings_its_title_and_drills():
    pack = read_pack('title = "A"\n[[drill]]\nkind = "name"\ncount = 3\n', "a.toml")
    chosen = Program.of_pack(pack)
    assert (chosen.title, chosen.length, len(chosen.drills)) == ("A", 3, 1)


def test_all_drills_that_cannot_be_asked_are_told_at_once():
    chosen = program(drill(), drill("name", "string 9"), drill("find", "position 30"))
    with pytest.raises(ManyFaults) as caught:
        chosen.check(PLAYER)
    assert [fault.key for fault in caught.value.faults] == ["drill[2]", "drill[3]"]
