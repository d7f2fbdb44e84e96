"""What could be cut from a free rectangle, counted by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest
from samples import L_SHAPE

from coverlayout.book.book import OwnPiece, Source
from coverlayout.cloth.cloth import Cloth, Zone
from coverlayout.document.cutting.left_over import left_over
from coverlayout.document.cutting.rows import Rows, add_piece_there, rows_in, seat_in
from coverlayout.document.project import JobRules, Layout, LockWish, Project
from coverlayout.document.questions import judge_for
from coverlayout.errors import BadInput
from coverlayout.geometry.frames import turn
from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.question import Placed
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print

SWATCH = Cloth("cloth-1", "Swatch", 300.0, 200.0)
SQUARE = Lattice((50.0, 0.0), (0.0, 60.0))
POCKET = OwnPiece("own-1", "pocket", 60.0, 90.0, count=3, turns="none")


def project(*own: OwnPiece, cloth: Cloth = SWATCH, **more: object) -> Project:
    return replace(Project(cloths=(cloth,), own_pieces=own), **more)  # type: ignore[arg-type]  # fields by name


def only(of: Project) -> Rows:
    (rows,) = rows_in(of, left_over(of)[0])
    return rows


def test_rows_keep_the_gap_between_pieces() -> None:
    """300 x 200 takes five of 60 across, two of 90 along; with a gap of 5 only four across: five need 320."""
    assert only(project(POCKET)) == Rows("pocket", 60.0, 90.0, 5, 2, waiting=("pocket-1", "pocket-2", "pocket-3"))
    with_gap = only(project(POCKET, rules=JobRules(gap_mm=5.0)))
    assert (with_gap.across, with_gap.along, with_gap.count) == (4, 2, 8)


def test_a_hair_too_long_still_goes_in_and_a_tenth_does_not() -> None:
    assert only(project(replace(POCKET, width_mm=60.001))).across == 5
    assert only(project(replace(POCKET, width_mm=60.1))).across == 4


def test_a_quarter_turn_counts_where_it_is_allowed_and_is_said_to_be_a_least() -> None:
    """Upright 300 / 60 = 5 by 200 / 110 = 1; turned 300 / 110 = 2 by 200 / 60 = 3: six, nine are too much ground."""
    pocket = replace(POCKET, height_mm=110.0, turns="quarter")
    rows = only(project(pocket))
    assert (rows.across, rows.along, rows.turn_deg, rows.at_least) == (2, 3, 90.0, True)
    assert only(project(replace(pocket, turns="half"))).count == 5


def test_where_the_ground_is_used_up_the_count_is_sure_whatever_the_turns() -> None:
    """300 x 200 holds no more than 30 of 50 x 40, and five rows of six are 30."""
    rows = only(project(replace(POCKET, width_mm=50.0, height_mm=40.0, turns="quarter")))
    assert (rows.count, rows.at_least) == (30, False)


def test_crooked_outlines_may_fit_into_each_other() -> None:
    rows = only(project(OwnPiece("own-1", "gusset", outline_mm=L_SHAPE, turns="none")))
    assert (rows.across, rows.along, rows.at_least) == (5, 2, True)


def test_any_angle_is_tried_straight_in_the_rectangle() -> None:
    rows = only(project(replace(POCKET, turns="free")))
    assert (rows.count, rows.turn_deg, rows.at_least) == (10, 0.0, True)


def test_what_does_not_go_in_is_none() -> None:
    large = only(project(replace(POCKET, width_mm=310.0)))
    assert (large.count, large.from_here) == (0, True)
    elsewhere = replace(POCKET, source=Source(print_id="print-1"))
    rows = only(project(elsewhere, prints=(Print("print-1", "Herons", Lattice((50.0, 0.0), (0.0, 60.0))),)))
    assert (rows.count, rows.at_least, rows.from_here) == (0, False, False)


def test_each_kind_once_and_those_that_wait_by_name() -> None:
    lying = Layout("layout-1", "Layout 1", (Placed("pocket-2", "cloth-1", 30.0, 45.0),))
    label = OwnPiece("own-2", "label", 25.0, 18.0)
    of = project(POCKET, label, layouts=(lying,))
    rows = rows_in(of, left_over(of)[0])
    assert [(one.name, one.waiting) for one in rows] == [("pocket", ("pocket-1", "pocket-3")), ("label", ("label-1",))]


def test_turns_are_counted_from_the_print_that_lies_sideways() -> None:
    """The print's up points right, so a one-way piece of 60 x 90 lies 90 across and 60 along: three by three."""
    cloth = replace(SWATCH, laid=LaidPrint("print-1", turn_deg=90.0))
    of = project(POCKET, cloth=cloth, prints=(printed(),))
    rows = only(of)
    assert (rows.across, rows.along, rows.turn_deg) == (3, 3, 90.0)
    placed, held = seat_in(of, left_over(of)[0], "pocket-1", rows.turn_deg)
    assert (placed.x_mm, placed.y_mm, placed.turn_deg, held) == (45.0, 30.0, 90.0, True)


