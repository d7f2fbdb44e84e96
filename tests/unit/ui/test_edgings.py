"""What measures catch at: every outline on the table, as it is seen from either side."""

from __future__ import annotations

from dataclasses import replace

import pytest
from canvas_samples import job, leftover, linen, with_side

from coverlayout.cloth.cloth import BaseLine, Zone
from coverlayout.document.project import CutPiece, Project
from coverlayout.geometry.frames import Point
from coverlayout.geometry.shapes import bounds, rectangle
from coverlayout.layout.measuring.catching import Edging, caught
from coverlayout.layout.question import Placed
from coverlayout.ui.seeing.edgings import edgings_of
from coverlayout.ui.table.shown import bench_of


def edgings(project: Project) -> tuple[Edging, ...]:
    return edgings_of(project, bench_of(project)[0])


def named(project: Project, name: str) -> Edging:
    found = [edging for edging in edgings(project) if edging.name == name]
    assert len(found) == 1, [edging.name for edging in edgings(project)]
    return found[0]


def catch(project: Project, at_mm: Point) -> tuple[str, Point]:
    found = caught(at_mm, edgings(project), 2.0)
    assert found is not None
    return f"{found.kind} of {found.name}", found.at_mm


def test_corners_of_pieces_boards_and_cloths() -> None:
    # The front lies at (100, 116): cut 144.3 x 182.4, board 114.3 x 152.4 about it.
    assert catch(job(), (27.0, 24.0)) == ("corner of front cover", pytest.approx((27.85, 24.8)))
    assert catch(job(), (43.5, 40.5)) == ("corner of the board of front cover", pytest.approx((42.85, 39.8)))
    assert catch(job(), (459.0, 1.0)) == ("corner of Linen", (460.0, 0.0))
    assert catch(job(), (300.0, 331.0)) == ("edge of Linen", pytest.approx((300.0, 330.0)))


def test_on_the_back_everything_is_mirrored() -> None:
    back = with_side(job(), "back")
    assert catch(back, (460 - 27.0, 24.0)) == ("corner of front cover", pytest.approx((460 - 27.85, 24.8)))
    assert named(back, "Linen").box == named(job(), "Linen").box


def test_flaws_zones_and_base_lines() -> None:
    crease = named(job(), "Crease")
    # A line from (10, 300) to (200, 310), 6 mm wide.
    assert crease.box.left_mm == pytest.approx(10 - 3 * 10 / (190**2 + 10**2) ** 0.5, abs=1e-6)
    line = BaseLine((20.0, 30.0), (420.0, 36.0))
    zone = Zone("zone-1", "Left half", rectangle(200.0, 330.0))
    marked = job(replace(linen(), base_line=line, zones=(zone,)))
    assert named(marked, "the base line of Linen").points_mm == ((20.0, 30.0), (420.0, 36.0))
    assert not named(marked, "the base line of Linen").closed
    assert bounds(named(marked, "Left half").points_mm).right_mm == pytest.approx(200.0)


def test_a_hole_that_a_spoiled_piece_left() -> None:
    fact = CutPiece(
        "front-1",
        "front cover",
        "spoiled",
        ((0.0, 0.0), (40.0, 0.0), (40.0, 12.0), (15.0, 12.0), (15.0, 30.0), (0.0, 30.0)),
        (0.0, 0.0),
        Placed("front-1", "cloth-1", 300.0, 200.0, 90.0),
    )
    hole = named(replace(job(), cut_pieces=(fact,)), "front cover, spoiled")
    # Turned clockwise by a quarter about its corner: (40, 12) comes to lie at (300 - 12, 200 + 40).
    assert (288.0, 240.0) in [pytest.approx(point) for point in hole.points_mm]


def test_a_crooked_cloth_catches_at_its_own_corners() -> None:
    two = job(linen(), leftover())
    left = bench_of(two)[0].sheet("cloth-2").box.left_mm
    assert catch(two, (left + 289.0, 1.0)) == ("corner of Leftover", pytest.approx((left + 290.0, 0.0)))
