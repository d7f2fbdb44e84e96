"""`coverlayout count FILE`: how many books come from the cloth, and whether that is the most there can be."""

from __future__ import annotations

from coverlayout.app.flags import JSON, Given, Verb
from coverlayout.app.sizing.limits import notes_of, piece_records, piece_table, watch_of
from coverlayout.app.verbs.lay import SECONDS
from coverlayout.app.verbs.telling import NO, YES, opened, print_json, print_lines
from coverlayout.document.sizing.copies import names_by_book
from coverlayout.document.sizing.count import CountAsked, count_books

__all__ = ["VERB"]


def _run(given: Given) -> int:
    job = opened(given.operand)
    found = count_books(CountAsked(job.project, given.operand), watch_of(given))
    names = names_by_book(found.project)
    notes = notes_of(job, found.notes, found.answer, names, cut_short=found.cut_short)
    if given.has("--json"):
        print_json(
            {
                "books": found.books,
                "proved_most": found.proved_most,
                "counted": found.counted,
                "notes": notes,
                "pieces": piece_records(found.project, job, found.answer, names),
            }
        )
    else:
        print_lines([*job.texts(found.said), *notes, *piece_table(found.project, job, found.answer, names)])
    return YES if found.books else NO


VERB = Verb(
    "count",
    "FILE",
    "How many books come from the cloth, whatever number the project has: where it has several different books, sets "
    "with one of each; without a book, sets of your own pieces. Exit 0: at least one, 3: none was found.",
    (SECONDS, JSON),
    _run,
)
