"""The judgement of the project as it lies, shared by all that show it."""

from __future__ import annotations

from coverlayout.document.project import Project
from coverlayout.document.questions import judge_for, placed_now
from coverlayout.errors import CoverlayoutError
from coverlayout.geometry.frames import same_turn
from coverlayout.layout.answer import Report
from coverlayout.layout.question import Ground

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
                self._trouble = str(fault)
        return self._report

    def quarters(self, project: Project) -> int:
        """How many pieces lie turned a quarter against the print's up (the lengthwise thread without a print)."""
        try:
            grounds = {cloth.id: cloth.grounds for cloth in judge_for(project).question.cloths}
            placed = placed_now(project)
        except CoverlayoutError:
            return 0
        return sum(_is_quarter(each.turn_deg - _up_deg(grounds[each.cloth])) for each in placed)

    def trouble(self, project: Project) -> str:
        """Why the job cannot be judged, empty when it can."""
        self.report(project)
        return self._trouble


def _up_deg(grounds: tuple[Ground, ...]) -> float:
    return grounds[0].up_deg if grounds else 0.0


def _is_quarter(turn_deg: float) -> bool:
    return same_turn(turn_deg, 90.0, 1.0) or same_turn(turn_deg, 270.0, 1.0)
