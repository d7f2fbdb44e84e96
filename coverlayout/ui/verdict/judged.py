"""The judgement of the project as it lies, shared by all that show it."""

from __future__ import annotations

from coverlayout.document.project import Project
from coverlayout.document.questions import judge_for, placed_now
from coverlayout.errors import CoverlayoutError
from coverlayout.geometry.frames import same_turn
from coverlayout.layout.answer import Report
from coverlayout.layout.placing import Laid

__all__ = ["Judged"]


class Judged:
    """The judgement of the project as it lies; worked out once for each project, however many ask."""

    def __init__(self) -> None:
        self._project: Project | None = None
        self._report: Report | None = None
        self._trouble = ""

    def report(self, project: Project) -> Report | None:
        """The report, None when the job cannot be judged (yet)."""
        if project is not self._project:
            self._project, self._report, self._trouble = project, None, ""
            try:
                self._report = judge_for(project).report(placed_now(project))
            except CoverlayoutError as fault:
                self._trouble = project.preferences.length_style.said(fault.remark)
        return self._report

    def quarters(self, project: Project) -> int:
        """How many pieces lie turned a quarter against the print's up (the lengthwise thread without a print)."""
        return sum(_is_quarter(laid.placed.turn_deg - _up_deg(laid)) for laid in _lying(project))

    def heads_down(self, project: Project) -> int:
        """How many pieces lie half turned on a one-way print, so that its motif lies head down."""
        return sum(_is_head_down(laid) for laid in _lying(project))

    def trouble(self, project: Project) -> str:
        """Why the job cannot be judged, empty when it can."""
        self.report(project)
        return self._trouble


def _lying(project: Project) -> list[Laid]:
    """The pieces that lie on a cloth; none while the job cannot be judged."""
    try:
        judge, placed = judge_for(project), placed_now(project)
    except CoverlayoutError:
        return []
    return [laid for each in placed if isinstance(laid := judge.laid(each, ()), Laid)]


def _is_head_down(laid: Laid) -> bool:
    ground = laid.nearest_ground
    if ground is None or not ground.ground.one_way:
        return False
    return same_turn(laid.placed.turn_deg, ground.ground.up_deg + 180.0, 1.0)


def _up_deg(laid: Laid) -> float:
    """The up of the ground it lies on: zones of one cloth may have their prints turned differently."""
    ground = laid.nearest_ground
    return 0.0 if ground is None else ground.ground.up_deg


def _is_quarter(turn_deg: float) -> bool:
    return same_turn(turn_deg, 90.0, 1.0) or same_turn(turn_deg, 270.0, 1.0)
