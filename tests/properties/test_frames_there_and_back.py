"""Any map there and back moves nothing; mirrored twice is itself."""

from __future__ import annotations

import math

from hypothesis import assume, given
from hypothesis import strategies as st

from coverlayout.geometry.frames import Affine, cloth_to_back, piece_to_cloth, turn

lengths = st.floats(-2000.0, 2000.0, allow_nan=False)
points = st.tuples(lengths, lengths)
factors = st.floats(-3.0, 3.0)
turns = st.one_of(st.sampled_from([0.0, 90.0, 180.0, 270.0, -90.0]), st.floats(-360.0, 360.0))


@given(st.builds(Affine, factors, factors, factors, factors, lengths, lengths), points)
def test_there_and_back_moves_no_point(by: Affine, point: tuple[float, float]) -> None:
    # Flatter maps than this occur nowhere: a print skewed that much is no print.
    assume(abs(by.determinant) > 0.05)
    assert math.dist(by.inverse().at(by.at(point)), point) < 1e-9


@given(points, points, turns, points)
def test_a_placed_piece_goes_back_to_its_frame(
    anchor: tuple[float, float], at: tuple[float, float], turn_deg: float, point: tuple[float, float]
) -> None:
    by = piece_to_cloth(anchor, at, turn_deg)
    assert math.dist(by.inverse().at(by.at(point)), point) < 1e-9
    assert abs(by.determinant - 1.0) < 1e-12, "pieces are never mirrored nor stretched"


@given(st.floats(1.0, 3000.0), points)
def test_mirrored_twice_is_itself(width_mm: float, point: tuple[float, float]) -> None:
    back = cloth_to_back(width_mm)
    assert math.dist(back.at(back.at(point)), point) < 1e-9
    assert back.inverse() == back
    assert back.then(back).at(point)[1] == point[1]


@given(turns, turns, points)
def test_turns_add_up(first: float, second: float, point: tuple[float, float]) -> None:
    assert math.dist(turn(first).then(turn(second)).at(point), turn(first + second).at(point)) < 1e-6
