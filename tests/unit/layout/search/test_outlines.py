"""Layouts of any outline on any ground: judged by shapely alone, locks and links by arithmetic."""

from __future__ import annotations

from dataclasses import replace

import pytest
from laying import ANY, book_pieces, cloth, faults, flaw, piece, polygon_of

from coverlayout.geometry.frames import Affine, shift, turn
from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.layout.question import ClothAsked, Ground, Link, Lock, Placed, Question
from coverlayout.layout.search.effort import Effort, OutOfSteps
from coverlayout.layout.search.outlines import fill_outlines, outline_layouts
from coverlayout.motif.lattice import Lattice

ELL = ((0.0, 0.0), (110.0, 0.0), (110.0, 38.0), (40.0, 38.0), (40.0, 90.0), (0.0, 90.0))
SHEARED = Lattice((40.0, 10.0), (-8.0, 30.0))


def filled(question: Question, room_mm: float = 0.0, orders: int = 20) -> tuple[Placed, ...]:
    placed = fill_outlines(question, Effort(10**6), room_mm, orders=orders)
    assert placed is not None
    return placed


def printed(width: float, height: float, lattice: Lattice, frame: Affine, up_deg: float = 0.0) -> ClothAsked:
    ring = rectangle(width, height)
    return ClothAsked("c", "c", ring, (Ground("g", Region.of(ring), "p", up_deg, lattice, frame),))


def test_a_book_lies_on_a_crooked_swatch_with_its_gap() -> None:
    swatch = ((10.0, 0.0), (460.0, 25.0), (430.0, 420.0), (0.0, 400.0))
    question = Question(book_pieces(), (cloth(0, 0, outline=swatch, up_deg=3.0),), gap_mm=3.0)
    placed = filled(question)
    assert faults(question, placed) == []
    assert placed == filled(question)


def test_an_exactly_fitting_piece_finds_its_place() -> None:
    question = Question((piece("a", 100, 60), piece("b", 100, 40)), (cloth(100, 100),))
    assert faults(question, filled(question)) == []


def test_room_is_kept_from_edges_and_neighbours() -> None:
    question = Question((piece("a", 0, 0, (0.0, 180.0), outline=ELL), piece("b", 50, 40)), (cloth(200, 150),))
    placed = filled(question, 6.0)
    shapes = [polygon_of(asked, one) for asked, one in zip(question.pieces, placed, strict=True)]
    edge = Region.of(rectangle(200, 150)).shape.exterior
    assert min(edge.distance(shape) for shape in shapes) >= 6.0 - 0.01
    assert shapes[0].distance(shapes[1]) >= 6.0 - 0.01


def test_slanted_flaws_holes_and_cut_pieces_are_kept_clear_of() -> None:
    stain = ((50.0, 40.0), (90.0, 60.0), (60.0, 80.0))
    keep_outs = (
        flaw(stain),
        flaw(rectangle(20, 20, 150, 60), "hole", spoiled=True),
        flaw(((5.0, 5.0), (9.0, 5.0), (9.0, 9.0)), "dot", seen_only=True),
    )
    cut = (piece("cut-1", 40, 30), Placed("cut-1", "c", 170.0, 25.0, 20.0))
    on = cloth(200, 160, keep_outs=keep_outs, fixed=(cut,))
    cover = piece("a", 60, 70, ANY, seen=rectangle(40, 50, 12, 11))
    question = Question((cover, piece("b", 0, 0, (0.0, 90.0), outline=ELL)), (on,), gap_mm=2.0)
    assert faults(question, filled(question, orders=60)) == []


def test_a_piece_of_any_angle_is_turned_until_it_fits() -> None:
    diamond = ((100.0, 0.0), (200.0, 100.0), (100.0, 200.0), (0.0, 100.0))
    question = Question((piece("strip", 130, 130, None),), (cloth(0, 0, outline=diamond),))
    placed = filled(question)
    assert placed[0].turn_deg % 90 == 45.0
    assert faults(question, placed) == []


def test_a_locked_point_lies_at_its_place_in_a_sheared_repeat_turned_with_the_print() -> None:
    frame = turn(90.0).then(shift(5.0, 9.0))
    on = printed(300, 300, SHEARED.mapped(frame), frame, up_deg=90.0)
    asked = piece("front", 0, 0, outline=ELL, anchor=(3.0, 50.0))
    lock = Lock("front", (20.0, 30.0), (11.0, 7.0))
    placed = filled(Question((asked,), (on,), locks=(lock,)))[0]
    assert placed.turn_deg == 90.0
    # A quarter clockwise takes (17, -20), from the anchor to the locked point, to (20, 17).
    point = placed.x_mm + 20.0, placed.y_mm + 17.0
    # Back into the print: minus 5, 9, then a quarter counter-clockwise (x, y) -> (y, -x), minus the place.
    x, y = point[1] - 9.0 - 11.0, -(point[0] - 5.0) - 7.0
    det = 40.0 * 30.0 + 8.0 * 10.0
    steps = (x * 30.0 + y * 8.0) / det, (40.0 * y - 10.0 * x) / det
    assert steps == pytest.approx([round(step) for step in steps], abs=1e-6)


def test_two_locks_must_both_hold() -> None:
    on = printed(300, 300, Lattice((50.0, 0.0), (0.0, 60.0)), shift(0.0, 0.0))
    asked = piece("front", 60, 60)
    first = Lock("front", (10.0, 10.0), (5.0, 5.0))
    agreeing, other = Lock("front", (60.0, 10.0), (5.0, 5.0)), Lock("front", (61.0, 10.0), (5.0, 5.0))
    assert fill_outlines(Question((asked,), (on,), locks=(first, agreeing)), Effort(10**5), orders=1) is not None
    assert fill_outlines(Question((asked,), (on,), locks=(first, other)), Effort(10**5), orders=1) is None


