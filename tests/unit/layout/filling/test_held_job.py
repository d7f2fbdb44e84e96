"""What of a question becomes a job of held rectangles, and what does not."""

from __future__ import annotations

from dataclasses import replace

import pytest
from laying import ANY, cloth, flaw, piece

from coverlayout.geometry.frames import shift
from coverlayout.geometry.shapes import Box, Region, rectangle
from coverlayout.layout.filling.held_job import held_job
from coverlayout.layout.question import Ground, Link, Lock, Placed, Question
from coverlayout.motif.lattice import Lattice

GRID = Lattice((50.0, 0.0), (0.0, 60.0))
PRINTED = Ground("g", Region.of(rectangle(300, 200)), "p", 0.0, GRID, shift(3.0, 8.0))


def test_locks_and_links_name_the_held_items_and_their_partners() -> None:
    on = replace(cloth(300, 200), grounds=(PRINTED,))
    pieces = tuple(piece(name, 40, 30, (0.0, 180.0)) for name in "abcd")
    link = Link(("a", "c"), ((0.0, 0.0),) * 2, ((0.0, 0.0),))
    wish = Link(("a", "b"), ((0.0, 0.0),) * 2, ((0.0, 0.0),), must=False)
    job = held_job(Question(pieces, (on,), locks=(Lock("d", (0.0, 0.0), (0.0, 0.0)),), links=(link, wish)))
    assert job is not None
    assert job.held == {0, 2, 3}
    assert job.groups == ((0, 2), (1,), (0, 2), (3,))
    # A half turn is another place for what is held, and the same for what is not.
    assert [len(item.poses[0]) for item in job.job.items] == [2, 1, 2, 2]


@pytest.mark.parametrize(
    "odd",
    [
        piece("a", 40, 30, None),
        piece("a", 0, 0, outline=((0.0, 0.0), (9.0, 0.0), (0.0, 9.0))),
        piece("a", 4, 3, (10.0,)),
    ],
)
def test_a_piece_that_is_or_lies_slanted_is_not_for_this(odd: object) -> None:
    assert held_job(Question((odd,), (cloth(300, 200),))) is None  # type: ignore[arg-type]  # pieces of any kind


def test_crooked_grounds_flaws_holes_and_cut_pieces_become_blocks() -> None:
    stain = flaw(((50.0, 40.0), (90.0, 60.0), (60.0, 80.0)), seen_only=True)
    hole = flaw(rectangle(20, 20, 150, 60), "hole", spoiled=True)
    cut = piece("cut-1", 40, 30), Placed("cut-1", "c", 170.0, 25.0)
    ell = ((0.0, 0.0), (300.0, 0.0), (300.0, 100.0), (100.0, 100.0), (100.0, 200.0), (0.0, 200.0))
    on = cloth(0, 0, outline=ell, keep_outs=(stain, hole), fixed=(cut,))
    job = held_job(Question((piece("a", 40, 30, ANY),), (on,)))
    assert job is not None
    (sheet,) = job.job.sheets
    assert sheet.box == Box(0.0, 0.0, 300.0, 200.0)
    edges = [block for block in sheet.blocks if block.edge]
    assert [block.box for block in edges] == [Box(100.0, 100.0, 200.0, 100.0)]
    neighbours = [block.box for block in sheet.blocks if block.neighbour]
    assert neighbours == [Box(150.0, 60.0, 20.0, 20.0), Box(150.0, 10.0, 40.0, 30.0)]
    assert all(block.seen_only for block in sheet.blocks if not block.edge and not block.neighbour)
    assert not job.job.exact


def test_a_piece_may_be_kept_to_one_cloth() -> None:
    question = Question((replace(piece("a", 40, 30), cloth_ids=("c2",)),), (cloth(50, 50), cloth(60, 60, name="c2")))
    job = held_job(question)
    assert job is not None
    assert [len(poses) for poses in job.job.items[0].poses] == [0, 1]


def test_there_is_a_look_at_every_kind_of_piece() -> None:
    looks: list[int] = []
    pieces = tuple(piece(f"p-{k}", 10 + k % 3, 10) for k in range(30))
    assert held_job(Question(pieces, (cloth(100, 100),)), lambda: looks.append(1)) is not None
    assert len(looks) == 3
