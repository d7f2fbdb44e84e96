"""A project with its prints made at another scale, as a maker who owns them can have them printed."""

from __future__ import annotations

from dataclasses import replace

from coverlayout.cloth.cloth import Cloth
from coverlayout.document.project import LockWish, Project, TileMark
from coverlayout.geometry.frames import Point, scale
from coverlayout.motif.prints import LaidPrint, Print

__all__ = ["SCALES_PERCENT", "at_scale"]

# What is worth ordering: steps of 2 % downward, of 4 % upward; 94 and 100 are among them.
SCALES_PERCENT = (*range(50, 101, 2), *range(104, 201, 4))


def at_scale(project: Project, percent: float) -> Project:
    """The project with every print at `percent` of its size: repeats, pictures, marks, and places that locks speak of.

    Where a print begins on its cloth stays; one printed anew to order begins where it is told to, so that is known.

    >>> from coverlayout.motif.lattice import Lattice
    >>> small = at_scale(Project(prints=(Print("p", "Birds", Lattice((60.0, 0.0), (0.0, 80.0))),)), 50.0)
    >>> small.prints[0].lattice
    Lattice(a_mm=(30.0, 0.0), b_mm=(0.0, 40.0))
    """
    factor = percent / 100.0
    return replace(
        project,
        prints=tuple(_scaled(a_print, factor) for a_print in project.prints),
        marks=tuple(_mark(mark, factor) for mark in project.marks),
        locks=tuple(_lock(lock, factor) for lock in project.locks),
        cloths=tuple(_printed_anew(cloth) for cloth in project.cloths),
    )


def _point(point_mm: Point, factor: float) -> Point:
    return point_mm[0] * factor, point_mm[1] * factor


def _scaled(a_print: Print, factor: float) -> Print:
    tile_mm = None if a_print.tile_mm is None else _point(a_print.tile_mm, factor)
    return replace(a_print, lattice=a_print.lattice.mapped(scale(factor)), tile_mm=tile_mm)


def _mark(mark: TileMark, factor: float) -> TileMark:
    return replace(mark, at_mm=_point(mark.at_mm, factor))


def _lock(lock: LockWish, factor: float) -> LockWish:
    return replace(lock, place_mm=_point(lock.place_mm, factor))


def _printed_anew(cloth: Cloth) -> Cloth:
    zones = tuple(replace(zone, laid=_known(zone.laid)) for zone in cloth.zones)
    return replace(cloth, laid=_known(cloth.laid), zones=zones)


def _known(laid: LaidPrint | None) -> LaidPrint | None:
    return None if laid is None else replace(laid, origin_known=True)
