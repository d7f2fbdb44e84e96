"""A project with its prints at another scale: what grows with the print, and what does not."""

from __future__ import annotations

import pytest

from coverlayout.cloth.cloth import Cloth, Zone
from coverlayout.document.project import LinkWish, LockWish, Project, TileMark
from coverlayout.document.sizing.print_scales import SCALES_PERCENT, at_scale
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print

SHEARED = Print("print-1", "Leaves", Lattice((50.0, 13.0), (-17.0, 81.0)), tile_mm=(50.0, 81.0))
STRIPES = Print("print-2", "Stripes", Lattice((12.0, 5.0)))
UNKNOWN = LaidPrint("print-1", (3.0, 5.0), 90.0, origin_known=False)
ZONE = Zone("zone-1", "left", ((0.0, 0.0), (50.0, 0.0), (50.0, 90.0)), UNKNOWN)
PROJECT = Project(
    prints=(SHEARED, STRIPES),
    cloths=(Cloth("cloth-1", "C", 300.0, 200.0, laid=UNKNOWN), Cloth("cloth-2", "D", 90.0, 90.0, zones=(ZONE,))),
    marks=(TileMark("bird", "print-1", (25.0, 43.0)),),
    locks=(LockWish("lock-1", "front-1", (25.0, 43.0), (7.0, 9.0)),),
    links=(LinkWish("link-1", ("front-1", "back-1"), ((131.0, 2.0),)),),
)


def test_scales_worth_ordering() -> None:
    assert {50, 94, 100, 200} <= set(SCALES_PERCENT)
    assert len(SCALES_PERCENT) == len(set(SCALES_PERCENT)) >= 50
    assert list(SCALES_PERCENT) == sorted(SCALES_PERCENT)


def test_what_is_printed_grows() -> None:
    large = at_scale(PROJECT, 150.0)
    assert large.prints[0].lattice == Lattice((75.0, 19.5), (-25.5, 121.5))
    assert large.prints[0].tile_mm == (75.0, 121.5)
    assert large.prints[1].lattice == Lattice((18.0, 7.5))
    assert large.marks[0].at_mm == (37.5, 64.5)
    assert large.locks[0].place_mm == (37.5, 64.5)


def test_what_is_bound_stays() -> None:
    large = at_scale(PROJECT, 150.0)
    assert large.locks[0].point_mm == (7.0, 9.0)
    assert large.links == PROJECT.links
    assert [cloth.width_mm for cloth in large.cloths] == [300.0, 90.0]


def test_printed_to_order_its_beginning_is_known() -> None:
    first, second = at_scale(PROJECT, 94.0).cloths
    assert first.laid == LaidPrint("print-1", (3.0, 5.0), 90.0)
    assert second.laid is None
    assert second.zones[0].laid == first.laid


@pytest.mark.parametrize("percent", [100.0])
def test_as_it_is_nothing_but_the_beginning_changes(percent: float) -> None:
    same = at_scale(PROJECT, percent)
    assert (same.prints, same.marks, same.locks) == (PROJECT.prints, PROJECT.marks, PROJECT.locks)
