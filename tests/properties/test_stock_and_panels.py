"""Whatever the pieces and sheets: all pieces once and whole, grain right, panels covered, sums those of bills."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coverlayout.book.book import Book, OwnPiece, PartOfBook, Volume
from coverlayout.book.materials.cut_item import CutItem
from coverlayout.cloth.cloth import Change, Cloth
from coverlayout.cloth.usable import laid_to_cloth, outline_region
from coverlayout.document.edits.placements import place
from coverlayout.document.making.costs import costs
from coverlayout.document.making.tally import tally, totals
from coverlayout.document.paneling.cutting_apart import cut_apart, in_cloth_frame
from coverlayout.document.paneling.panels import PanelsAsked, panels_for
from coverlayout.document.project import Project, Stock
from coverlayout.document.questions import judge_for, placed_now
from coverlayout.document.stocking.on_stock import OnStock, SheetLaid
from coverlayout.document.stocking.sheets import laid_on_stock
from coverlayout.geometry.shapes import Box
from coverlayout.layout.question import Placed
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print

sides = st.integers(20, 240).map(float)
grains = st.sampled_from(["head to tail", "across", "any"])
board_items = st.lists(
    st.builds(CutItem, st.just("board"), st.just("board"), sides, sides, st.integers(1, 6), grains),
    min_size=1,
    max_size=4,
)


def named(items: list[CutItem]) -> list[CutItem]:
    """The items under names of their own."""
    return [replace(item, name=f"board {number}") for number, item in enumerate(items)]


def apart(sheet: SheetLaid) -> bool:
    """True when no two pieces share more than a hundredth of a millimetre both ways, and none hangs over."""
    boxes = [piece.box for piece in sheet.pieces]
    inside = all(
        min(box.left_mm, box.top_mm) >= -0.011
        and box.right_mm <= sheet.width_mm + 0.011
        and box.bottom_mm <= sheet.length_mm + 0.011
        for box in boxes
    )
    return inside and not any(_over(one, other) for one, other in itertools.combinations(boxes, 2))


def _over(one: Box, other: Box) -> bool:
    across = min(one.right_mm, other.right_mm) - max(one.left_mm, other.left_mm)
    along = min(one.bottom_mm, other.bottom_mm) - max(one.top_mm, other.top_mm)
    return min(across, along) > 0.011


def check_laid(laid: OnStock, items: list[CutItem], along: bool) -> None:
    """Each piece once, as large as it is, its grain the sheet's (`along` its length or across)."""
    wanted = {item.name: item for item in items}
    numbers = sorted((piece.name, piece.number) for sheet in laid.sheets for piece in sheet.pieces)
    assert numbers == sorted((item.name, k) for item in items for k in range(1, item.count + 1))
    for sheet in laid.sheets:
        assert apart(sheet)
        for piece in sheet.pieces:
            item = wanted[piece.name]
            size = (item.height_mm, item.width_mm) if piece.turned else (item.width_mm, item.height_mm)
            assert (piece.box.width_mm, piece.box.height_mm) == pytest.approx(size)
            if item.grain != "any":
                assert piece.turned == ((item.grain == "head to tail") != along)


@settings(max_examples=40)
@given(board_items, st.sampled_from(["long", "short"]), st.booleans())
def test_boards_on_sheets(found: list[CutItem], grain: str, wide: bool) -> None:
    items = named(found)
    width_mm, length_mm = (400.0, 250.0) if wide else (250.0, 400.0)
    stock = Stock("stock-1", "board", "board", width_mm, length_mm, None, grain)  # type: ignore[arg-type] # a Grain
    laid = laid_on_stock(Project(stocks=(stock,)), items, "board", steps=5_000)
    check_laid(laid, items, along=(grain == "long") != wide)
    by_area = sum(item.width_mm * item.height_mm * item.count for item in items) / (width_mm * length_mm)
    assert math.ceil(by_area - 1e-9) <= laid.count <= sum(item.count for item in items)
    assert laid.least <= laid.count
    assert laid.proved == (laid.least == laid.count)


@settings(max_examples=25)
@given(board_items)
def test_web_off_a_roll(found: list[CutItem]) -> None:
    items = [replace(item, material="web") for item in named(found)]
    roll = Stock("stock-1", "web", "web", 260.0, None, None, "long")
    laid = laid_on_stock(Project(stocks=(roll,)), items, "web", steps=5_000)
    check_laid(laid, items, along=True)
    assert laid.length_mm is not None
    assert laid.least_mm is not None
    lowest = max(piece.box.bottom_mm for sheet in laid.sheets for piece in sheet.pieces)
    assert lowest == pytest.approx(laid.length_mm, abs=0.011)
    assert laid.least_mm <= laid.length_mm + 0.011
    area = sum(item.width_mm * item.height_mm * item.count for item in items)
    assert laid.length_mm >= area / 260.0 - 0.1


COVER = PartOfBook("cover", 1, 15.0, "none")
HERONS = Print("print-1", "Herons", Lattice((64.0, 48.0), (0.0, 96.0)), "half-drop")
places = st.tuples(st.floats(0.0, 500.0), st.floats(0.0, 400.0))


