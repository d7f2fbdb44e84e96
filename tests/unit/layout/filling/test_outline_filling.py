"""Layouts by points of contact: judged by shapely alone, on jobs cut from one cloth so that they can be laid."""

from __future__ import annotations

import math

import pytest
from laying import ANY, cloth, faults, piece

from coverlayout.geometry.frames import Ring, shift
from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.layout.filling.outline_filling import outline_fillings
from coverlayout.layout.filling.outline_job import OutlineJob
from coverlayout.layout.question import ClothAsked, Ground, Link, Lock, Placed, Question
from coverlayout.layout.search.effort import Effort, OutOfSteps
from coverlayout.motif.lattice import Lattice

ELL: Ring = ((0.0, 0.0), (110.0, 0.0), (110.0, 38.0), (40.0, 38.0), (40.0, 90.0), (0.0, 90.0))


def first(question: Question, room_mm: float = 0.0, orders: int = 200) -> tuple[Placed, ...] | None:
    effort = Effort(10**6)
    return next(outline_fillings(OutlineJob(question, effort, room_mm), effort, orders), None)


def found(question: Question, room_mm: float = 0.0) -> tuple[Placed, ...]:
    placed = first(question, room_mm)
    assert placed is not None
    assert faults(question, placed) == []
    return placed


def test_ells_and_wedges_are_put_into_each_other() -> None:
    wedge = ((0.0, 0.0), (90.0, 0.0), (60.0, 120.0), (0.0, 120.0))
    ells = tuple(piece(f"corner-{k}", 0, 0, (0.0, 180.0), outline=ELL) for k in range(4))
    wedges = tuple(piece(f"wedge-{k}", 0, 0, (0.0, 180.0), outline=wedge) for k in range(2))
    question = Question((*ells, *wedges), (cloth(240, 220),))
    assert found(question) == found(question)


def test_a_cloth_cut_into_stairs_and_slants_is_put_together_again_without_waste() -> None:
    stair: Ring = ((0.0, 0.0), (120.0, 0.0), (120.0, 40.0), (60.0, 40.0), (60.0, 80.0), (0.0, 80.0))
    under: Ring = ((60.0, 0.0), (120.0, 0.0), (120.0, 60.0), (0.0, 60.0), (0.0, 40.0), (60.0, 40.0))
    left: Ring = ((0.0, 0.0), (70.0, 0.0), (50.0, 60.0), (0.0, 60.0))
    right: Ring = ((20.0, 0.0), (70.0, 0.0), (70.0, 60.0), (0.0, 60.0))
    names = {"stair": stair, "under": under, "left": left, "right": right}
    pieces = tuple(piece(name, 0, 0, ANY, outline=ring) for name, ring in names.items())
    found(Question(pieces, (cloth(120, 160),)))


def test_a_pinwheel_closes_round_its_middle() -> None:
    blades = tuple(piece(f"blade-{k}", 60, 40, ANY) for k in range(4))
    found(Question((*blades, piece("middle", 20, 20)), (cloth(100, 100),)))


def test_gap_and_room_are_kept() -> None:
    question = Question(
        (piece("a", 0, 0, (0.0, 180.0), outline=ELL), piece("b", 60, 45)), (cloth(130, 110),), gap_mm=3.0
    )
    placed = found(question, 4.0)
    assert placed[0] != placed[1]
    assert first(question, 11.0) is None


def test_outlines_on_crooked_ground_lie_turned_with_it() -> None:
    swatch = ((0.0, 10.0), (250.0, 0.0), (262.0, 200.0), (8.0, 212.0))
    ells = tuple(piece(f"corner-{k}", 0, 0, ANY, outline=ELL) for k in range(4))
    placed = found(Question(ells, (cloth(0, 0, outline=swatch, up_deg=357.0),)))
    assert {(one.turn_deg + 3.0) % 90.0 for one in placed} == {0.0}


def test_a_piece_of_any_angle_lies_along_a_slanted_edge() -> None:
    diamond = ((100.0, 0.0), (200.0, 50.0), (100.0, 100.0), (0.0, 50.0))
    placed = found(Question((piece("strip", 90, 35, None),), (cloth(0, 0, outline=diamond),)))
    slope_deg = math.degrees(math.atan2(50, 100))
    assert min(abs(placed[0].turn_deg % 180 - slope_deg), abs(placed[0].turn_deg % 180 - 180 + slope_deg), 1) <= 1


def test_locked_and_linked_outlines_keep_their_place_in_the_repeat() -> None:
    ring = rectangle(300, 260)
    lattice = Lattice((40.0, 10.0), (-8.0, 30.0))
    on = ClothAsked("c", "c", ring, (Ground("g", Region.of(ring), "p", 0.0, lattice, shift(5.0, 9.0)),))
    pieces = tuple(piece(name, 0, 0, (0.0, 180.0), outline=ELL, anchor=(0.0, 0.0)) for name in "abd")
    lock = Lock("a", (20.0, 30.0), (11.0, 7.0))
    link = Link(("b", "d"), ((0.0, 0.0), (0.0, 0.0)), ((13.0, 1.0),))
    placed = found(Question(pieces, (on,), locks=(lock,), links=(link,)))
    sign = 1.0 if placed[0].turn_deg == 0.0 else -1.0
    assert lattice.off_mm((placed[0].x_mm + sign * 20.0 - 16.0, placed[0].y_mm + sign * 30.0 - 16.0)) < 1e-6
    assert placed[1].turn_deg == placed[2].turn_deg
    sign = 1.0 if placed[1].turn_deg == 0.0 else -1.0
    ahead = placed[2].x_mm - placed[1].x_mm - sign * 13.0, placed[2].y_mm - placed[1].y_mm - sign * 1.0
    assert lattice.off_mm(ahead) < 1e-6


def test_several_cloths_are_filled_one_after_another() -> None:
    kite = ((60.0, 0.0), (120.0, 60.0), (60.0, 120.0), (0.0, 60.0))
    cloths = (cloth(0, 0, name="c1", outline=kite), cloth(0, 0, name="c2", outline=kite))
    placed = found(Question((piece("a", 55, 55), piece("b", 55, 55), piece("e", 3, 3)), cloths))
    assert sorted(one.cloth for one in placed) == ["c1", "c1", "c2"]


def test_what_fits_nowhere_is_not_found() -> None:
    assert first(Question((piece("a", 0, 0, ANY, outline=ELL),), (cloth(80, 100),))) is None
    assert first(Question((piece("a", 0, 0, outline=ELL),), ())) is None
    assert first(Question((piece("a", 60, 60), piece("b", 60, 60)), (cloth(100, 100),)), orders=5) is None


def test_layouts_go_on_until_the_steps_end() -> None:
    question = Question((piece("a", 0, 0, outline=ELL), piece("b", 30, 20)), (cloth(300, 200),))
    effort = Effort(10_000)
    assert len(list(outline_fillings(OutlineJob(question, effort), effort, 4))) == 19
    effort = Effort(60)
    with pytest.raises(OutOfSteps):
        list(outline_fillings(OutlineJob(question, effort), effort, 400))
