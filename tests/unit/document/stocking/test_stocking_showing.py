"""Sheets as they are shown: alike ones alike, the fullest first, the offcuts free of pieces."""

from __future__ import annotations

import itertools

import pytest

from coverlayout.book.materials.cut_item import CutItem
from coverlayout.document.project import Stock
from coverlayout.document.stocking import showing as showing_module
from coverlayout.document.stocking.fewest import Asked, fewest_sheets
from coverlayout.document.stocking.showing import sheets_shown
from coverlayout.geometry.shapes import Box
from coverlayout.layout.question import Placed, never

GREY = Stock("stock-1", "grey board", "board", 700.0, 1000.0, grain="long")
BOARD = CutItem("board", "board", 144.5, 216.0, 40, "head to tail", volumes=(1, 2, 3, 4, 5, 6))


def shared_mm2(one: Box, other: Box) -> float:
    across = min(one.right_mm, other.right_mm) - max(one.left_mm, other.left_mm)
    along = min(one.bottom_mm, other.bottom_mm) - max(one.top_mm, other.top_mm)
    return max(across, 0.0) * max(along, 0.0)


def test_alike_sheets_are_laid_alike_and_the_fullest_come_first() -> None:
    found = fewest_sheets(Asked(GREY, "board", None, (BOARD,), 20_000))
    counts = [len(sheet.pieces) for sheet in found.sheets]
    assert counts == sorted(counts, reverse=True)
    assert sum(counts) == 40
    for one, other in itertools.pairwise(found.sheets):
        if len(one.pieces) == len(other.pieces):
            assert [piece.box for piece in one.pieces] == [piece.box for piece in other.pieces]
            assert one.offcuts == other.offcuts
    # 40 boards do not come out even on six volumes.
    assert all(piece.volume is None for sheet in found.sheets for piece in sheet.pieces)
    assert [p.number for sheet in found.sheets for p in sheet.pieces] == list(range(1, 41))


def test_offcuts_lie_beside_the_pieces_and_each_other() -> None:
    items = (CutItem("wall", "board", 301.0, 402.0, 2), CutItem("strip", "board", 88.0, 613.0, 2))
    (sheet,) = fewest_sheets(Asked(GREY, "board", None, items, 20_000)).sheets
    boxes = [*(piece.box for piece in sheet.pieces), *sheet.offcuts]
    assert len(sheet.offcuts) > 1
    for one, other in itertools.combinations(boxes, 2):
        assert shared_mm2(one, other) < 0.1
    for box in sheet.offcuts:
        assert min(box.width_mm, box.height_mm) >= 10.0
        assert min(box.left_mm, box.top_mm) >= -1e-6
        assert max(box.right_mm - 700.0, box.bottom_mm - 1000.0) <= 1e-6
    areas = [box.width_mm * box.height_mm for box in sheet.offcuts]
    assert areas == sorted(areas, reverse=True)


def test_one_board_leaves_the_largest_piece_there_can_be() -> None:
    """In a corner, upright, a board leaves 700 x 784 or 555.5 x 1000 in one piece; turned 484 x 1000 or 700 x 855.5."""
    (sheet,) = fewest_sheets(Asked(GREY, "board", None, (CutItem("b", "board", 144.5, 216.0),), 20_000)).sheets
    first = sheet.offcuts[0]
    assert first.width_mm * first.height_mm == pytest.approx(700.0 * 855.5)


def test_as_they_lie_when_nothing_may_be_laid_anew(monkeypatch: pytest.MonkeyPatch) -> None:
    placed = (Placed("0.0", "0", 100.0, 300.0), Placed("0.1", "0", 500.0, 50.0, 90.0))
    item = CutItem("b", "board", 100.0, 50.0, 2)
    kept = [Box(400.0 + 50.0, 50.0, 50.0, 100.0), Box(100.0, 300.0, 100.0, 50.0)]
    (sheet,) = sheets_shown(GREY, (item,), placed, 1000.0, None)
    assert [piece.box for piece in sheet.pieces] == kept
    assert [piece.turned for piece in sheet.pieces] == [True, False]
    (stopped,) = sheets_shown(GREY, (item,), placed, 1000.0, lambda _: True)
    assert [piece.box for piece in stopped.pieces] == kept
    monkeypatch.setattr(showing_module, "_MOST_TIDIED", 1)
    (many,) = sheets_shown(GREY, (item,), placed, 1000.0, never)
    assert [piece.box for piece in many.pieces] == kept
    assert sheets_shown(GREY, (item,), (), 1000.0, never) == ()