def bench(data: Any) -> Project:
    """A cloth with a print, pieces anywhere on it (also where they may not lie)."""
    laid = LaidPrint(
        "print-1", data.draw(places), data.draw(st.floats(-40.0, 40.0)), changes_in=data.draw(st.integers(0, 1))
    )
    cloth = Cloth("cloth-1", "Yard", 500.0, 400.0, price=20.0, changes=(Change("washing", -4.0, -2.5),), laid=laid)
    book = Book("book-1", "One", "parts", board_mm=(70.0, 120.0), parts=(COVER,), volumes=(Volume(1), Volume(2)))
    own = OwnPiece("own-1", "pocket", 40.0, 50.0, count=2, turns="free")
    start = Project(prints=(HERONS,), cloths=(cloth,), books=(book,), own_pieces=(own,), next_volume_number=3)
    ids = ["cover-1-1", "cover-2-1", "pocket-1", "pocket-2"]
    lying = data.draw(st.lists(st.sampled_from(ids), unique=True))
    turns = st.sampled_from([0.0, 90.0, 11.0])
    return place(tuple(Placed(piece, "cloth-1", *data.draw(places), data.draw(turns)) for piece in lying)).change(start)


@settings(max_examples=40)
@given(st.data())
def test_panels_change_nothing_of_what_lies_within_them(data: st.DataObject) -> None:
    """Print, places and breaches are the same on the panels as on the cloth, and no cloth is lost or won."""
    project = bench(data)
    whole = outline_region(project.cloths[0]).bounds
    x, y = whole.width_mm * data.draw(st.floats(0.1, 0.9)), whole.height_mm * data.draw(st.floats(0.1, 0.9))
    left = Box(0.0, 0.0, x, whole.height_mm)
    boxes = (left, Box(x, 0.0, whole.width_mm - x, y), Box(x, y, whole.width_mm - x, whole.height_mm - y))
    made, panels = cut_apart(project, "cloth-1", boxes)
    areas = [outline_region(cloth).area_mm2 for cloth in made.cloths]
    assert sum(areas) == pytest.approx(whole.width_mm * whole.height_mm)
    assert sum(cloth.price or 0.0 for cloth in made.cloths) == pytest.approx(20.0)
    back = in_cloth_frame("cloth-1", panels, placed_now(made))
    before = {one.piece: one for one in placed_now(project)}
    for one in back:
        assert (one.x_mm, one.y_mm) == pytest.approx((before[one.piece].x_mm, before[one.piece].y_mm))
        assert one.turn_deg == before[one.piece].turn_deg
    assert not any(breach.rule == "outside" for breach in judge_for(made).report(placed_now(made)).breaches)
    motif = data.draw(places)
    old = project.cloths[0]
    assert old.laid is not None
    on_cloth = laid_to_cloth(old, old.laid).at(motif)
    for cloth, box in zip(made.cloths, boxes, strict=True):
        assert cloth.laid is not None
        there = laid_to_cloth(cloth, cloth.laid).at(motif)
        assert there == pytest.approx((on_cloth[0] - box.left_mm, on_cloth[1] - box.top_mm), abs=1e-6)


@settings(max_examples=40)
@given(st.data())
def test_the_wholes_are_the_bill_and_every_piece_is_counted_once(data: st.DataObject) -> None:
    project = bench(data)
    found = costs(project)
    lying = len(project.layout.placements)
    assert found.whole_price == pytest.approx(20.0 if lying else 0.0)
    assert found.share_price <= found.whole_price + 1e-9
    assert found.is_known == (lying == 4)
    counted = totals(tally(project))
    assert (counted.planned, counted.laid, counted.waiting) == (4, lying, 4 - lying)


@settings(max_examples=15)
@given(st.floats(150.0, 400.0), st.floats(150.0, 400.0), st.floats(0.0, 8.0), st.integers(1, 4))
def test_panels_found_hold_every_piece(width_mm: float, length_mm: float, strip_mm: float, count: int) -> None:
    """The layout passes the judge on the panels, and web no larger than a sheet covers each."""
    web = Stock("stock-1", "web", "web", 170.0, 230.0)
    own = OwnPiece("own-1", "pocket", 90.0, 130.0, count=count, turns="quarter")
    cloth = Cloth("cloth-1", "Yard", width_mm, length_mm, web_short_mm=strip_mm, backing="web")
    project = Project(cloths=(cloth,), stocks=(web,), own_pieces=(own,))
    found = panels_for(PanelsAsked(project, "cloth-1", steps=1_000))
    for box in found.panels:
        short, long = sorted((box.width_mm - 2 * strip_mm, box.height_mm - 2 * strip_mm))
        assert short <= 170.011
        assert long <= 230.011
    if found.placed:
        laid = place(found.placed).change(project)
        made, _ = cut_apart(laid, "cloth-1", found.panels)
        report = judge_for(made).report(placed_now(made))
        assert (report.breaches, report.waiting) == ((), ())
    elif len(found.panels) > 1:
        assert found.verdict in ("does not fit", "not found")
