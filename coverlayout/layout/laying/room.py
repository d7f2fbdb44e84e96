"""The most room to spare that a job has: proved where all ways can be searched, else the most that is found."""

from __future__ import annotations

from coverlayout.layout.laying.deciding import FEW, filled, stripped
from coverlayout.layout.laying.desk import Desk

__all__ = ["STEP_MM", "make_room"]

# Asked beyond the best room found so far: a room is proved within this.
STEP_MM = 0.005
# Shares of the steps: for orders of filling, for all ways, and for one question to all ways where there is plenty of
# room: so many times what is wished for.
_FILL, _EXACT, _AMPLE = 0.15, 0.5, 0.1
_PLENTY = 2.0
# Room is looked for by halving until it is known this well (mm), with so many random orders each time.
_FINE_MM = 0.25
_ORDERS = 9
# The first rounds of dense rows, which are quick, with every room asked for.
_STRIP_STEPS = 2_000


def make_room(desk: Desk) -> None:
    """Look for more room than the roomiest layout has."""
    if desk.exact is None or len(desk.question.pieces) > FEW:
        with desk.part(_FILL if desk.exact is not None else _EXACT):
            _widen(desk)
    if desk.exact is not None:
        _search_all_ways(desk)


def _search_all_ways(desk: Desk) -> None:
    """Ask for ever more room until there is none; where there is plenty, with fewer steps."""
    assert desk.exact is not None, "asked only when there are few pieces"
    until = desk.effort.left - int(desk.question.steps * _EXACT)
    asks = True
    while asks:
        asks, before_mm = False, desk.room_mm()
        plenty = before_mm > _PLENTY * desk.question.spare_wish_mm
        steps = min(int(desk.question.steps * _AMPLE) if plenty else desk.effort.left, desk.effort.left - until)
        with desk.effort.part(steps):
            decided = desk.exact.decide(desk.effort, before_mm + STEP_MM)
            desk.spare_proved = decided.says == "no" and desk.all_ways
            asks = decided.says == "yes" and desk.offer(decided.placed) and desk.room_mm() > before_mm


def _widen(desk: Desk) -> None:
    """Look for more room in growing steps, then by halving; what is too much takes longest to try."""
    step, low = 4 * _FINE_MM, desk.room_mm()
    while _has(desk, low + step):
        low, step = max(low + step, desk.room_mm()), 2 * step
    high = low + step
    while high - low > _FINE_MM:
        middle = (low + high) / 2
        if _has(desk, middle):
            low = max(middle, desk.room_mm())
        else:
            high = middle


def _has(desk: Desk, room_mm: float) -> bool:
    if desk.offer(filled(desk, room_mm, orders=_ORDERS, outlines=_ORDERS)):
        return True
    dense = None
    with desk.effort.part(_STRIP_STEPS):
        dense = stripped(desk, room_mm)
    return desk.offer(dense)
