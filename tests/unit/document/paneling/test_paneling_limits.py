"""How large panels may be, what is too large for any, and where lines between them would do good."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from coverlayout.book.book import OwnPiece
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.edits.placements import place
from coverlayout.document.paneling.limits import (
    check_panels,
    is_too_large,
    largest_panels,
    lines_wished,
    need_no_cut,
    stocks_of,
)
from coverlayout.document.project import Project, Stock
from coverlayout.document.questions import question_for
from coverlayout.document.stocking.backing import larger_mm
from coverlayout.errors import BadInput
from coverlayout.layout.question import Placed
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print

WEB = Stock("stock-1", "web", "web", 230.0, 430.0)
TISSUE = Stock("stock-2", "tissue", "tissue", 500.0, 250.0)
PAPER = Stock("stock-3", "kraft", "paper", 700.0, 500.0)
CLOTH = Cloth("cloth-1", "Yard", 600.0, 400.0, web_short_mm=5.0)
PIECE = OwnPiece("own-1", "panel", 200.0, 90.0, turns="none")
START = Project(cloths=(CLOTH,), stocks=(WEB, TISSUE, PAPER), own_pieces=(PIECE,))


def test_web_lets_a_panel_be_larger_by_the_strip() -> None:
    assert largest_panels(CLOTH, [WEB]) == ((440.0, 240.0), (240.0, 440.0))
    assert largest_panels(CLOTH, [replace(WEB, length_mm=None)]) == ((math.inf, 240.0), (240.0, math.inf))


def test_tissue_and_web_both_have_to_cover() -> None:
    """Web 240 x 440 either way, tissue 510 x 260: 440 x 240 and 240 x 440, less wide where tissue is less."""
    assert set(largest_panels(CLOTH, [WEB, TISSUE])) == {(440.0, 240.0), (240.0, 440.0)}
    narrow = replace(TISSUE, length_mm=150.0)
    # Tissue 510 x 160: 440 x 160 and 160 x 440; 240 x 160 is within the first.
    assert set(largest_panels(CLOTH, [WEB, narrow])) == {(440.0, 160.0), (160.0, 440.0)}


def test_paper_has_to_be_larger_than_the_panel() -> None:
    by_mm = 2 * larger_mm(CLOTH, "paper")
    assert by_mm > 50.0
    found = largest_panels(replace(CLOTH, backing="paste and paper"), [PAPER])
    assert set(found) == {(700.0 - by_mm, 500.0 - by_mm), (500.0 - by_mm, 700.0 - by_mm)}


def test_the_stock_of_each_backing() -> None:
    other = replace(WEB, id="stock-4", name="wide web")
    project = replace(START, stocks=(WEB, other, TISSUE))
    both = replace(CLOTH, backing="web and tissue")
    assert stocks_of(project, both) == (WEB, TISSUE)
    assert stocks_of(project, both, ("stock-4",)) == (other, TISSUE)
    with pytest.raises(BadInput, match="Yard gets no backing"):
        stocks_of(project, replace(CLOTH, web_short_mm=0.0))
    with pytest.raises(BadInput, match="no paper in the stock"):
        stocks_of(project, replace(CLOTH, backing="paste and paper"))


def test_what_no_bench_can_do_is_refused() -> None:
    check_panels(CLOTH, ((240.0, 440.0),))
    with pytest.raises(BadInput, match="too small to cover a panel"):
        check_panels(replace(CLOTH, web_short_mm=120.0), ((240.0, 440.0),))
    with pytest.raises(BadInput, match="some 60 panels"):
        check_panels(CLOTH, ((40.0, 100.0),))


def test_when_no_cut_is_needed() -> None:
    assert need_no_cut(CLOTH, ((240.0, 440.0), (600.0, 400.0)))
    assert not need_no_cut(CLOTH, ((400.0, 600.0),))


def test_what_is_too_large_for_every_panel() -> None:
    question = question_for(START)
    (cloth,), (piece,) = question.cloths, question.pieces
    assert not is_too_large(cloth, piece, ((210.0, 100.0),), 5.0)
    assert is_too_large(cloth, piece, ((209.9, 100.0), (100.0, 400.0)), 5.0)
    # It may not be turned; one that may goes upright.
    turning = question_for(replace(START, own_pieces=(replace(PIECE, turns="quarter"),))).pieces[0]
    assert not is_too_large(cloth, turning, ((100.0, 210.0),), 5.0)
    # Of one that may lie at any angle, or not on this cloth, nothing is known.
    free = question_for(replace(START, own_pieces=(replace(PIECE, turns="free"),))).pieces[0]
    assert not is_too_large(cloth, free, ((50.0, 50.0),), 5.0)
    assert not is_too_large(cloth, replace(piece, cloth_ids=("cloth-9",)), ((50.0, 50.0),), 5.0)
    # Nor where the print lies crooked.
    a_print = Print("print-1", "Herons", Lattice((64.0, 48.0), (0.0, 96.0)))
    crooked = replace(CLOTH, laid=LaidPrint("print-1", (0.0, 0.0), 7.0))
    leaning = question_for(replace(START, prints=(a_print,), cloths=(crooked,)))
    assert not is_too_large(leaning.cloths[0], leaning.pieces[0], ((50.0, 50.0),), 5.0)


def test_lines_go_between_the_pieces_that_lie() -> None:
    """Pieces at 10 to 210 and 260 to 460 across; the strip of 5 on both sides leaves 215 to 255."""
    two = replace(START, own_pieces=(replace(PIECE, count=2),))
    laid = place((Placed("panel-1", "cloth-1", 110.0, 60.0), Placed("panel-2", "cloth-1", 360.0, 200.0))).change(two)
    wishes = lines_wished(laid, question_for(laid), CLOTH)
    assert wishes.clear_x_mm == (215.0, 235.0, 255.0)
    # Along: 15 to 105 and 155 to 245.
    assert wishes.clear_y_mm == (110.0, 130.0, 150.0)
    assert (wishes.across_mm, wishes.along_mm, wishes.strip_mm) == ((200.0,), (90.0,), 5.0)
    none = lines_wished(two, question_for(two), CLOTH)
    assert (none.clear_x_mm, none.clear_y_mm) == ((), ())
    # Pieces that overlap across leave no line there.
    stacked = place((Placed("panel-1", "cloth-1", 110.0, 60.0), Placed("panel-2", "cloth-1", 150.0, 200.0))).change(two)
    assert lines_wished(stacked, question_for(stacked), CLOTH).clear_x_mm == ()
