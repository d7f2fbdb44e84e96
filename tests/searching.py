"""Searches made ready for tests: the arrays of a question, and its nodes."""

from __future__ import annotations

from coverlayout.layout.branching.nodes import Nodes, root
from coverlayout.layout.exact.apart import Bends, Needs, apart_of
from coverlayout.layout.exact.job import exact_job
from coverlayout.layout.exact.steps import steps_of
from coverlayout.layout.exact.tables import Tables, tables_of
from coverlayout.layout.question import Question


def tables_for(question: Question, *, room_mm: float = 0.0, slack_mm: float = 0.0, bends: Bends = None) -> Tables:
    """Everything the search is given for a question, without slack unless it is asked for."""
    job = exact_job(question, 14)
    assert job is not None
    steps, _ = steps_of(job)
    needs = Needs.of(question.gap_mm, room_mm, slack_mm)
    return tables_of(job, apart_of(job, bends), steps, needs, slack_mm)


def root_of(question: Question, *, slack_mm: float = 0.0) -> Nodes:
    """The node in which nothing is chosen yet."""
    return root(tables_for(question, slack_mm=slack_mm))
