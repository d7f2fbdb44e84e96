"""The job on cloth still to be bought: what a cut takes over from the project's cloth, and what it leaves behind."""

from dataclasses import replace

import pytest
from samples import CROOKED, FLAW

from coverlayout.book.book import Book, OwnPiece, Source
from coverlayout.cloth.cloth import Change, Cloth, Flaw, Zone
from coverlayout.cloth.cuts import Cut
from coverlayout.document.asking.purchases import Purchase, purchases
from coverlayout.document.project import CutPiece, Price, Project
from coverlayout.document.questions import planned_pieces, question_for
from coverlayout.geometry.shapes import Box, rectangle
from coverlayout.layout.question import Placed
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print

BIRDS = Print("birds", "birds", Lattice((50.0, 13.0), (-17.0, 81.0)))
SEEDS = Print("seeds", "seeds", Lattice((10.0, 0.0), (0.0, 10.0)), up="any")
LAID = LaidPrint("birds", (9.0, 4.0), turn_deg=92.0, stretch_across_percent=2.0, skew_percent=1.0)
CLOTH = Cloth(
    "cloth-1",
    "Swatch",
    330.0,
    330.0,
    outline_mm=CROOKED,
    trim_mm=3.0,
    selvedge_left_mm=8.0,
    changes=(Change("washing", -10.0, -20.0),),
    flaws=(Flaw("flaw-1", "stain", FLAW),),
    laid=LAID,
)
BOOK = Book("book-1", "Ledger", page_mm=(100.0, 150.0))
PROJECT = Project(prints=(BIRDS, SEEDS), cloths=(CLOTH,), books=(BOOK,))
HALF_YARD = Cut("half yard, 44 in", 1100.0, 450.0, "44 in", price=5.0)
QUARTER = Cut("fat quarter, 44 in", 550.0, 450.0, "44 in")


def bought(project: Project, *cuts: Cut) -> tuple[Purchase, ...]:
    return purchases(project, planned_pieces(project), cuts)


def test_each_cut_takes_the_place_of_the_cloths() -> None:
    half, quarter = bought(PROJECT, HALF_YARD, QUARTER)
    assert (half.name, half.cut, half.count, half.price) == ("half yard, 44 in", HALF_YARD, 1, 5.0)
    assert (quarter.name, quarter.price) == ("fat quarter, 44 in", None)
    (cloth,) = half.project.cloths
    assert (cloth.width_mm, cloth.length_mm, cloth.state, cloth.doubt) == (1100.0, 450.0, "to-buy", 1.0)
    assert (cloth.outline_mm, cloth.flaws, cloth.zones, cloth.cut_name) == (None, (), (), "half yard, 44 in")
    (ground,) = question_for(half.project).cloths[0].grounds
    # 1100 x 450 washed to 990 x 360, the selvedge 8 at the left, trim 3 elsewhere.
    box = ground.usable.bounds
    assert (box.left_mm, box.top_mm, box.right_mm, box.bottom_mm) == pytest.approx((8.0, 3.0, 987.0, 357.0))
    assert [piece.id for piece in question_for(half.project).pieces] == [piece.id for piece in planned_pieces(PROJECT)]


def test_the_makers_own_price_goes_before_the_tables() -> None:
    priced = replace(PROJECT, prices=(Price("half yard, 44 in", 7.5), Price("fat quarter, 44 in", 3.0)))
    assert [purchase.price for purchase in bought(priced, HALF_YARD, QUARTER)] == [7.5, 3.0]


def test_where_the_print_falls_is_not_known() -> None:
    (purchase,) = bought(PROJECT, HALF_YARD)
    laid = purchase.project.cloths[0].laid
    assert laid == LaidPrint("birds", (0.0, 0.0), 90.0, stretch_across_percent=2.0, origin_known=False)
    assert not question_for(purchase.project).cloths[0].grounds[0].origin_known


def test_a_stretch_measured_after_washing_is_not_counted_twice() -> None:
    (purchase,) = bought(replace(PROJECT, cloths=(replace(CLOTH, laid=replace(LAID, changes_in=1)),)), HALF_YARD)
    assert purchase.project.cloths[0].laid == LaidPrint("birds", (0.0, 0.0), 90.0, origin_known=False)


def test_a_stated_doubt_of_cloth_to_buy_stays() -> None:
    to_buy = replace(CLOTH, state="to-buy", doubt_percent=2.5)
    (purchase,) = bought(replace(PROJECT, cloths=(to_buy,)), HALF_YARD)
    assert purchase.project.cloths[0].doubt == 2.5
    (purchase,) = bought(replace(PROJECT, cloths=(replace(CLOTH, doubt_percent=0.0),)), HALF_YARD)
    assert purchase.project.cloths[0].doubt == 1.0


def test_two_prints_need_a_cut_of_each() -> None:
    zones = (Zone("zone-1", "a", rectangle(90.0, 90.0), LAID), Zone("zone-2", "b", rectangle(9.0, 9.0, 91.0)))
    project = replace(
        PROJECT,
        cloths=(replace(CLOTH, zones=zones), Cloth("cloth-2", "leftover", 50.0, 50.0, laid=LaidPrint("seeds"))),
        books=(replace(BOOK, cover_source=Source(zone_id="zone-1"), liner_source=Source(cloth_id="cloth-2")),),
        own_pieces=(OwnPiece("own-1", "pocket", 60.0, 90.0),),
    )
    (purchase,) = bought(project, HALF_YARD)
    assert (purchase.name, purchase.count, purchase.price) == ("2 x half yard, 44 in", 2, 10.0)
    assert [cloth.laid.print_id for cloth in purchase.project.cloths if cloth.laid] == ["birds", "seeds"]
    asked = {
        piece.id: (piece.print_id, piece.cloth_ids, piece.ground_ids) for piece in question_for(purchase.project).pieces
    }
    assert asked["front-1"] == ("birds", (), ())
    assert asked["liner-front-1"] == ("seeds", (), ())
    assert asked["pocket-1"] == (None, (), ())


def test_without_prints_or_cloths_the_cut_is_plain() -> None:
    (purchase,) = bought(Project(books=(BOOK,)), QUARTER)
    (cloth,) = purchase.project.cloths
    assert (cloth.laid, cloth.trim_mm, cloth.name) == (None, 0.0, "fat quarter, 44 in")
    assert question_for(purchase.project).cloths[0].grounds[0].usable.bounds == Box(0.0, 0.0, 550.0, 450.0)


def test_pieces_already_cut_need_no_new_cloth() -> None:
    cut = CutPiece(
        "front-1", "front cover", "cut", rectangle(9.0, 9.0), (4.0, 4.0), Placed("front-1", "cloth-1", 50.0, 50.0)
    )
    (purchase,) = bought(replace(PROJECT, cut_pieces=(cut,)), QUARTER)
    question = question_for(purchase.project)
    assert "front-1" not in [piece.id for piece in question.pieces]
    assert question.cloths[0].fixed == ()
