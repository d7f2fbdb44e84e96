"""The named layouts of a project beside each other: the figures of each, and in words what sets two apart."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from coverlayout.document.cutting.left_over import LeftOver, left_over
from coverlayout.document.project import Project
from coverlayout.document.questions import judge_for, placed_now
from coverlayout.errors import Remark
from coverlayout.geometry.frames import same_turn
from coverlayout.geometry.tolerance import SAME_LENGTH_MM, SAME_TURN_DEG
from coverlayout.layout.answer import Breach, CheckVerdict

__all__ = ["LayoutFigures", "differences", "figures_of", "lying_elsewhere"]

# Shares of the cloth that differ by less than this look alike when they are shown.
_SAME_PERCENT = 0.5


@dataclass(frozen=True)
class LayoutFigures:
    """What the check says of one layout; `largest` None when nothing worth keeping is left, or nobody asked.

    `clearance_mm` None: nothing is placed. Pieces already cut count neither as placed nor as waiting.
    """

    layout_id: str
    name: str
    verdict: CheckVerdict
    placed: int
    waiting: tuple[str, ...]
    breaches: tuple[Breach, ...]
    used_percent: float
    clearance_mm: float | None
    largest: LeftOver | None = None


def figures_of(project: Project, layout_id: str, *, with_left_over: bool = True) -> LayoutFigures:
    """The figures of a layout, whether it is the one being worked on or not.

    What is left over takes some milliseconds a cloth. Raises KeyError for a layout that is not there, BadInput as
    `planned_pieces` does.
    """
    chosen = replace(project, layout_id=layout_id)
    placed = placed_now(chosen)
    report = judge_for(chosen).report(placed)
    return LayoutFigures(
        layout_id=layout_id,
        name=chosen.layout.name,
        verdict=report.verdict,
        placed=len(placed),
        waiting=report.waiting,
        breaches=report.breaches,
        used_percent=report.used_percent,
        clearance_mm=report.clearance_mm,
        largest=next(iter(left_over(chosen, most=1)), None) if with_left_over else None,
    )


def lying_elsewhere(project: Project, first_id: str, second_id: str) -> tuple[str, ...]:
    """The pieces that lie in both layouts, but not at the same place; in the order of the first."""
    first, second = (placed_now(replace(project, layout_id=layout_id)) for layout_id in (first_id, second_id))
    there = {placed.piece: placed for placed in second}
    return tuple(
        one.piece
        for one in first
        if (other := there.get(one.piece)) is not None
        and (
            one.cloth != other.cloth
            or abs(one.x_mm - other.x_mm) > SAME_LENGTH_MM
            or abs(one.y_mm - other.y_mm) > SAME_LENGTH_MM
            or not same_turn(one.turn_deg, other.turn_deg, SAME_TURN_DEG)
        )
    )


def differences(project: Project, first: LayoutFigures, second: LayoutFigures) -> tuple[Remark, ...]:
    """What sets two layouts apart, the weightiest first: the check, the room, what is left, what lies elsewhere.

    One remark that says so when nothing does.
    """
    found = [
        *_by_check(first, second),
        *_by_breaches(first, second),
        *_by_waiting(first, second),
        *_by_room(first, second),
        *_by_left_over(first, second),
    ]
    if abs(first.used_percent - second.used_percent) >= _SAME_PERCENT:
        more, less = (first, second) if first.used_percent > second.used_percent else (second, first)
        by = round(more.used_percent) - round(less.used_percent) or 1
        found.append(Remark.of("layouts-used", more=more.name, less=less.name, by=by))
    moved = len(lying_elsewhere(project, first.layout_id, second.layout_id))
    if moved:
        found.append(Remark.of("layouts-moved-one" if moved == 1 else "layouts-moved", count=moved))
    return tuple(found) or (Remark.of("layouts-alike", first=first.name, second=second.name),)


def _by_check(first: LayoutFigures, second: LayoutFigures) -> Iterator[Remark]:
    if first.verdict != second.verdict:
        words = {"first_check": _said(first.verdict), "second_check": _said(second.verdict)}
        yield Remark.of("layouts-check", first=first.name, second=second.name, **words)


def _said(verdict: CheckVerdict) -> str:
    return Remark(f"layout-is-{verdict.replace(', ', '-').replace(' ', '-')}").text()


def _by_breaches(first: LayoutFigures, second: LayoutFigures) -> Iterator[Remark]:
    one, other = len(first.breaches), len(second.breaches)
    if one and other and one != other:
        more, less = (first, second) if one > other else (second, first)
        yield Remark.of("layouts-breaches", more=more.name, less=less.name, by=abs(one - other))


def _by_waiting(first: LayoutFigures, second: LayoutFigures) -> Iterator[Remark]:
    if len(first.waiting) != len(second.waiting):
        more, less = (first, second) if len(first.waiting) > len(second.waiting) else (second, first)
        by = len(more.waiting) - len(less.waiting)
        code = "layouts-waiting-one" if by == 1 else "layouts-waiting"
        yield Remark.of(code, more=more.name, less=less.name, by=by)


def _by_room(first: LayoutFigures, second: LayoutFigures) -> Iterator[Remark]:
    if first.clearance_mm is None or second.clearance_mm is None:
        return
    by_mm = abs(first.clearance_mm - second.clearance_mm)
    if by_mm > SAME_LENGTH_MM:
        more, less = (first, second) if first.clearance_mm > second.clearance_mm else (second, first)
        yield Remark.of("layouts-room", more=more.name, less=less.name, by_mm=by_mm)


def _by_left_over(first: LayoutFigures, second: LayoutFigures) -> Iterator[Remark]:
    ours, theirs = (0.0 if one.largest is None else one.largest.rectangle.area_mm2 for one in (first, second))
    if abs(ours - theirs) <= SAME_LENGTH_MM * (ours + theirs) ** 0.5:
        return
    more, less = (first, second) if ours > theirs else (second, first)
    assert more.largest is not None, "the larger of two left-overs is there"
    size = {"ground_width_mm": more.largest.rectangle.width_mm, "ground_height_mm": more.largest.rectangle.height_mm}
    code = "layouts-left-only" if less.largest is None else "layouts-left"
    yield Remark.of(code, more=more.name, less=less.name, **size)
