"""The pieces of the bench as guides see them."""

from __future__ import annotations

from dataclasses import replace

import pytest
from canvas_samples import job, leftover, linen

from coverlayout.ui.table.bodies import bodies_of, body_at
from coverlayout.ui.table.shown import bench_of


def test_pieces_come_with_board_turns_and_the_prints_up() -> None:
    bench, _ = bench_of(job(linen(), leftover(), up="two-way"))
    front, waiting = bodies_of(bench, ("front-1", "gone-1", "liner-back-1"))
    assert (front.name, front.at_mm, front.up_deg, front.turns_deg) == (
        "Front cover",
        (100.0, 116.0),
        0.0,
        (0.0, 180.0),
    )
    # 4.5 x 6 in pages, 15 mm turned in: the board begins 15 mm in. Common practice, no source.
    assert front.board is not None
    assert (front.board.left_mm, front.board.top_mm) == pytest.approx((15.0, 15.0))
    assert (waiting.placed.cloth, waiting.up_deg) == ("", 0.0)


def test_a_piece_as_it_would_lie_elsewhere() -> None:
    bench, _ = bench_of(job(linen(), leftover()))
    lying = bench.find("front-1")
    assert lying is not None
    there = body_at(bench, replace(lying.placed, cloth="cloth-2", x_mm=150.0, y_mm=140.0))
    assert there.up_deg == 90.0
    with pytest.raises(KeyError):
        body_at(bench, replace(lying.placed, piece="gone-1"))
