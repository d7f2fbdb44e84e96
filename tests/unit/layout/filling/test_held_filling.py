"""First layouts of held rectangles: judged by shapely, places in the repeat by arithmetic."""

from __future__ import annotations

from dataclasses import replace

import pytest
from laying import ANY, book_pieces, clearance_of, cloth, faults, flaw, piece

from coverlayout.geometry.frames import Affine, shift, turn
from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.layout.filling.held_filling import fill_held, held_fillings
from coverlayout.layout.filling.held_job import held_job
from coverlayout.layout.question import ClothAsked, Ground, Link, Lock, PieceAsked, Placed, Question
from coverlayout.layout.search.effort import Effort, OutOfSteps
from coverlayout.motif.lattice import Lattice

GRID = Lattice((50.0, 0.0), (0.0, 60.0))


def filled(question: Question, room_mm: float = 0.0, orders: int = 60) -> tuple[Placed, ...] | None:
    job = held_job(question)
    assert job is not None
    return fill_held(job, Effort(10**6), room_mm, orders=orders)


def found(question: Question, room_mm: float = 0.0) -> dict[str, Placed]:
    placed = filled(question, room_mm)
    assert placed is not None
    assert faults(question, placed) == []
    return {one.piece: one for one in placed}


def printed(width: float, height: float, lattice: Lattice, frame: Affine, up_deg: float = 0.0) -> ClothAsked:
    ring = rectangle(width, height)
    return ClothAsked("c", "c", ring, (Ground("g", Region.of(ring), "p", up_deg, lattice, frame),))


def test_a_lock_and_free_pieces_with_room() -> None:
    on = printed(300, 200, GRID, shift(3.0, 8.0))
    pieces = piece("free", 90, 80), piece("held", 60, 40, anchor=(10.0, 5.0)), piece("label", 30, 20)
    question = Question(pieces, (on,), locks=(Lock("held", (20.0, 9.0), (11.0, 7.0)),))
    placed = found(question, 4.0)
    assert (placed["held"].x_mm + 10.0 - 14.0) % 50.0 == pytest.approx(0.0, abs=1e-6)
    assert (placed["held"].y_mm + 4.0 - 15.0) % 60.0 == pytest.approx(0.0, abs=1e-6)
    assert clearance_of(question, placed.values()) >= 4.0 - 1e-6
    assert filled(question, 4.0) == filled(question, 4.0)


def test_partners_lie_one_way_and_run_on_in_a_turned_sheared_repeat() -> None:
    frame = turn(90.0).then(shift(5.0, 9.0))
    lattice = Lattice((40.0, 10.0), (-8.0, 30.0)).mapped(frame)
    on = printed(400, 400, lattice, frame, up_deg=90.0)
    pieces = tuple(piece(name, 100, 140, (0.0, 180.0), anchor=(50.0, 60.0)) for name in "abd")
    link = Link(("a", "b", "d"), ((50.0, 60.0), (40.0, 60.0), (50.0, 70.0)), ((13.0, 0.0), (26.0, 1.0)))
    placed = found(Question(pieces, (on,), links=(link,)))
    assert len({one.turn_deg for one in placed.values()}) == 1
    turned = turn(placed["a"].turn_deg)
    for name, point, difference in (("b", (-10.0, 0.0), (13.0, 0.0)), ("d", (0.0, 10.0), (26.0, 1.0))):
        (u, v), (x, y) = turned.vector(point), turned.vector(difference)
        ahead = placed[name].x_mm + u - placed["a"].x_mm - x, placed[name].y_mm + v - placed["a"].y_mm - y
        assert lattice.off_mm(ahead) < 1e-6


def test_a_lock_across_stripes_is_free_along_them() -> None:
    on = printed(300, 100, Lattice((40.0, 0.0)), shift(7.0, 0.0))
    locks = Lock("a", (0.0, 0.0), (0.0, 0.0)), Lock("b", (0.0, 0.0), (13.0, 0.0))
    placed = found(Question((piece("a", 90, 90), piece("b", 90, 90)), (on,), locks=locks))
    assert (placed["a"].x_mm - 45.0 - 7.0) % 40.0 == pytest.approx(0.0, abs=1e-6)
    assert (placed["b"].x_mm - 45.0 - 20.0) % 40.0 == pytest.approx(0.0, abs=1e-6)


