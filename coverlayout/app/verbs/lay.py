"""`coverlayout lay FILE`: place everything and say whether the cloth is enough, by how much, and how that is known."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from coverlayout.app.flags import JSON, Flag, Given, Verb, as_number
from coverlayout.app.verbs.telling import NO, YES, Opened, opened, print_json, print_lines
from coverlayout.document.cutting.rest import staying_in, with_staying
from coverlayout.document.edits.placements import accept
from coverlayout.document.file import is_good, save
from coverlayout.document.project import Project
from coverlayout.document.questions import placed_now, planned_pieces, question_for
from coverlayout.document.storage.writing import disk_trouble
from coverlayout.errors import BadInput, FileTrouble, Remark
from coverlayout.layout.answer import Answer
from coverlayout.layout.lay import lay

__all__ = ["SECONDS", "VERB", "laid_around_pins", "seconds_of"]

SECONDS = Flag("--seconds", "stop searching after this long, proved or not", "10")
# A day: whoever waits longer has typed one digit too many.
_MOST_SECONDS = 86_400.0


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
    answer = laid_around_pins(job.project, seconds_of(given))
    answer = replace(answer, notes=(*answer.notes, *job.notes, *_saved(job, answer, given.one("--save"))))
    if given.has("--json"):
        print_json(_record(job, answer))
    else:
        print_lines(_lines(job, answer))
    return YES if answer.verdict in ("fits", "fits, tight") else NO


def laid_around_pins(project: Project, seconds: float | None) -> Answer:
    """The answer with every pinned piece staying where it lies; they stand among its places and count for its room.

    `seconds` None: no limit. Without pinned pieces it is the engine's answer as it is. BadInput as `question_for` says.
    """
    pinned = frozenset(project.layout.pinned)
    question = question_for(project, staying=pinned, seconds=seconds)
    answer = lay(question)
    stay = tuple(placed for placed in placed_now(project) if placed.piece in pinned)
    answer = with_staying(answer, staying_in(project, pinned), project.rules.spare_wish_mm)
    return replace(answer, placed=(*answer.placed, *stay)) if answer.placed or not question.pieces else answer


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


def _record(job: Opened, answer: Answer) -> dict[str, object]:
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
        "changes_that_fit": [],
    }


def _lines(job: Opened, answer: Answer) -> list[str]:
    lines = [f"{answer.verdict}: {job.said(answer.reason)}"]
    if answer.placed:
        known = "the most room there is" if answer.spare_proved else "the most room we know"
        lines.append(f"used {answer.used_percent:.1f} %; {known}: {job.room(answer.spare_mm)}")
    return [*lines, *job.texts(answer.notes), *job.where_lines(answer.placed)]


VERB = Verb(
    "lay",
    "FILE",
    "Place everything and say whether the cloth is enough. Exit 0: it fits, 3: it does not, or nothing was found.",
    (SECONDS, Flag("--save", "save the project with the pieces as laid", "OUT"), JSON),
    _run,
)
