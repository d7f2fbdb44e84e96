"""Pieces of a material as they are asked for: the grain, the stock that will do, what is too large."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coverlayout.book.materials.cut_item import CutItem
from coverlayout.document.project import Project, Stock
from coverlayout.document.stocking.stock_asked import (
    check_fits,
    comes_in_sheets,
    grain_note,
    grain_way,
    kinds_of,
    question_on,
    same_thickness,
    stocks_for,
    turns_on,
)
from coverlayout.errors import BadInput
from coverlayout.geometry.shapes import bounds

GREY = Stock("stock-1", "grey board", "board", 700.0, 1000.0, 2.0, "long")
BOARD = CutItem("board", "board", 144.5, 216.0, 4, "head to tail", 2.0)
TEXT = CutItem("text paper", "paper", 228.6, 304.8, 16, note="cut-whole-sheets")


@pytest.mark.parametrize(
    ("width_mm", "length_mm", "grain", "way"),
    [
        (700.0, 1000.0, "long", "along"),
        (700.0, 1000.0, "short", "across"),
        (1000.0, 700.0, "long", "across"),
        (1000.0, 700.0, "short", "along"),
        (700.0, 700.0, "long", "along"),
        (700.0, None, "long", "along"),
        (700.0, None, "short", "across"),
        # Not known: as if along the longer side.
        (1000.0, 700.0, "unknown", "across"),
        (700.0, None, "unknown", "along"),
    ],
)
def test_which_way_the_grain_runs(width_mm: float, length_mm: float | None, grain: str, way: str) -> None:
    stock = replace(GREY, width_mm=width_mm, length_mm=length_mm, grain=grain)  # type: ignore[arg-type] # one of Grain
    assert grain_way(stock) == way
    upright = (0.0,) if way == "along" else (90.0,)
    turned = (90.0,) if way == "along" else (0.0,)
    assert turns_on(stock, BOARD) == upright
    assert turns_on(stock, replace(BOARD, grain="across")) == turned
    assert turns_on(stock, replace(BOARD, grain="any")) == (0.0, 90.0)


def test_a_grain_not_known_is_told_where_it_matters() -> None:
    unknown = replace(GREY, grain="unknown")
    free = replace(BOARD, grain="any")
    assert [note.code for note in grain_note(unknown, [free, BOARD])] == ["stock-grain-unknown"]
    assert [note.code for note in grain_note(replace(unknown, length_mm=None), [BOARD])] == ["stock-grain-unknown-roll"]
    assert grain_note(unknown, [free]) == grain_note(GREY, [BOARD]) == ()


def test_materials_and_thicknesses_are_told_apart() -> None:
    thick = replace(BOARD, name="wall", thickness_mm=3.0)
    card = CutItem("strip", "card", 12.0, 216.0, thickness_mm=0.4)
    cloth, thread = CutItem("cover", "cloth", 300.0, 250.0), CutItem("thread", "thread", 0.0, 2000.0)
    nearly = replace(BOARD, name="other", thickness_mm=2.0 + 1e-9)
    none = replace(card, count=0, thickness_mm=0.5)
    items = [cloth, BOARD, thick, nearly, card, thread, TEXT, none, CutItem("web", "web", 9.0, 9.0)]
    assert kinds_of(items) == (("board", 2.0), ("board", 3.0), ("card", 0.4), ("web", None))
    assert comes_in_sheets(TEXT)
    assert not comes_in_sheets(BOARD)
    assert same_thickness(None, None)
    assert not same_thickness(2.0, None)
    assert not same_thickness(2.0, 2.5)


def test_which_stock_will_do() -> None:
    any_thickness = Stock("stock-2", "offcuts", "board", 300.0, 400.0)
    thick = replace(GREY, id="stock-3", thickness_mm=3.0)
    web = Stock("stock-4", "web", "web", 430.0)
    project = Project(stocks=(GREY, any_thickness, thick, web))
    assert stocks_for(project, "board", 2.0) == (GREY, any_thickness)
    assert stocks_for(project, "board", None) == (GREY, any_thickness, thick)
    assert stocks_for(project, "web", None) == (web,)
    with pytest.raises(BadInput, match="no board of 2 mm in the stock"):
        stocks_for(Project(stocks=(thick,)), "board", 2.0)
    with pytest.raises(BadInput, match="no tissue in the stock"):
        stocks_for(project, "tissue", None)


def test_what_is_too_large_is_one_sentence() -> None:
    check_fits(GREY, [BOARD, replace(BOARD, width_mm=700.0, height_mm=1000.009)])
    with pytest.raises(
        BadInput, match=r"board is 710 mm x 1010 mm, larger than a sheet of grey board, 700 mm x 1000 mm"
    ):
        check_fits(GREY, [BOARD, replace(BOARD, width_mm=710.0, height_mm=1010.0), BOARD])
    with pytest.raises(BadInput, match="only with its grain the wrong way"):
        check_fits(GREY, [replace(BOARD, width_mm=800.0)])
    check_fits(GREY, [replace(BOARD, width_mm=800.0, grain="any")])
    roll = replace(GREY, length_mm=None)
    check_fits(roll, [replace(BOARD, height_mm=5000.0)])
    with pytest.raises(BadInput, match="wider than grey board off the roll, 700 mm"):
        check_fits(roll, [replace(BOARD, width_mm=701.0, height_mm=702.0)])
    with pytest.raises(BadInput, match="off the roll, 700 mm wide, only with its grain"):
        check_fits(roll, [replace(BOARD, width_mm=701.0)])
    web = CutItem("web, Yard", "web", 1094.0, 908.0)
    with pytest.raises(BadInput, match="web, Yard: 1094 mm x 908 mm is larger than iron-on comes; cut the cloth into"):
        check_fits(Stock("stock-2", "iron-on", "web", 430.0), [web])


def test_the_question_has_every_piece_and_every_sheet() -> None:
    strip = CutItem("strip", "board", 12.0, 216.0, 2)
    question = question_on(GREY, (BOARD, strip), 3, 1000.0, 500)
    assert [piece.id for piece in question.pieces] == ["0.0", "0.1", "0.2", "0.3", "1.0", "1.1"]
    assert [cloth.id for cloth in question.cloths] == ["0", "1", "2"]
    assert (question.gap_mm, question.steps, question.spare_wish_mm) == (0.0, 500, 0.0)
    assert question.pieces[0].turns_deg == (0.0,)
    assert question.pieces[4].turns_deg == (0.0, 90.0)
    box = bounds(question.cloths[2].outline_mm)
    assert (box.width_mm, box.height_mm) == (700.0, 1000.0)
