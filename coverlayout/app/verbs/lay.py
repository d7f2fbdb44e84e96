"""`coverlayout lay FILE`: place everything and say whether the cloth is enough, by how much, and how that is known."""

from __future__ import annotations

import time
from dataclasses import replace
from pathlib import Path

from coverlayout.app.flags import JSON, Flag, Given, Verb, as_number
from coverlayout.app.verbs.telling import NO, YES, Opened, opened, print_json, print_lines
from coverlayout.document.changing.change import FittingChange
from coverlayout.document.changing.changing import what_would_fit
from coverlayout.document.changing.trying import answer_around_pins
from coverlayout.document.edits.placements import accept
from coverlayout.document.file import is_good, save
from coverlayout.document.project import Project
from coverlayout.document.questions import planned_pieces
from coverlayout.document.storage.writing import disk_trouble
from coverlayout.errors import BadInput, FileTrouble, Remark
from coverlayout.layout.answer import Answer
from coverlayout.layout.lay import lay

__all__ = ["SECONDS", "VERB", "laid_around_pins", "seconds_of"]

SECONDS = Flag("--seconds", "stop searching after this long, proved or not", "10")
# A day: whoever waits longer has typed one digit too many.
_MOST_SECONDS = 86_400.0
# What the search for a layout may take of the time; the rest is for what would make it fit.
_LAYING = 0.8


def seconds_of(given: Given) -> float | None:
    """The limit asked for, None for none; BadInput for what is no number of seconds."""
    text = given.one("--seconds")
    return None if text is None else as_number(text, flag="--seconds", like="10", most=_MOST_SECONDS)


def _run(given: Given) -> int:
    job = opened(given.operand)
    if not job.project.cloths:
        raise BadInput("cloth-needed", file=given.operand)
    if not planned_pieces(job.project):
        raise BadInput("nothing-to-lay", file=given.operand)
    _check_save(given.one("--save"))
    answer, changes = _answered(job.project, seconds_of(given))
    ended = (Remark.of("sizing-cut-short"),) if answer.cut_short else ()
    answer = replace(answer, notes=(*answer.notes, *ended, *job.notes, *_saved(job, answer, given.one("--save"))))
    if given.has("--json"):
        print_json(_record(job, answer, changes))
    else:
        print_lines([*_lines(job, answer), *([] if _is_yes(answer) else _change_lines(job, changes))])
    return YES if _is_yes(answer) else NO


def _answered(project: Project, seconds: float | None) -> tuple[Answer, tuple[FittingChange, ...]]:
    """The answer and, when it is no yes, what would make it fit; both within the seconds."""
    if seconds is None:
        answer, left = laid_around_pins(project, None), None
    else:
        ends = time.monotonic() + seconds
        answer = laid_around_pins(project, seconds * _LAYING)
        left = ends - time.monotonic()
    return answer, () if _is_yes(answer) else what_would_fit(project, seconds=left)


def _is_yes(answer: Answer) -> bool:
    return answer.verdict in ("fits", "fits, tight")


def laid_around_pins(project: Project, seconds: float | None) -> Answer:
    """The answer with every pinned piece staying where it lies; `seconds` None: no limit. BadInput as a question."""
    return answer_around_pins(project, lay, seconds=seconds)


def _check_save(path: str | None) -> None:
    """Refuse, before the search, to write over anything but a project: a project keeps its last good copy, no other."""
    if path is None:
        return
    with disk_trouble(Path(path)):
        if Path(path).is_dir():
            raise FileTrouble("is-a-folder", file=path[:200])
        if Path(path).exists() and not is_good(Path(path)):
            raise BadInput("save-over-other", file=path[:200])


def _saved(job: Opened, answer: Answer, path: str | None) -> tuple[Remark, ...]:
    """Save the project with the pieces where the answer lays them; a note when there was nothing to save."""
    if path is None:
        return ()
    if not answer.placed:
        return (Remark.of("nothing-saved", file=path),)
    save(Path(path), accept(answer.placed).change(job.project), job.pictures)
    return ()


def _record(job: Opened, answer: Answer, changes: tuple[FittingChange, ...]) -> dict[str, object]:
    proof = None if answer.proof is None else {"name": answer.proof.name, **dict(answer.proof.figures)}
    return {
        "verdict": answer.verdict,
        "proved": answer.proved,
        "reason": job.said(answer.reason),
        "proof": proof,
        "notes": job.texts(answer.notes),
        "used_percent": answer.used_percent,
        "clearance_mm": answer.clearance_mm,
        "spare_mm": answer.spare_mm,
        "spare_proved": answer.spare_proved,
        "pieces": [where.as_record() for where in job.where(answer.placed)],
        "changes_that_fit": [
            {
                "kind": change.kind,
                "said": job.said(change.said),
                "amount_mm": change.amount_mm,
                "spare_mm": change.answer.spare_mm,
            }
            for change in changes
        ],
    }


def _lines(job: Opened, answer: Answer) -> list[str]:
    lines = [f"{answer.verdict}: {job.said(answer.reason)}"]
    if answer.placed:
        known = "the most room there is" if answer.spare_proved else "the most room we know"
        lines.append(f"used {answer.used_percent:.1f} %; {known}: {job.room(answer.spare_mm)}")
    return [*lines, *job.texts(answer.notes), *job.where_lines(answer.placed)]


def _change_lines(job: Opened, changes: tuple[FittingChange, ...]) -> list[str]:
    if not changes:
        return job.texts([Remark("changes-none")])
    return [*job.texts([Remark("changes-head")]), *(f"- {job.said(change.said)}" for change in changes)]


VERB = Verb(
    "lay",
    "FILE",
    "Place everything and say whether the cloth is enough. Exit 0: it fits, 3: it does not, or nothing was found.",
    (SECONDS, Flag("--save", "save the project with the pieces as laid", "OUT"), JSON),
    _run,
)