def test_a_piece_follows_one_that_is_cut() -> None:
    on = printed(300, 200, GRID, shift(0.0, 0.0))
    cut = piece("cut-1", 60, 40), Placed("cut-1", "c", 61.0, 33.0)
    link = Link(("cut-1", "a"), ((30.0, 20.0), (30.0, 20.0)), ((0.0, 0.0),))
    placed = found(Question((piece("a", 60, 40),), (replace(on, fixed=(cut,)),), links=(link,)))
    assert (placed["a"].x_mm - 61.0) % 50.0 == pytest.approx(0.0, abs=1e-6)
    assert (placed["a"].y_mm - 33.0) % 60.0 == pytest.approx(0.0, abs=1e-6)


def test_ten_books_on_two_prints_in_zones_with_flaws_in_linked_pairs() -> None:
    outline = rectangle(1524.0, 1016.0)
    upper = Ground("u", Region.of(rectangle(1524, 660)), "A", 0.0, Lattice((64.0, 0.0), (32.0, 48.0)), shift(5.0, 9.0))
    lower = Ground("l", Region.of(rectangle(1524, 356, 0, 660)), "B")
    flaws = (
        flaw(((300.0, 200.0), (330.0, 210.0), (310.0, 240.0)), "a"),
        flaw(rectangle(20, 20, 900, 420), "b"),
        flaw(((700.0, 750.0), (730.0, 760.0), (705.0, 790.0)), "d"),
    )
    pieces = tuple(replace(one, print_id="B" if "liner" in one.id else "A") for one in book_pieces(10))
    links = tuple(Link((f"front-{n}", f"back-{n}"), ((72.15, 91.2),) * 2, ((0.0, 0.0),)) for n in range(1, 11))
    placed = found(Question(pieces, (ClothAsked("c", "c", outline, (upper, lower), flaws),), links=links))
    for n in range(1, 11):
        front, back = placed[f"front-{n}"], placed[f"back-{n}"]
        along = (back.y_mm - front.y_mm) / 48.0
        across = (back.x_mm - front.x_mm - 32.0 * round(along)) / 64.0
        assert (along, across) == pytest.approx((round(along), round(across)), abs=1e-6)


def test_a_seen_part_is_moved_off_what_only_it_must_keep_clear_of() -> None:
    dot = flaw(((12.0, 12.0), (18.0, 14.0), (14.0, 19.0)), "dot", seen_only=True)
    asked: PieceAsked = piece("a", 60, 50, seen=rectangle(30, 30, 15, 10))
    placed = found(Question((asked,), (cloth(64, 60, keep_outs=(dot,)),)))
    assert placed["a"].x_mm - 15.0 >= 18.0 - 15.0 - 1e-6 or placed["a"].y_mm - 15.0 >= 19.0 - 0.01


def test_a_crooked_ground_holds_what_fits_in_its_corners() -> None:
    kite = ((60.0, 0.0), (120.0, 60.0), (60.0, 120.0), (0.0, 60.0))
    cloths = cloth(0, 0, name="c1", outline=kite), cloth(0, 0, name="c2", outline=kite)
    question = Question((piece("a", 45, 45), piece("b", 45, 45, ANY)), cloths)
    assert {one.cloth for one in found(question).values()} == {"c1", "c2"}


def test_what_cannot_hold_is_not_found() -> None:
    lock = Lock("a", (0.0, 0.0), (0.0, 0.0))
    assert filled(Question((piece("a", 60, 60),), (cloth(300, 300),), locks=(lock,))) is None
    on = printed(80, 80, Lattice((90.0, 0.0), (0.0, 90.0)), shift(50.0, 50.0))
    assert filled(Question((piece("a", 60, 60),), (on,), locks=(lock,))) is None
    assert filled(Question((piece("a", 81, 60),), (on,), locks=(lock,))) is None
    assert filled(Question((piece("a", 81, 81),), (on,), locks=(lock,))) is None
    link = Link(("a", "b"), ((0.0, 0.0),) * 2, ((0.0, 0.0),))
    two = piece("a", 30, 30), piece("b", 30, 30)
    assert filled(Question(two, (on,), links=(link,))) is None


def test_layouts_go_on_until_the_steps_end() -> None:
    on = printed(300, 200, GRID, shift(3.0, 8.0))
    job = held_job(Question((piece("a", 60, 40),), (on,), locks=(Lock("a", (0.0, 0.0), (0.0, 0.0)),)))
    assert job is not None
    assert len(list(held_fillings(job, Effort(10_000), 0.0, 3))) == 15
    with pytest.raises(OutOfSteps):
        list(held_fillings(job, Effort(20), 0.0, 300))
