"""Zones come, change, divide and go; pieces are told where they may come from and judged by it."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from full_project import FULL

from coverlayout.book.book import Book, OwnPiece, Source
from coverlayout.cloth.cloth import Change, Cloth, Zone
from coverlayout.document.asking.grounds import grounds_of
from coverlayout.document.edits.cloths import lay_print
from coverlayout.document.edits.placements import place
from coverlayout.document.edits.zones import (
    add_zone,
    change_zone,
    cut_zone,
    divide_cloth,
    remove_all_zones,
    remove_zone,
    set_source,
)
from coverlayout.document.history import Edit
from coverlayout.document.project import Project
from coverlayout.document.questions import judge_for, placed_now
from coverlayout.errors import BadInput
from coverlayout.geometry.frames import Ring
from coverlayout.geometry.shapes import area_mm2, bounds, rectangle
from coverlayout.layout.question import Placed
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print

STRIPE = Print("print-1", "Stripe", Lattice((10.0, 0.0)))
DOTS = Print("print-2", "Dots", Lattice((9.0, 0.0), (2.0, 11.0)))
YARD = Cloth("cloth-1", "Yard", 600.0, 400.0, laid=LaidPrint("print-1", (3.0, 4.0)))
START = Project(
    prints=(STRIPE, DOTS),
    cloths=(YARD, Cloth("cloth-2", "Plain", 300.0, 300.0)),
    own_pieces=(OwnPiece("own-1", "pocket", 60.0, 90.0),),
    books=(Book("book-1", "Ledger", page_mm=(50.0, 70.0)),),
)


def code_of(edit: Edit, project: Project = START) -> str:
    with pytest.raises(BadInput) as caught:
        edit.change(project)
    assert str(caught.value)
    return caught.value.code


def zones(project: Project) -> tuple[Zone, ...]:
    return project.cloth("cloth-1").zones


def test_a_cloth_is_divided_row_by_row_and_each_zone_bears_its_print() -> None:
    divided = divide_cloth("cloth-1", 3, 2).change(START)
    # 600 / 3 by 400 / 2; the fifth lies in the second row, second column.
    assert [zone.name for zone in zones(divided)] == [f"zone {k}" for k in range(1, 7)]
    assert zones(divided)[4].outline_mm == rectangle(200.0, 200.0, 200.0, 200.0)
    assert {zone.laid for zone in zones(divided)} == {YARD.laid}
    assert len({zone.id for zone in zones(divided)}) == 6


def test_as_many_zones_as_can_be_share_no_ground_and_leave_none() -> None:
    """20 x 20 on 600 x 400: fields of 30 x 20, 600 mm2 each; all touch, so they are one ground together besides."""
    divided = divide_cloth("cloth-1", 20, 20).change(START)
    assert [area_mm2(zone.outline_mm) for zone in zones(divided)] == pytest.approx([600.0] * 400)
    joined, *single = grounds_of(divided.cloths[0], divided.prints)
    assert joined.usable.area_mm2 == pytest.approx(240000.0)
    assert len(single) == 400


def test_strips_between_the_zones_are_no_ones() -> None:
    """Two columns 20 mm apart on 600: 290 each; the second begins at 310."""
    divided = divide_cloth("cloth-1", 2, 1, 20.0).change(START)
    assert [zone.outline_mm for zone in zones(divided)] == [rectangle(290.0, 400.0), rectangle(290.0, 400.0, 310.0)]


def test_zones_are_counted_on_the_cloth_as_it_now_is() -> None:
    washed = START.with_cloth(replace(YARD, changes=(Change("washing", -10.0, 0.0),)))
    divided = divide_cloth("cloth-1", 2, 1).change(washed)
    assert bounds(zones(divided)[1].outline_mm).left_mm == pytest.approx(270.0)
    assert zones(divided)[1].changes_in == 1


def test_fields_beside_a_crooked_cloth_are_left_out() -> None:
    """A triangle: of a 2 x 2 grid the lower right field lies wholly beside it."""
    crooked = START.with_cloth(replace(YARD, outline_mm=((0.0, 0.0), (600.0, 0.0), (0.0, 400.0))))
    divided = divide_cloth("cloth-1", 2, 2).change(crooked)
    assert [bounds(zone.outline_mm).ring()[0] for zone in zones(divided)] == [(0.0, 0.0), (300.0, 0.0), (0.0, 200.0)]


def test_a_zone_gets_its_own_print_and_its_own_name() -> None:
    divided = divide_cloth("cloth-1", 2, 1).change(START)
    first, second = zones(divided)
    laid = lay_print("cloth-1", LaidPrint("print-2", (1.0, 2.0), 90.0), second.id).change(divided)
    named = change_zone("cloth-1", second.id, name="dots").change(laid)
    assert zones(named) == (first, replace(second, name="dots", laid=LaidPrint("print-2", (1.0, 2.0), 90.0)))


def test_a_zone_is_moved_only_to_free_ground() -> None:
    divided = divide_cloth("cloth-1", 2, 1).change(START)
    first, second = zones(divided)
    assert (
        code_of(change_zone("cloth-1", second.id, outline_mm=rectangle(300.0, 9.0, 250.0)), divided) == "zones-overlap"
    )
    smaller = change_zone("cloth-1", second.id, outline_mm=rectangle(100.0, 90.0, 310.0, 7.0)).change(divided)
    assert zones(smaller)[1].outline_mm == rectangle(100.0, 90.0, 310.0, 7.0)
    # Older work may hold zones that lie over each other: their names can be changed all the same.
    old = START.with_cloth(replace(YARD, zones=(first, replace(first, id="zone-9"))))
    assert zones(change_zone("cloth-1", "zone-9", name="twin").change(old))[1].name == "twin"


def test_a_zone_is_cut_in_two_along_a_line() -> None:
    """The left zone, 300 x 400, cut level at 150: drawn from right to left, the lower part lies to the left."""
    divided = divide_cloth("cloth-1", 2, 1).change(START)
    held = set_source("own-1", "own", Source(zone_id=zones(divided)[0].id)).change(divided)
    cut = cut_zone("cloth-1", zones(held)[0].id, (280.0, 150.0), (10.0, 150.0)).change(held)
    lower, upper, right = zones(cut)
    assert (area_mm2(lower.outline_mm), area_mm2(upper.outline_mm)) == pytest.approx((300 * 250.0, 300 * 150.0))
    assert (lower.name, upper.name) == ("zone 1", "zone 3")
    assert lower.laid == upper.laid == YARD.laid
    assert right == zones(divided)[1]
    assert cut.own_pieces[0].source.zone_id == lower.id
    again = cut_zone("cloth-1", lower.id, (100.0, 150.0), (100.0, 400.0)).change(cut)
    assert [zone.name for zone in zones(again)] == ["zone 1", "zone 4", "zone 3", "zone 2"]


def test_the_line_is_meant_on_the_cloth_as_it_now_is() -> None:
    """Drawn before a wash of 10 %: a cut at 90 now falls at 100 of the zone's own figures."""
    zone = Zone("zone-1", "left", rectangle(300.0, 400.0))
    washed = START.with_cloth(replace(YARD, changes=(Change("washing", -10.0, 0.0),), zones=(zone,)))
    cut = cut_zone("cloth-1", "zone-1", (90.0, 300.0), (90.0, 10.0)).change(washed)
    assert bounds(zones(cut)[0].outline_mm).right_mm == pytest.approx(100.0)


