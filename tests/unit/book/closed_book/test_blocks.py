"""The block in the cut: sections that fill it, a pile of single leaves, both on the round."""

from __future__ import annotations

from itertools import pairwise

import pytest
from drawn_books import drawn_book

from coverlayout.book.book import Book, Paper, Volume
from coverlayout.book.closed_book.blocks import draw_block
from coverlayout.book.closed_book.places import closed_book
from coverlayout.book.picturing.cut_through import cut_through
from coverlayout.geometry.shapes import bounds


def test_sections_fill_the_block_one_on_the_other() -> None:
    at = closed_book(*drawn_book())
    draw_block(at)
    boxes = [bounds(shape.points_mm) for shape in at.sketch.shapes if shape.closed]
    assert boxes[0].top_mm >= 0.0
    assert boxes[-1].bottom_mm <= 16.0
    assert all(lower.top_mm > upper.bottom_mm for upper, lower in pairwise(boxes))
    assert {round(box.left_mm, 6) for box in boxes} == {0.0}


def test_on_a_round_the_middle_sections_stand_out_farthest() -> None:
    at = closed_book(*drawn_book("rounded-case"))
    draw_block(at, at.figures.rise_mm)
    boxes = [bounds(shape.points_mm) for shape in at.sketch.shapes if shape.closed]
    lefts = [box.left_mm for box in boxes]
    middle = len(lefts) // 2
    assert lefts[middle] < lefts[0]
    assert lefts[middle] < lefts[-1]
    assert min(lefts) >= -at.figures.rise_mm
    # Each is as wide as the others, so that the fore-edge is hollow where the spine is round.
    widths = {round(box.width_mm, 6) for box in boxes}
    assert len(widths) == 1


def test_more_sections_than_can_be_told_apart_are_not_drawn() -> None:
    paper = Paper((228.6, 304.8), sheets=400, per_section=2, thickness_mm=0.1)
    at = closed_book(Book("b", "Ledger", paper=paper), Volume(1))
    draw_block(at)
    assert sum(shape.closed for shape in at.sketch.shapes) == 24


def test_a_paper_that_makes_no_block_is_drawn_as_likely_sections() -> None:
    paper = Paper((228.6, 304.8), sheets=1, per_section=50)
    at = closed_book(Book("b", "Ledger", page_mm=(114.3, 152.4), paper=paper), Volume(1, thickness_mm=12.0))
    draw_block(at)
    assert sum(shape.closed for shape in at.sketch.shapes) == 5


@pytest.mark.parametrize("paper", [None, Paper((210.0, 297.0), sheets=40, folds=0, thickness_mm=0.1)])
def test_single_leaves_are_a_pile_without_folds(paper: Paper | None) -> None:
    picture = cut_through(*drawn_book("side-sewn", paper=paper))
    leaves = [shape for shape in picture.shapes if shape.role == "section"]
    assert {shape.name.split()[0] for shape in leaves} == {"leaf"}
    assert len(leaves) >= 4
    assert all(len(shape.points_mm) == 4 and shape.closed for shape in leaves)
    assert len({bounds(shape.points_mm).left_mm for shape in leaves}) == 1


def test_folded_paper_stays_in_sections() -> None:
    folded = Paper((210.0, 297.0), sheets=40, folds=1, thickness_mm=0.1)
    names = [shape.name for shape in cut_through(*drawn_book("side-sewn", paper=folded)).shapes]
    assert any(name.startswith("section") for name in names)
    assert not any(name.startswith("leaf") for name in names)
    # A case of single leaves is noted elsewhere; it is drawn as what it is, and nothing is sewn through folds.
    loose = cut_through(*drawn_book("separate-boards", paper=Paper((210.0, 297.0), sheets=40, folds=0)))
    assert {shape.name.split()[0] for shape in loose.shapes if shape.role == "section"} == {"leaf"}
    assert sum(shape.role == "thread" for shape in loose.shapes) == 2
