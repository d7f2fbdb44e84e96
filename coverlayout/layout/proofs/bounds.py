"""Cheap proofs that pieces cannot all come from the cloth, cheapest first; area is worked out here.

Each holds even when every length is NO_LOOSER_MM looser.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from coverlayout.geometry.frames import Ring
from coverlayout.geometry.shapes import Region, area_mm2, bounds, is_rectangle
from coverlayout.geometry.tolerance import NO_LOOSER_MM
from coverlayout.layout.answer import Proof
from coverlayout.layout.placing import outline_on_cloth
from coverlayout.layout.proofs.agreeing import never_agree, no_room_for_linked
from coverlayout.layout.proofs.beside import no_room_together, rows_too_wide
from coverlayout.layout.proofs.nowhere import Spots, fits_nowhere, places_for
from coverlayout.layout.proofs.relaxing import relaxed
from coverlayout.layout.quarrels.rings import never_agree_around
from coverlayout.layout.question import ClothAsked, Question, unseen
from coverlayout.layout.search.sheets import RectangularJob

__all__ = ["quarrel", "refuted"]


def refuted(question: Question, job: RectangularJob | None = None, look: Callable[[], None] = unseen) -> Proof | None:
    """A proof that the question cannot be laid, wishes that must hold included; None when no cheap one holds.

    `job`: the question as a rectangular job, where the caller has it already. `look` is called now and then while there
    are many pieces, and may raise to end it.
    """
    spots = Spots(question)
    return (
        quarrel(question, look)
        or fits_nowhere(question, spots, look)
        or _area(question, look)
        or rows_too_wide(job or relaxed(question))
        or no_room_for_linked(question, spots)
        or no_room_together(question, spots, look)
    )


def quarrel(question: Question, look: Callable[[], None] = unseen) -> Proof | None:
    """The proof that wishes can never hold at once, whatever the cloth's size and wherever its print falls."""
    return never_agree(question) or never_agree_around(question, look)


def _area(question: Question, look: Callable[[], None]) -> Proof | None:
    """Pieces that may only come from some grounds and need more area than those have.

    With a gap, pieces grown by half of it all round do not overlap and stay within the ground grown by half of it:
    area + perimeter gap / 2 + pi gap^2 / 4 each (Steiner); pieces that are no rectangles count ungrown.
    """
    half_gap = max(question.gap_mm - NO_LOOSER_MM, 0.0) / 2
    allowed: dict[str, frozenset[tuple[str, str]]] = {}
    sizes: dict[Ring, tuple[float, float]] = {}
    for piece in question.pieces:
        look()
        allowed[piece.id] = frozenset((c.id, g.id) for c, g in places_for(question, piece))
        if piece.outline_mm not in sizes:
            sizes[piece.outline_mm] = _grown_mm2(piece.outline_mm, half_gap), _around_mm(piece.outline_mm)
    for grounds in sorted(set(allowed.values()), key=sorted):
        inside = [piece for piece in question.pieces if allowed[piece.id] <= grounds]
        need = math.fsum(sizes[piece.outline_mm][0] for piece in inside)
        around = math.fsum(sizes[piece.outline_mm][1] for piece in inside)
        clear = [_clear_ground(cloth, grounds) for cloth in question.cloths]
        loose = math.fsum(region.inset(-half_gap - NO_LOOSER_MM).area_mm2 for region in clear)
        if need - around * NO_LOOSER_MM > loose:
            names = ", ".join(piece.id for piece in inside)
            have = math.fsum(region.inset(-half_gap).area_mm2 for region in clear)
            return Proof("area", (("pieces", names), ("need_mm2", need), ("have_mm2", have)))
    return None


def _around_mm(outline: Ring) -> float:
    box = bounds(outline)
    return 2 * (box.width_mm + box.height_mm)


def _grown_mm2(outline: Ring, by_mm: float) -> float:
    area = area_mm2(outline)
    return area + (_around_mm(outline) * by_mm + math.pi * by_mm**2 if is_rectangle(outline) else 0.0)


def _clear_ground(cloth: ClothAsked, grounds: frozenset[tuple[str, str]]) -> Region:
    usable = [ground.usable for ground in cloth.grounds if (cloth.id, ground.id) in grounds]
    taken = [keep_out.region for keep_out in cloth.keep_outs if not keep_out.seen_only]
    taken += [Region.of(outline_on_cloth(piece, placed)) for piece, placed in cloth.fixed]
    region = usable[0] if len(usable) == 1 else Region.union(usable)
    return region.minus(Region.union(taken)) if taken and usable else region
