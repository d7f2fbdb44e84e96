"""What of a cloth can be used: its outline as it now is, less the strips along its edges, and where to keep clear."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

from coverlayout.cloth.cloth import Cloth, Flaw, Zone
from coverlayout.geometry.frames import Affine, Point, scale
from coverlayout.geometry.shapes import Region, bounds, rectangle
from coverlayout.geometry.tolerance import SNAP_MM
from coverlayout.motif.prints import LaidPrint

__all__ = [
    "flaw_region",
    "keep_out_regions",
    "laid_to_cloth",
    "outline_region",
    "shrunk",
    "size_now_mm",
    "usable",
    "zone_region",
]

# Cloths are looked at on every frame of a drag; a few hundred remembered ones cover a long session's undo.
_REMEMBERED = 256


def size_now_mm(cloth: Cloth) -> Point:
    """Width and length of the cloth after all its changes, in mm, from the origin to the far edges of its outline.

    The back view mirrors by this width.

    >>> from coverlayout.cloth.cloth import Change
    >>> size_now_mm(Cloth("c", "swatch", 300.0, 200.0, changes=(Change("washing", -3.0, -1.0),)))
    (291.0, 198.0)
    """
    box = bounds(cloth.outline_now_mm())
    return box.right_mm, box.bottom_mm


@lru_cache(maxsize=_REMEMBERED)
def outline_region(cloth: Cloth) -> Region:
    """The whole cloth as it now is, nothing taken off: what used % is measured over."""
    return Region.of(cloth.outline_now_mm())


@lru_cache(maxsize=_REMEMBERED)
def usable(cloth: Cloth) -> Region:
    """The outline as it now is, less trim and unbacked strip all round and the selvedges at its two sides.

    Strips are measured on the changed cloth from its outline; at one edge the widest counts. A point is usable when it
    lies at least that far from the outline, straight across. Flaws and zones are not cut out here (see
    `keep_out_regions` and `zone_region`). Empty when the strips leave nothing.

    >>> usable(Cloth("c", "swatch", 300.0, 200.0, trim_mm=3.0, web_short_mm=5.0, selvedge_left_mm=10.0)).bounds
    Box(left_mm=10.0, top_mm=5.0, width_mm=285.0, height_mm=190.0)
    """
    whole = outline_region(cloth)
    strip_mm = max(cloth.trim_mm, cloth.web_short_mm)
    inside = whole.inset(strip_mm, corners="round") if strip_mm > SNAP_MM else whole
    box = whole.bounds
    for width_mm, left_mm in (
        (cloth.selvedge_left_mm, box.left_mm),
        (cloth.selvedge_right_mm, box.right_mm - cloth.selvedge_right_mm),
    ):
        if width_mm > SNAP_MM and not inside.is_empty:
            inside = inside.minus(Region.of(rectangle(width_mm, box.height_mm, left_mm, box.top_mm)))
    return inside


def flaw_region(cloth: Cloth, flaw: Flaw) -> Region:
    """The ground a flaw takes on the cloth as it now is; the changes it does not contain scale it, a line's width too.

    A line is widened first and scaled after, so that a crease along the cloth gets narrower by what the cloth loses
    across.
    """
    drawn = Region.strip(flaw.points_mm, flaw.line_width_mm) if flaw.line_width_mm > 0 else Region.of(flaw.points_mm)
    return drawn.mapped(cloth.change_after(flaw.changes_in))


@lru_cache(maxsize=_REMEMBERED)
def keep_out_regions(cloth: Cloth) -> tuple[tuple[Flaw, Region], ...]:
    """Each flaw with the ground it takes on the cloth as it now is, in the order they were marked."""
    return tuple((flaw, flaw_region(cloth, flaw)) for flaw in cloth.flaws)


@lru_cache(maxsize=_REMEMBERED)
def zone_region(cloth: Cloth, zone: Zone) -> Region:
    """The usable part of a zone on the cloth as it now is; empty when the zone lies on strips or beside the cloth."""
    return Region.of(cloth.change_after(zone.changes_in).ring(zone.outline_mm)).meet(usable(cloth))


def laid_to_cloth(cloth: Cloth, laid: LaidPrint) -> Affine:
    """Print frame to the frame of the cloth as it now is: how the print was laid, then the changes it went through.

    >>> from coverlayout.cloth.cloth import Change
    >>> cloth = Cloth("c", "swatch", 300.0, 200.0, changes=(Change("washing", -50.0, 0.0),))
    >>> laid_to_cloth(cloth, LaidPrint("p", origin_mm=(10.0, 5.0), turn_deg=90.0)).at((4.0, 0.0))
    (5.0, 9.0)
    """
    return laid.print_to_cloth().then(cloth.change_after(laid.changes_in))


def shrunk(cloth: Cloth, percent: float) -> Cloth:
    """The cloth cut smaller by `percent` both ways about its origin; what is printed or marked on it keeps its size.

    The doubt about a cloth is about where its right and lower edges fall, not about its print.

    >>> shrunk(Cloth("c", "swatch", 300.0, 200.0), 1.0).width_mm
    297.0
    """
    factor = 1 - percent / 100
    outline = None if cloth.outline_mm is None else scale(factor).ring(cloth.outline_mm)
    return replace(cloth, width_mm=cloth.width_mm * factor, length_mm=cloth.length_mm * factor, outline_mm=outline)
