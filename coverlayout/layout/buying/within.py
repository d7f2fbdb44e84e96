"""What one cut tells about another: the same job on cloth that lies within other cloth."""

from __future__ import annotations

from collections.abc import Sequence

from coverlayout.geometry.shapes import is_rectangle
from coverlayout.geometry.tolerance import EXACT_MM, SAME_TURN_DEG
from coverlayout.layout.question import ClothAsked, Question

__all__ = ["cloth_within", "lies_within", "within_together"]


def lies_within(small: Question, large: Question) -> bool:
    """True when any layout of the small question is one of the large: the same job on cloths that lie within."""
    locked = any(lock.must for lock in large.locks) or any(link.must for link in large.links)
    if locked or small.pieces != large.pieces or small.gap_mm < large.gap_mm:
        return False
    same_many = len(small.cloths) == len(large.cloths)
    return same_many and all(map(cloth_within, small.cloths, large.cloths))


def cloth_within(small: ClothAsked, large: ClothAsked) -> bool:
    """True when whatever can be cut from the small cloth can be cut from the large one, one way up like the other."""
    if small == large:
        return True
    return small.id == large.id and same_but_smaller(small, large)


def same_but_smaller(small: ClothAsked, large: ClothAsked) -> bool:
    """True when two plain cloths of one ground differ only in that one is no larger than the other, and in their id."""
    if len(small.grounds) != 1 or len(large.grounds) != 1:
        return False
    inner, outer = small.grounds[0], large.grounds[0]
    return (
        inner.print_id == outer.print_id
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
        home = next((other for other in free if same_but_smaller(cloth, other)), None)
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
