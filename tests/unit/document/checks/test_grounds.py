"""What edits ask of a cloth's ground beyond what the file's door does."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from full_project import FULL

from coverlayout.book.book import Source
from coverlayout.cloth.cloth import Change, Cloth, Flaw, Zone
from coverlayout.document.checks.grounds import check_flaw, check_outline, check_source, check_zone
from coverlayout.document.checks.whole import checked
from coverlayout.document.project import Project
from coverlayout.errors import BadInput
from coverlayout.geometry.frames import Ring
from coverlayout.geometry.shapes import rectangle
from coverlayout.motif.prints import LaidPrint

CROOKED: Ring = ((0.0, 30.0), (260.0, 0.0), (300.0, 180.0), (20.0, 200.0))
LEFTOVER = Cloth("cloth-1", "Leftover", 300.0, 200.0, outline_mm=CROOKED)


def code_of(check: object, *given: object) -> str:
    with pytest.raises(BadInput) as caught:
        check(*given)  # type: ignore[operator]  # the check under test is called here
    assert str(caught.value)
    return caught.value.code


def test_an_outline_within_the_cloth_passes() -> None:
    check_outline(LEFTOVER)
    check_outline(Cloth("c", "plain", 10.0, 10.0))
    # A hundredth of a millimetre is no length.
    check_outline(replace(LEFTOVER, width_mm=299.995))


@pytest.mark.parametrize(
    ("cloth", "code"),
    [
        (replace(LEFTOVER, width_mm=299.9), "outline-larger"),
        (replace(LEFTOVER, length_mm=199.9), "outline-larger"),
        (replace(LEFTOVER, outline_mm=((5.0, 30.0), *CROOKED[1:3])), "outline-off-corner"),
        (replace(LEFTOVER, outline_mm=(CROOKED[0], CROOKED[2], CROOKED[1], CROOKED[3])), "outline-crosses"),
    ],
)
def test_an_outline_that_cannot_be_is_named(cloth: Cloth, code: str) -> None:
    assert code_of(check_outline, cloth) == code


def test_an_outline_is_held_against_the_cloth_as_it_was_when_it_was_drawn() -> None:
    """300 mm washed by 10 % are 270: an outline of 280 drawn before the wash fits, drawn after it does not."""
    washed = replace(LEFTOVER, changes=(Change("washing", -10.0, 0.0),), outline_mm=rectangle(280.0, 150.0))
    check_outline(washed)
    assert code_of(check_outline, replace(washed, outline_changes_in=1)) == "outline-larger"
    check_outline(replace(washed, outline_mm=rectangle(269.0, 150.0), outline_changes_in=1))


def test_flaws_lie_on_the_cloth_at_least_in_part() -> None:
    check_flaw(LEFTOVER, Flaw("f", "stain", rectangle(20.0, 20.0, 275.0, 100.0)))
    check_flaw(LEFTOVER, Flaw("f", "crease", ((-50.0, 90.0), (400.0, 95.0)), line_width_mm=4.0))


@pytest.mark.parametrize(
    ("flaw", "code"),
    [
        # Within the box of the crooked cloth, yet beside it: its edge passes (20, 27.7).
        (Flaw("f", "crease", ((0.0, 90.0), (40.0, 95.0)), line_width_mm=math.nan), "figure-not-finite"),
        (Flaw("f", "stain", rectangle(15.0, 15.0, 2.0, 2.0)), "flaw-off-cloth"),
        (Flaw("f", "crease", ((-50.0, 250.0), (400.0, 250.0)), line_width_mm=4.0), "flaw-off-cloth"),
        (Flaw("f", "crease", ((50.0, 50.0),), line_width_mm=4.0), "line-no-length"),
        (Flaw("f", "crease", ((50.0, 50.0), (90.0, 50.0), (70.0, 80.0), (70.0, 20.0)), 4.0), "line-crosses"),
        (Flaw("f", "stain", ((50.0, 50.0), (90.0, 50.0), (70.0, 50.0))), "outline-no-area"),
        (Flaw("f", "stain", ((50.0, 50.0), (90.0, 90.0), (90.0, 50.0), (50.0, 80.0))), "outline-crosses"),
    ],
)
def test_a_flaw_that_cannot_be_is_named(flaw: Flaw, code: str) -> None:
    assert code_of(check_flaw, LEFTOVER, flaw) == code


HALF = Zone("zone-1", "left half", rectangle(150.0, 200.0))
ZONED = replace(LEFTOVER, zones=(HALF,))


def test_zones_may_touch_and_stick_out_of_the_cloth() -> None:
    check_zone(ZONED, Zone("zone-2", "right half", rectangle(200.0, 220.0, 150.0, -10.0)))
    check_zone(ZONED, Zone("zone-2", "a hair over", rectangle(100.0, 200.0, 149.992, 0.0)))
    check_zone(ZONED, HALF)


@pytest.mark.parametrize(
    ("outline", "code"),
    [
        (rectangle(100.0, 200.0, 149.9, 0.0), "zones-overlap"),
        (rectangle(20.0, 20.0, 60.0, 60.0), "zones-overlap"),
        (rectangle(50.0, 50.0, 301.0, 0.0), "zone-off-cloth"),
        (((0.0, 0.0), (9.0, 9.0), (18.0, 18.0)), "outline-no-area"),
        (((200.0, 0.0), (280.0, 90.0), (280.0, 0.0), (200.0, 90.0)), "outline-crosses"),
    ],
)
def test_a_zone_that_cannot_be_is_named(outline: Ring, code: str) -> None:
    assert code_of(check_zone, ZONED, Zone("zone-2", "new", outline)) == code


def test_zones_are_compared_on_the_cloth_as_it_now_is() -> None:
    """The left half, drawn before the wash, ends at 135 after it: a zone that begins there touches, at 130 overlaps."""
    washed = replace(ZONED, outline_mm=None, changes=(Change("washing", -10.0, 0.0),))
    check_zone(washed, Zone("zone-2", "new", rectangle(50.0, 50.0, 135.0, 0.0), changes_in=1))
    late = Zone("zone-2", "new", rectangle(50.0, 50.0, 130.0, 0.0), changes_in=1)
    assert code_of(check_zone, washed, late) == "zones-overlap"


def test_the_files_door_stays_as_it_was() -> None:
    """Older work may hold what edits refuse now; it must open."""
    lying_over = (
        HALF,
        Zone("zone-2", "same", rectangle(150.0, 200.0)),
        Zone("zone-3", "off", rectangle(9.0, 9.0, 900.0)),
    )
    off = Flaw("flaw-1", "off", rectangle(9.0, 9.0, 900.0, 900.0))
    crossed = Flaw("flaw-2", "loop", ((0.0, 0.0), (40.0, 0.0), (20.0, 30.0), (20.0, -9.0)), line_width_mm=4.0)
    cloth = replace(LEFTOVER, width_mm=100.0, zones=lying_over, flaws=(off, crossed))
    project = Project(cloths=(cloth,))
    assert checked(project) == project


PLACES = replace(
    FULL,
    cloths=(
        *FULL.cloths,
        Cloth("cloth-9", "Bare", 100.0, 100.0),
        Cloth("cloth-8", "Ticking", 100.0, 100.0, laid=LaidPrint("print-2")),
    ),
)


@pytest.mark.parametrize(
    "source",
    [
        Source(),
        Source(print_id="print-2"),
        Source(cloth_id="cloth-9"),
        Source(zone_id="zone-1"),
        Source("print-1", "cloth-1", "zone-1"),
        Source("print-2", "cloth-8"),
    ],
)
def test_sources_that_can_be(source: Source) -> None:
    check_source(PLACES, source)


@pytest.mark.parametrize(
    ("source", "code"),
    [
        (Source(print_id="print-9"), "id-unknown"),
        (Source(cloth_id="cloth-99"), "id-unknown"),
        (Source(zone_id="zone-9"), "id-unknown"),
        (Source(cloth_id="cloth-9", zone_id="zone-1"), "source-zone-elsewhere"),
        (Source("print-2", "cloth-1", "zone-1"), "source-print-elsewhere"),
        # The cloth's own print counts for nothing where zones divide it.
        (Source("print-2", "cloth-1"), "source-print-elsewhere"),
        (Source("print-1", "cloth-9"), "source-print-elsewhere"),
    ],
)
def test_sources_that_cannot_be(source: Source, code: str) -> None:
    assert code_of(check_source, PLACES, source) == code
