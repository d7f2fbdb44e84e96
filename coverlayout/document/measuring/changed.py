"""What a change in the cloth's size did to what lies on it: the judgement before and after, in one sentence."""

from __future__ import annotations

from coverlayout.cloth.cloth import Cloth
from coverlayout.cloth.remeasuring import MEASURED_AGAIN
from coverlayout.document.project import Project
from coverlayout.document.questions import judge_for, placed_now
from coverlayout.errors import CoverlayoutError, Remark
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.layout.answer import Breach, Report
from coverlayout.layout.placing import Laid
from coverlayout.layout.rules import Judge

__all__ = ["what_changed"]


def what_changed(old: Project, new: Project) -> tuple[Remark, ...]:
    """What the verdict on the layout worked on became when a cloth changed its size; pieces are named by their ids.

    Empty when no cloth changed its size, nothing lies on one that did, or one of the two cannot be judged.
    """
    cause = _cause(old, new)
    if cause is None or old.layout_id != new.layout_id:
        return ()
    try:
        before, now = _judged(old), _judged(new)
    except CoverlayoutError:
        return ()
    if before is None or now is None:
        return ()
    return _said(cause, before, now)


_Judged = tuple[Project, Judge, Report]


def _judged(project: Project) -> _Judged | None:
    placed = placed_now(project)
    if not placed:
        return None
    judge = judge_for(project)
    return project, judge, judge.report(placed)


def _cause(old: Project, new: Project) -> str | None:
    """What to call the change in size of the first cloth that has one: the name of the change added, else plain words.

    None when every cloth that was there before still has its size.
    """
    if old.cloths is new.cloths:
        return None
    before = {cloth.id: cloth for cloth in old.cloths}
    pairs = [(before[cloth.id], cloth) for cloth in new.cloths if cloth.id in before]
    grown = [(was, now) for was, now in pairs if was is not now and was.outline_now_mm() != now.outline_now_mm()]
    return _named(*grown[0]) if grown else None


def _named(was: Cloth, now: Cloth) -> str:
    if now.changes[: len(was.changes)] == was.changes and len(now.changes) > len(was.changes):
        name = now.changes[-1].name
        return name if name not in ("", MEASURED_AGAIN) else Remark.of("changed-measured").text()
    return Remark.of("changed-size").text()


def _said(cause: str, before: _Judged, now: _Judged) -> tuple[Remark, ...]:
    was, report = before[2], now[2]
    known = {(breach.rule, breach.pieces, breach.against) for breach in was.breaches}
    fresh = [breach for breach in report.breaches if (breach.rule, breach.pieces, breach.against) not in known]
    if fresh:
        worst = max(fresh, key=lambda breach: breach.amount_mm)
        first = _broken(cause, worst, before)
        others = {piece for breach in fresh for piece in breach.pieces} - set(worst.pieces)
        return (first, Remark.of("changed-more-wrong", more=len(others))) if others else (first,)
    if report.breaches:
        return (Remark.of("changed-still-wrong", cause=cause),)
    now_mm = report.clearance_mm or 0.0
    if was.breaches:
        return (Remark.of("changed-right-now", cause=cause, room_mm=now_mm),)
    return (_room(cause, was.clearance_mm or 0.0, now_mm, now[1].question.spare_wish_mm),)


def _room(cause: str, was_mm: float, now_mm: float, wish_mm: float) -> Remark:
    if abs(was_mm - now_mm) <= SAME_LENGTH_MM:
        return Remark.of("changed-room-same", cause=cause, room_mm=now_mm)
    tight = now_mm < wish_mm - SAME_LENGTH_MM <= was_mm
    return Remark.of("changed-room-tight" if tight else "changed-room", cause=cause, room_mm=now_mm, spare_mm=was_mm)


def _broken(cause: str, breach: Breach, before: _Judged) -> Remark:
    """The rule that was not broken before, with what the same place had to spare."""
    laid = [_laid(piece, before) for piece in breach.pieces]
    figures: dict[str, str | float] = {"cause": cause, "piece": breach.pieces[0], "amount_mm": breach.amount_mm}
    if breach.rule == "outside" and laid[0] is not None:
        return Remark.of("changed-outside", **figures, spare_mm=laid[0].edge_mm)
    if breach.rule in ("overlap", "gap") and len(laid) == 2 and laid[0] is not None and laid[1] is not None:
        apart_mm = laid[0].shape.apart_mm(laid[1].shape)
        return Remark.of(f"changed-{breach.rule}", **figures, other=breach.pieces[1], spare_mm=apart_mm)
    if breach.rule == "flaw":
        return Remark.of("changed-flaw", cause=cause, piece=breach.pieces[0], other=breach.against)
    return Remark.of("changed-wrong", cause=cause, pieces=", ".join(breach.pieces))


def _laid(piece: str, judged: _Judged) -> Laid | None:
    project, judge, _ = judged
    placed = next((each for each in placed_now(project) if each.piece == piece), None)
    found = None if placed is None else judge.laid(placed, ())
    return found if isinstance(found, Laid) else None
