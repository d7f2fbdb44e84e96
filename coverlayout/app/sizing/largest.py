"""`coverlayout largest FILE`: the largest board of the book's shape that the cloth gives."""

from __future__ import annotations

from coverlayout.app.flags import JSON, Flag, Given, Verb, one_word
from coverlayout.app.sizing.limits import notes_of, piece_records, piece_table, watch_of
from coverlayout.app.verbs.lay import SECONDS
from coverlayout.app.verbs.telling import NO, YES, Opened, opened, print_json, print_lines
from coverlayout.document.sizing.boards import Keep
from coverlayout.document.sizing.copies import names_by_book
from coverlayout.document.sizing.largest import LargestAsked, LargestBoard, largest_board
from coverlayout.errors import Remark

__all__ = ["VERB"]

_KEEP: tuple[Keep, ...] = ("shape", "height", "width")


def _run(given: Given) -> int:
    keep = one_word(given, "--keep", _KEEP, "shape")
    job = opened(given.operand)
    asked = LargestAsked(job.project, keep, given.one("--book"), given.operand)
    found = largest_board(asked, watch_of(given))
    names = names_by_book(found.project) if found.board_mm else {}
    notes = notes_of(job, found.notes, found.answer, names, cut_short=found.cut_short)
    if given.has("--json"):
        width_mm, height_mm = found.board_mm or (None, None)
        print_json(
            {
                "board_width_mm": width_mm,
                "board_height_mm": height_mm,
                "proved": found.proved,
                "bound_mm": found.bound_mm,
                "notes": notes,
                "pieces": piece_records(found.project, job, found.answer, names) if found.board_mm else [],
            }
        )
    else:
        places = piece_table(found.project, job, found.answer, names) if found.board_mm else []
        print_lines([*_lines(job, found, keep), *notes, *places])
    return NO if found.board_mm is None else YES


def _lines(job: Opened, found: LargestBoard, keep: Keep) -> list[str]:
    if found.board_mm is None:
        return job.texts([Remark.of("largest-none"), found.answer.reason])
    width_mm, height_mm = found.board_mm
    board = Remark.of("largest-board", width_exact_mm=width_mm, height_exact_mm=height_mm)
    if found.proved:
        return job.texts([board, Remark.of("largest-proved")])
    if found.bound_mm is None:
        return job.texts([board, Remark.of("largest-open")])
    side = "height" if keep == "width" else "width"
    return job.texts([board, Remark.of("largest-bound", side=side, bound_mm=found.bound_mm)])


VERB = Verb(
    "largest",
    "FILE",
    "The largest board on which every piece of the job comes from the cloth; turn-ins and the like stay as they are. "
    "bound_mm is the least board width shown impossible (height with --keep width). Exit 0: there is one, 3: none.",
    (
        Flag("--keep", "what stays: the shape (width to height, unless said), the height or the width", "shape"),
        Flag("--book", "which book grows, by its name, where the project has several different ones", "Notebook"),
        SECONDS,
        JSON,
    ),
    _run,
)
