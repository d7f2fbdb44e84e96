"""`coverlayout sheet FILE --out FOLDER`: the measurements of what is placed, for the side that will be marked."""

from __future__ import annotations

from pathlib import Path
from typing import get_args

from coverlayout.app.flags import JSON, Flag, Given, Verb, one_word
from coverlayout.app.verbs.telling import YES, opened, print_json, print_lines
from coverlayout.errors import BadInput
from coverlayout.exporting.measuring.by_line import Side
from coverlayout.exporting.sheet import write_papers

__all__ = ["VERB"]

_SIDES: tuple[Side, ...] = get_args(Side)


def _run(given: Given) -> int:
    job = opened(given.operand)
    folder = given.one("--out")
    if folder is None:
        raise BadInput("flag-missing", verb="sheet", flag="--out", like="--out papers")
    side = one_word(given, "--side", _SIDES, job.project.preferences.side)
    papers = [str(path) for path in write_papers(job.project, job.pictures, Path(folder), side)]
    if given.has("--json"):
        print_json({"side": side, "papers": papers, "notes": job.texts(job.notes)})
    else:
        print_lines([*papers, *job.texts(job.notes)])
    return YES


VERB = Verb(
    "sheet",
    "FILE",
    "Write the measurements of what is placed: placement.csv and placement.pdf.",
    (
        Flag("--out", "the folder to write to; made when it is not there", "FOLDER"),
        Flag("--side", "the side of the cloth that will be marked: print or back", "back"),
        JSON,
    ),
    _run,
)