def test_a_piece_kept_to_one_zone_of_two_that_join_goes_where_the_zone_holds_the_rectangle() -> None:
    laid = LaidPrint("print-1")
    zones = (
        Zone("zone-1", "left", rectangle(150.0, 200.0), laid),
        Zone("zone-2", "right", rectangle(150.0, 200.0, 150.0), laid),
    )
    kept = replace(POCKET, source=Source(zone_id="zone-1"))
    of = project(kept, cloth=replace(SWATCH, zones=zones), prints=(printed(),))
    assert only(of).count == 0
    wide = replace(zones[0], outline_mm=rectangle(300.0, 200.0))
    assert only(project(kept, cloth=replace(SWATCH, zones=(wide,)), prints=(printed(),))).count == 10


def printed(lattice: Lattice = SQUARE) -> Print:
    return Print("print-1", "Herons", lattice, up="one-way")


def locked(lattice: Lattice, **more: object) -> Project:
    cloth = replace(SWATCH, laid=LaidPrint("print-1", origin_mm=(9.0, 4.0)))
    lock = LockWish("lock-1", "pocket-1", place_mm=(20.0, 10.0))
    return project(POCKET, cloth=replace(cloth, **more), prints=(printed(lattice),), locks=(lock,))  # type: ignore[arg-type] # by name


def test_a_locked_piece_moves_on_to_its_place_in_the_repeat() -> None:
    """In the corner its middle is at 30, 45. The place comes at 29 + 50 i, 14 + 60 k: the next are 79 and 74."""
    of = locked(Lattice((50.0, 0.0), (0.0, 60.0)))
    placed, held = seat_in(of, left_over(of)[0], "pocket-1", 0.0)
    assert held
    assert (placed.x_mm, placed.y_mm) == (pytest.approx(79.0), pytest.approx(74.0))


@pytest.mark.parametrize("lattice", [Lattice((50.0, 13.0), (-17.0, 81.0)), Lattice((0.0, 33.0)), Lattice((21.0, 6.0))])
def test_a_place_is_found_on_a_sheared_repeat_and_on_stripes(lattice: Lattice) -> None:
    of = locked(lattice)
    placed, held = seat_in(of, left_over(of)[0], "pocket-1", 0.0)
    assert held
    report = judge_for(of).report([placed])
    assert report.breaches == ()


def test_on_a_crooked_print_the_piece_lies_along_it_and_holds_its_place() -> None:
    crooked = turn(3.0).ring(rectangle(300.0, 200.0))
    of = locked(
        Lattice((50.0, 13.0), (-17.0, 81.0)),
        outline_mm=crooked,
        laid=LaidPrint("print-1", origin_mm=(9.0, 4.0), turn_deg=3.0),
    )
    placed, held = seat_in(of, left_over(of)[0], "pocket-1", only(of).turn_deg)
    assert (placed.turn_deg, held) == (pytest.approx(3.0), True)
    assert judge_for(of).report([placed]).breaches == ()


@pytest.mark.parametrize(
    "of",
    [
        # No repeat of 400 mm puts its place in the slack, and where the print falls may not be known at all.
        locked(Lattice((400.0, 0.0), (0.0, 400.0)), laid=LaidPrint("print-1", origin_mm=(350.0, 4.0))),
        locked(Lattice((50.0, 0.0), (0.0, 60.0)), laid=LaidPrint("print-1", origin_known=False)),
        locked(Lattice((50.0, 0.0), (0.0, 60.0)), laid=None),
    ],
)
def test_where_no_place_is_to_be_had_the_piece_lies_in_the_corner_and_says_so(of: Project) -> None:
    placed, held = seat_in(of, left_over(of)[0], "pocket-1", 0.0)
    assert (placed.x_mm, placed.y_mm, held) == (30.0, 45.0, False)


@pytest.mark.parametrize("up_deg", [0.0, 90.0, 180.0, 3.0])
def test_a_piece_as_large_as_the_rectangle_is_added_and_lies_there(up_deg: float) -> None:
    """Whichever way the print lies, the piece takes all of it head up, and nothing worth keeping is left beside it."""
    cloth = replace(SWATCH, laid=LaidPrint("print-1", turn_deg=up_deg))
    of = project(POCKET, cloth=cloth, prints=(printed(),))
    left = left_over(of)[0]
    edit = add_piece_there(left, "rest piece")
    after = edit.change(of)
    assert edit.name.text() == "Add rest piece where it is left over"
    assert after.layout.place_of("rest piece-1") is not None
    report = judge_for(after).report(after.layout.placements)
    assert report.breaches == ()
    assert report.used_percent == pytest.approx(left.rectangle.area_mm2 / 600.0)
    with pytest.raises(BadInput):
        add_piece_there(left, "pocket").change(of)
