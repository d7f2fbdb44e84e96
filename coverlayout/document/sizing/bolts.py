"""Cloth off the bolt for a job: one bolt of a width for each print that is needed, long enough for all its pieces."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from coverlayout.book.pieces import Piece
from coverlayout.cloth.cloth import Cloth
from coverlayout.cloth.cuts import Cut
from coverlayout.document.asking.grounds import prints_lying
from coverlayout.document.asking.purchases import purchases
from coverlayout.document.project import Project
from coverlayout.units import LONGEST_MM

__all__ = ["Bolt", "bolts_for"]


@dataclass(frozen=True)
class Bolt:
    """One bolt with the job on it: the project whose only cloth it is, and the pieces that come from it.

    `bought_factor` is how much cloth has to be bought for 1 mm of it as it now is, along its length.
    """

    print_name: str
    project: Project
    pieces: tuple[str, ...]
    bought_factor: float = 1.0


def bolts_for(project: Project, planned: tuple[Piece, ...], width_mm: float | None) -> tuple[Bolt, ...]:
    """The bolts for the `planned` pieces: `width_mm` wide, or as wide as the first cloth where that is None.

    A bolt goes through what the first cloth goes through (trim, selvedges, changes in size), without its flaws and
    zones, and where the print falls on it is not known. But a project whose aim is the least length has its bolt
    already: without a width its one cloth is taken as it is, flaws, print and all.
    """
    if width_mm is None and project.rules.objective == "least length" and len(project.cloths) == 1:
        return (_as_it_is(project, planned),)
    like = project.cloths[0] if project.cloths else None
    width = width_mm or (like.width_mm if like else 0.0)
    bought = purchases(project, planned, (Cut("bolt", width, _enough_mm(project, planned, like)),))[0].project
    return tuple(_bolt(bought, cloth, planned) for cloth in bought.cloths)


def _as_it_is(project: Project, planned: tuple[Piece, ...]) -> Bolt:
    cloth = project.cloths[0]
    long = cloth
    if cloth.outline_mm is None and not cloth.zones:
        long = replace(cloth, length_mm=max(cloth.length_mm, _enough_mm(project, planned, cloth)))
    return _bolt(project.with_cloth(long), long, planned)


def _bolt(project: Project, cloth: Cloth, planned: tuple[Piece, ...]) -> Bolt:
    prints = {laid.print_id for laid in prints_lying(cloth) if laid is not None}
    only = len(project.cloths) == 1
    here = tuple(piece.id for piece in planned if only or piece.source.print_id in prints)
    names = [project.print_of(print_id).name for print_id in sorted(prints)]
    along = cloth.change_after(0).vector((0.0, 1.0))[1]
    return Bolt(", ".join(names), replace(project, cloths=(cloth,)), here, 1.0 / along)


def _enough_mm(project: Project, planned: tuple[Piece, ...], like: Cloth | None) -> float:
    """A length that holds all pieces one below the other, whatever their turns and what the cloth goes through."""
    reach = (math.hypot(piece.width_mm, piece.height_mm) + project.rules.gap_mm for piece in planned)
    strips = 0.0 if like is None else 2 * (like.trim_mm + like.web_short_mm)
    along = 1.0 if like is None else like.change_after(0).vector((0.0, 1.0))[1]
    # Whole millimetres, so that nothing of a longer cloth's last digits comes into what is left of it.
    return min(float(math.ceil((math.fsum(reach) + strips) / along)), LONGEST_MM)
