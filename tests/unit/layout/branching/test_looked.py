"""What is seen of nodes: which are layouts, how much the others miss, and how their children part."""

from __future__ import annotations

import numpy as np
import pytest
from laying import cloth, flaw, piece
from searching import root_of

from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.branching.looked import Looked
from coverlayout.layout.branching.nodes import Nodes
from coverlayout.layout.branching.settling import settle
from coverlayout.layout.question import Question

# Keeps a job from being mirrored, and is in nobody's way.
SPOT = flaw(rectangle(1, 1, 199, 149), "spot")
TWO = Question((piece("a", 40, 30), piece("b", 20, 50)), (cloth(200, 150, keep_outs=(SPOT,)),))


def looked_at(nodes: Nodes) -> Looked:
    return Looked(*settle(nodes))


def test_pieces_on_each_other_miss_what_would_part_them_soonest() -> None:
    looked = looked_at(root_of(TWO))
    assert list(looked.layouts()) == []
    # Both at the top left: 20 mm of b's width and 30 mm of a's height would part them; b to the left of a by 20.
    assert looked.missing_mm().tolist() == pytest.approx([20.0])


def test_a_child_for_each_side_of_which_none_has_what_an_elder_has() -> None:
    (children,) = looked_at(root_of(TWO)).children()
    assert len(children) == 4
    looked = looked_at(children)
    assert looked.missing_mm().tolist() == [0.0] * 4
    places = [layout.places.round(6).tolist() for layout in looked.layouts()]
    # The nearest side first: b left of a, a over b, a left of b, b over a.
    assert places == [
        [[20.0, 0.0], [0.0, 0.0]],
        [[0.0, 0.0], [0.0, 30.0]],
        [[0.0, 0.0], [40.0, 0.0]],
        [[0.0, 50.0], [0.0, 0.0]],
    ]
    # The second may not lie left of a any more: that is barred, and told along the axis as well.
    assert children.barred[:, 1].sum() == 1
    assert np.isfinite(children.paths[0][1]).all()


def test_looking_costs_more_the_more_there_is_to_look_at() -> None:
    (children,) = looked_at(root_of(TWO)).children()
    assert looked_at(children).steps > looked_at(children.take(slice(0, 1))).steps > 0
