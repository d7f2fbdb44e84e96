"""Guides are plain values with a name each."""

from __future__ import annotations

import pickle
from typing import get_args

from coverlayout.layout.guiding.guide import RANK, Caught, Guide, GuideKind, said
from coverlayout.units import LengthStyle


def test_every_kind_has_a_rank_and_a_name() -> None:
    kinds = get_args(GuideKind)
    assert set(RANK) == set(kinds)
    assert sorted(RANK.values()) == list(range(len(kinds)))
    words = [said(kind, ("Back cover", "Label"), 12.7).text() for kind in kinds]
    assert len(set(words)) == len(kinds)
    assert said("level", ("Back cover",)).text() == "level with Back cover"
    assert said("repeat", ("Back cover",)).text() == "same place in the repeat as Back cover"
    assert said("room-edge", (), 6.0).text() == "6 mm room to the edge"


def test_lengths_are_shown_in_the_makers_unit() -> None:
    assert said("gap", ("Label",), 25.4).text(LengthStyle(unit="in").show) == "1.00 in gap to Label"


def test_what_the_knife_follows_comes_before_what_is_in_line() -> None:
    assert RANK["touch"] < RANK["like"] < RANK["room"] < RANK["level"] < RANK["middle"] < RANK["anchor"]


def test_a_guide_is_a_value_that_travels() -> None:
    guide = Guide("level", said("level", ("Label",)), (((0.0, 1.0), (5.0, 1.0)),), (0.0, -2.0))
    caught = Caught((0.0, -2.0), (guide,))
    assert pickle.loads(pickle.dumps(caught)) == caught
    assert len({caught, Caught((0.0, -2.0), (guide,)), Caught()}) == 2
