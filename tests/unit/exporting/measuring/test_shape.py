"""Shapes by which a piece is cut, and where the parts of a book lie on the cloth that covers them."""

from __future__ import annotations

import pytest

from coverlayout.book.pieces import Face
from coverlayout.exporting.measuring.shape import face_seen, points_text, shape_of
from coverlayout.geometry.frames import Ring, cloth_to_back, shift, turn
from coverlayout.geometry.shapes import rectangle


@pytest.mark.parametrize(
    ("outline", "shape"),
    [
        (rectangle(60.0, 40.0), "rectangle"),
        (((0.0, 0.0), (30.0, 0.0), (60.0, 0.0), (60.0, 40.0), (0.0, 40.0)), "rectangle"),
        (((0.0, 0.0), (60.0, 0.0), (0.0, 40.0)), "right triangle"),
        (((60.0, 0.0), (60.0, 40.0), (0.0, 40.0)), "right triangle"),
        (((0.0, 0.0), (60.0, 0.0), (30.0, 40.0)), "outline"),
        # A right angle, but not between level and upright legs: width and height are no legs.
        (((0.0, 30.0), (40.0, 0.0), (62.5, 30.0)), "outline"),
        # Half as large as its box, with corners in corners of the box, and no triangle.
        (((0.0, 0.0), (30.0, 0.0), (60.0, 40.0), (30.0, 40.0)), "outline"),
        (((0.0, 0.0), (60.0, 0.0), (60.0, 20.0), (25.0, 20.0), (25.0, 80.0), (0.0, 80.0)), "outline"),
    ],
)
def test_the_shape_of_an_outline(outline: Ring, shape: str) -> None:
    assert shape_of(outline) == shape


def test_head_and_tail_of_a_face_are_known_however_it_lies() -> None:
    face = Face("spine", rectangle(20.0, 100.0, 150.0, 14.0))
    upright = face_seen(face, shift(1.0, 2.0))
    assert (upright.head_mm, upright.tail_mm) == ((161.0, 16.0), (161.0, 116.0))
    assert face_seen(face, cloth_to_back(400.0)).head_mm == (240.0, 14.0)
    turned = face_seen(face, turn(90.0))
    assert turned.head_mm == pytest.approx((-14.0, 160.0))
    assert turned.tail_mm == pytest.approx((-114.0, 160.0))
    assert turned.name == "spine"


def test_points_are_counted_from_an_origin_without_a_minus_before_a_nought() -> None:
    assert points_text(((9.999, 5.0), (12.3456, 7.0)), (10.0, 5.0)) == "0.00,0.00 2.35,2.00"
