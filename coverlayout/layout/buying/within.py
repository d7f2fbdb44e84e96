"""What one cut tells about another: the same job on cloth that lies within other cloth."""

from __future__ import annotations

from collections.abc import Sequence

from coverlayout.geometry.shapes import is_rectangle
from coverlayout.geometry.tolerance import EXACT_MM, SAME_TURN_DEG
from coverlayout.layout.question import ClothAsked, Question

__all__ = ["lies_within", "within_together"]


def lies_within(small: Question, large: Question) -> bool:
    """True when what the small question allows the large one does: the same job on cloths that lie within.

    With links the same lattice must lie on both; with locks besides, where it begins must be unknown on both, so that
    what holds wherever the print falls is asked of the one as of the other.
    """
    if small.gap_mm < large.gap_mm or len(small.cloths) != len(large.cloths):
        return False
    if small.pieces is not large.pieces and small.pieces != large.pieces:
        return False
    if (small.locks, small.links) != (large.locks, large.links):
        return False
    pairs = list(zip(small.cloths, large.cloths, strict=True))
    within = all(one == other or (one.id == other.id and _is_smaller(one, other)) for one, other in pairs)
    return within and all(one == other or _prints_alike(large, one, other) for one, other in pairs)


def _prints_alike(question: Question, small: ClothAsked, large: ClothAsked) -> bool:
    """True when the wishes ask the same of both cloths, each of one ground."""
    if not question.locks and not question.links:
        return True
    inner, outer = small.grounds[0], large.grounds[0]
    if len(question.cloths) > 1 or (inner.lattice_mm, inner.alike_deg) != (outer.lattice_mm, outer.alike_deg):
        return False
    return not question.locks or not (inner.origin_known or outer.origin_known)


def _is_smaller(small: ClothAsked, large: ClothAsked) -> bool:
    """True when two plain cloths of one ground differ only in that one is no larger than the other, and in their id."""
    if len(small.grounds) != 1 or len(large.grounds) != 1:
        return False
    inner, outer = small.grounds[0], large.grounds[0]
    return (
        (inner.print_id, inner.one_way) == (outer.print_id, outer.one_way)
        and abs(inner.up_deg - outer.up_deg) <= SAME_TURN_DEG
        and not (large.keep_outs or large.fixed)
        and _is_plain(large)
        and inner.usable.bounds.width_mm <= outer.usable.bounds.width_mm + EXACT_MM
        and inner.usable.bounds.height_mm <= outer.usable.bounds.height_mm + EXACT_MM
    )


def within_together(small: Sequence[ClothAsked], large: Sequence[ClothAsked]) -> bool:
    """True when each of some cloths lies within one of others of its own, so that the others hold what they hold.

    Only looked for largest first, which may miss a way; then it is False.
    """
    free = sorted(large, key=_area_mm2)
    for cloth in sorted(small, key=_area_mm2, reverse=True):
        home = next((other for other in free if _is_smaller(cloth, other)), None)
        if home is None:
            return False
        free.remove(home)
    return True


def _area_mm2(cloth: ClothAsked) -> float:
    return cloth.grounds[0].usable.area_mm2


def _is_plain(cloth: ClothAsked) -> bool:
    """True when the cloth's one ground is an upright rectangle."""
    parts = cloth.grounds[0].usable.parts()
    return len(parts) == 1 and not parts[0][1] and is_rectangle(parts[0][0])
