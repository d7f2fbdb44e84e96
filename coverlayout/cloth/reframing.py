"""The same cloth counted from another corner: everything on it keeps its place on the stuff."""

from __future__ import annotations

from dataclasses import replace

from coverlayout.cloth.cloth import BaseLine, Cloth, Flaw, Zone
from coverlayout.geometry.frames import Affine, Point, shift
from coverlayout.motif.prints import LaidPrint

__all__ = ["reframed"]


def reframed(cloth: Cloth, by_mm: Point) -> Cloth:
    """The cloth with its outline, flaws, zones, prints and base line moved by `by_mm` in the cloth as it now is.

    A full rectangle stays one: it has no outline to move. What was measured before a change in size is moved by what
    the way was before it. Nothing of the size changes.

    >>> from coverlayout.cloth.cloth import Change
    >>> stain = Flaw("f", "stain", ((20.0, 8.0), (30.0, 8.0), (20.0, 18.0)))
    >>> cloth = Cloth("c", "left", 300.0, 200.0, changes=(Change("washing", -50.0, 0.0),), flaws=(stain,))
    >>> reframed(cloth, (-5.0, -3.0)).flaws[0].points_mm
    ((10.0, 5.0), (20.0, 5.0), (10.0, 15.0))
    """

    def then(changes_in: int) -> Affine:
        return shift(*cloth.change_after(changes_in).inverse().vector(by_mm))

    return replace(
        cloth,
        outline_mm=None if cloth.outline_mm is None else then(cloth.outline_changes_in).ring(cloth.outline_mm),
        flaws=tuple(_flaw(flaw, then(flaw.changes_in)) for flaw in cloth.flaws),
        zones=tuple(_zone(zone, then(zone.changes_in), cloth, by_mm) for zone in cloth.zones),
        laid=_laid(cloth.laid, cloth, by_mm),
        base_line=None if cloth.base_line is None else _line(cloth.base_line, then(cloth.base_line.changes_in)),
    )


def _flaw(flaw: Flaw, by: Affine) -> Flaw:
    return replace(flaw, points_mm=by.ring(flaw.points_mm))


def _zone(zone: Zone, by: Affine, cloth: Cloth, by_mm: Point) -> Zone:
    return replace(zone, outline_mm=by.ring(zone.outline_mm), laid=_laid(zone.laid, cloth, by_mm))


def _line(line: BaseLine, by: Affine) -> BaseLine:
    return replace(line, start_mm=by.at(line.start_mm), end_mm=by.at(line.end_mm))


def _laid(laid: LaidPrint | None, cloth: Cloth, by_mm: Point) -> LaidPrint | None:
    """The print with its origin moved; where it lies not known, it stays so."""
    if laid is None:
        return None
    dx, dy = cloth.change_after(laid.changes_in).inverse().vector(by_mm)
    return replace(laid, origin_mm=(laid.origin_mm[0] + dx, laid.origin_mm[1] + dy))