def test_a_lock_holds_nowhere_for_sure_without_a_print_or_its_origin() -> None:
    on = printed(300, 300, Lattice((50.0, 0.0), (0.0, 60.0)), shift(0.0, 0.0))
    question = Question((piece("front", 60, 60),), (on,), locks=(Lock("front", (0.0, 0.0), (0.0, 0.0)),))
    unknown = replace(on, grounds=(replace(on.grounds[0], origin_known=False),))
    for bare in (unknown, cloth(300, 300)):
        assert fill_outlines(replace(question, cloths=(bare,)), Effort(10**5), orders=1) is None


def test_a_lock_across_stripes_is_free_along_them() -> None:
    on = printed(300, 100, Lattice((40.0, 0.0)), shift(7.0, 0.0))
    question = Question(
        (piece("a", 90, 90), piece("b", 90, 90)),
        (on,),
        locks=(Lock("a", (0.0, 0.0), (0.0, 0.0)), Lock("b", (0.0, 0.0), (13.0, 0.0))),
    )
    placed = filled(question)
    assert faults(question, placed) == []
    assert (placed[0].x_mm - 45.0 - 7.0) % 40.0 == pytest.approx(0.0, abs=1e-6)
    assert (placed[1].x_mm - 45.0 - 20.0) % 40.0 == pytest.approx(0.0, abs=1e-6)


def test_linked_pieces_run_on_in_whole_repeats_and_lie_one_way() -> None:
    on = printed(400, 400, SHEARED, shift(0.0, 0.0))
    pieces = tuple(piece(name, 100, 140, (0.0, 180.0), anchor=(50.0, 60.0)) for name in ("a", "b", "d"))
    link = Link(("a", "b", "d"), ((50.0, 60.0), (40.0, 60.0), (50.0, 70.0)), ((13.0, 0.0), (26.0, 1.0)))
    placed = filled(Question(pieces, (on,), links=(link,)), orders=60)
    assert len({one.turn_deg for one in placed}) == 1
    sign = 1.0 if placed[0].turn_deg == 0.0 else -1.0
    start = placed[0].x_mm, placed[0].y_mm
    for one, (x, y), (u, v) in ((placed[1], (13.0, 0.0), (-10.0, 0.0)), (placed[2], (26.0, 1.0), (0.0, 10.0))):
        ahead = one.x_mm + sign * u - start[0] - sign * x, one.y_mm + sign * v - start[1] - sign * y
        assert SHEARED.off_mm(ahead) < 0.02


def test_linked_pieces_on_ground_without_a_repeat_are_not_found() -> None:
    pieces = tuple(piece(name, 50, 50) for name in ("a", "b"))
    link = Link(("a", "b"), ((0.0, 0.0), (0.0, 0.0)), ((0.0, 0.0),))
    question = Question(pieces, (cloth(300, 300),), links=(link,))
    assert fill_outlines(question, Effort(10**5), orders=2) is None


def test_a_repeat_finer_than_the_search_looks_is_still_searched() -> None:
    on = printed(300, 300, Lattice((0.5, 0.0), (0.0, 0.5)), shift(0.0, 0.0))
    question = Question((piece("a", 30, 30),), (on,), locks=(Lock("a", (0.0, 0.0), (0.1, 0.2)),))
    steps = (filled(question)[0].x_mm - 15.0 - 0.1) / 0.5
    assert steps == pytest.approx(round(steps), abs=1e-6)


def test_several_cloths_and_steps_that_end() -> None:
    kite = ((60.0, 0.0), (120.0, 60.0), (60.0, 120.0), (0.0, 60.0))
    cloths = (cloth(0, 0, name="c1", outline=kite), cloth(0, 0, name="c2", outline=kite))
    question = Question((piece("a", 55, 55), piece("b", 55, 55)), cloths)
    assert {one.cloth for one in filled(question)} == {"c1", "c2"}
    with pytest.raises(OutOfSteps):
        fill_outlines(question, Effort(3), orders=10)


def test_more_area_than_there_is_or_no_cloth_is_answered_at_once() -> None:
    for cloths in ((), (cloth(100, 100),)):
        pieces = tuple(piece(f"p-{k}", 0, 0, outline=ELL) for k in range(2000))
        assert fill_outlines(Question(pieces, cloths), Effort(1), orders=1000) is None


def test_boxes_that_fit_are_not_looked_at_more_closely() -> None:
    question = Question((piece("a", 0, 0, outline=ELL), piece("b", 50, 40, None)), (cloth(200, 150),))
    # A few steps are enough where no outline has to be made ready for its points of contact.
    placed = fill_outlines(question, Effort(4), orders=0)
    assert placed is not None
    assert faults(question, placed) == []
    assert len(list(outline_layouts(question, Effort(10**5), 0.0, 0))) > 15


def test_a_crossing_outline_is_laid_by_its_loops_and_one_without_area_not_at_all() -> None:
    bow_tie = ((0.0, 0.0), (50.0, 50.0), (50.0, 0.0), (0.0, 50.0))
    narrow = Question((piece("a", 0, 0, outline=bow_tie),), (cloth(49, 60),))
    assert fill_outlines(narrow, Effort(10**4), orders=1) is None
    assert fill_outlines(replace(narrow, cloths=(cloth(50, 60),)), Effort(10**4), orders=1) is not None
    thin = piece("a", 0, 0, outline=((0.0, 0.0), (10.0, 4.0), (5.0, 2.0)))
    kite = cloth(0, 0, outline=((60.0, 0.0), (120.0, 60.0), (60.0, 120.0), (0.0, 60.0)), up_deg=10.0)
    assert fill_outlines(Question((thin,), (kite,)), Effort(10**4), orders=1) is None
