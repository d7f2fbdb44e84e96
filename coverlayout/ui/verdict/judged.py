"""The judgement of the project as it lies, shared by all that show it."""

from __future__ import annotations

from coverlayout.document.project import Project
from coverlayout.document.questions import judge_for, placed_now
from coverlayout.errors import CoverlayoutError
from coverlayout.layout.answer import Report

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

    def trouble(self, project: Project) -> str:
        """Why the job cannot be judged, empty when it can."""
        self.report(project)
        return self._trouble