def test_zones_go_and_the_pieces_are_free() -> None:
    divided = divide_cloth("cloth-1", 3, 1).change(START)
    ids = [zone.id for zone in zones(divided)]
    held = set_source("book-1", "covers", Source(zone_id=ids[0])).change(divided)
    held = set_source("book-1", "liners", Source(zone_id=ids[1])).change(held)
    one = remove_zone("cloth-1", ids[0]).change(held)
    assert (one.books[0].cover_source, one.books[0].liner_source) == (Source(), Source(zone_id=ids[1]))
    none = remove_all_zones("cloth-1").change(held)
    assert zones(none) == ()
    assert none.books[0].liner_source == Source()
    assert none.cloth("cloth-1").laid == YARD.laid


def test_a_piece_is_judged_by_where_it_may_come_from() -> None:
    """Two halves; the pocket, 60 x 90, lies at 100, 100 in the left one."""
    divided = divide_cloth("cloth-1", 2, 1).change(replace(START, books=()))
    left, right = (zone.id for zone in zones(divided))
    lying = place((Placed("pocket-1", "cloth-1", 100.0, 100.0),)).change(divided)

    def broken(source: Source) -> list[str]:
        project = set_source("own-1", "own", source).change(lying)
        return [breach.rule for breach in judge_for(project).report(placed_now(project)).breaches]

    assert broken(Source()) == broken(Source(zone_id=left)) == broken(Source(cloth_id="cloth-1")) == []
    assert broken(Source(print_id="print-1")) == []
    assert broken(Source(zone_id=right)) == ["zone"]
    assert broken(Source(cloth_id="cloth-2")) == ["zone"]
    assert broken(Source(print_id="print-2")) == ["zone"]


OUT: Ring = rectangle(50.0, 50.0, 700.0, 0.0)


@pytest.mark.parametrize(
    ("edit", "code"),
    [
        (add_zone("cloth-9", Zone("", "z", OUT)), "id-unknown"),
        (add_zone("cloth-1", Zone("", "z", OUT)), "zone-off-cloth"),
        (add_zone("cloth-1", Zone("", "z", ((0.0, 0.0), (5.0, 5.0)))), "outline-no-area"),
        (change_zone("cloth-1", "zone-9", name="x"), "id-unknown"),
        (remove_zone("cloth-1", "zone-9"), "id-unknown"),
        (remove_all_zones("cloth-9"), "id-unknown"),
        (cut_zone("cloth-1", "zone-9", (0.0, 0.0), (1.0, 1.0)), "id-unknown"),
        (divide_cloth("cloth-1", 0, 2), "count-out-of-range"),
        (divide_cloth("cloth-1", 2, 21), "count-out-of-range"),
        (divide_cloth("cloth-1", 4, 1, 200.0), "zones-nothing-left"),
        (divide_cloth("cloth-1", 4, 1, -1.0), "zones-nothing-left"),
        (divide_cloth("cloth-1", 4, 1, math.nan), "zones-nothing-left"),
        (set_source("own-9", "own", Source()), "id-unknown"),
        (set_source("book-9", "covers", Source()), "id-unknown"),
        (set_source("own-1", "own", Source(cloth_id="cloth-7")), "id-unknown"),
    ],
)
def test_what_cannot_be_is_refused(edit: Edit, code: str) -> None:
    assert code_of(edit) == code


def test_zones_there_already_are_not_divided_over() -> None:
    divided = divide_cloth("cloth-1", 2, 1).change(START)
    assert code_of(divide_cloth("cloth-1", 2, 2), divided) == "zones-there-already"
    assert code_of(change_zone("cloth-1", zones(divided)[0].id, id="other"), divided) == "id-fixed"
    assert (
        code_of(cut_zone("cloth-1", zones(divided)[0].id, (400.0, 0.0), (400.0, 9.0)), divided)
        == "line-cuts-not-in-two"
    )
    assert FULL.cloths[0].zones
