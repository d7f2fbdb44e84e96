"""What the verbs that ask how much share: the limit of seconds, and how a layout found is told."""

from __future__ import annotations

import time
from collections.abc import Mapping
from dataclasses import replace

from coverlayout.app.flags import Given
from coverlayout.app.verbs.lay import seconds_of
from coverlayout.app.verbs.telling import Opened, table
from coverlayout.document.project import Project
from coverlayout.errors import Remark
from coverlayout.layout.answer import Answer
from coverlayout.layout.question import Watch, never

__all__ = ["notes_of", "piece_records", "piece_table", "renamed", "watch_of"]


def watch_of(given: Given) -> Watch:
    """The watch that ends a search after the `--seconds` given; without them it never does."""
    seconds = seconds_of(given)
    if seconds is None:
        return never
    end_s = time.monotonic() + seconds
    return lambda _share_done: time.monotonic() > end_s


def notes_of(
    job: Opened, notes: tuple[Remark, ...], answer: Answer | None, names: Mapping[str, str], *, cut_short: bool
) -> list[str]:
    """What is worth saying besides: of the answer's layout, of the question, and of the job; pieces under `names`."""
    of_answer = () if answer is None else tuple(renamed(note, names) for note in answer.notes)
    ended = (Remark.of("sizing-cut-short"),) if cut_short else ()
    return job.texts((*ended, *notes, *of_answer, *job.notes))


def renamed(remark: Remark, names: Mapping[str, str]) -> Remark:
    """The remark with the pieces it names called as they are in `names`."""

    def anew(found: str) -> str:
        return ", ".join(names.get(each, each) for each in found.split(", "))

    figures = ((key, anew(each) if isinstance(each, str) else each) for key, each in remark.figures)
    return Remark(remark.code, tuple(figures))


def piece_records(project: Project, job: Opened, answer: Answer | None, names: Mapping[str, str]) -> list[object]:
    """Where the pieces of an answer lie, as `lay` tells it, under the names given."""
    if answer is None:
        return []
    where = replace(job, project=project).where(answer.placed)
    return [replace(one, piece=names.get(one.piece, one.piece)).as_record() for one in where]


def piece_table(project: Project, job: Opened, answer: Answer | None, names: Mapping[str, str]) -> list[str]:
    """The same as a table for people."""
    if answer is None or not answer.placed:
        return []
    lying = replace(job, project=project)
    rows = [
        (
            *(names.get(w.piece, w.piece), job.show(w.x_mm), job.show(w.y_mm)),
            *(job.show(w.width_mm, "up"), job.show(w.height_mm, "up"), f"{w.turn_deg:g}°"),
        )
        for w in lying.where(answer.placed)
    ]
    return table(("piece", "from left", "from top", "width", "height", "turned"), rows)
