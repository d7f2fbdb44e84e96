"""`coverlayout cuts FILE`: every cut on the ladder with its verdict, least first, and the least to buy."""

from __future__ import annotations

import time

from coverlayout.app.flags import JSON, Given, Verb
from coverlayout.app.verbs.lay import SECONDS, seconds_of
from coverlayout.app.verbs.telling import NO, YES, Opened, opened, print_json, print_lines, table
from coverlayout.cloth.cuts import ladder_in_use
from coverlayout.document.questions import ladder_for
from coverlayout.errors import BadInput, Remark
from coverlayout.layout.ladder import Ladder, Rung, climb

__all__ = ["VERB"]


def _run(given: Given) -> int:
    job = opened(given.operand)
    asked = ladder_for(job.project, ladder_in_use())
    if not asked:
        raise BadInput("nothing-to-cut", file=given.operand)
    seconds = seconds_of(given)
    end_s = None if seconds is None else time.monotonic() + seconds
    ladder = climb(asked, lambda _share: end_s is not None and time.monotonic() > end_s)
    if given.has("--json"):
        print_json(_record(ladder))
    else:
        print_lines(_lines(job, ladder))
    return NO if ladder.least is None else YES


def _record(ladder: Ladder) -> dict[str, object]:
    return {
        "cuts": [
            {
                "name": rung.name,
                "width_mm": rung.width_mm,
                "length_mm": rung.length_mm,
                "verdict": rung.verdict,
                "proved": rung.proved,
                "spare_mm": rung.spare_mm,
                "price": rung.price,
            }
            for rung in ladder.rungs
        ],
        "least": ladder.least,
        "least_with_room": ladder.least_with_room,
    }


def _lines(job: Opened, ladder: Ladder) -> list[str]:
    least = (
        Remark.of("cuts-none")
        if ladder.least is None
        else Remark.of("cuts-least", name=ladder.least)
        if ladder.least_with_room in (None, ladder.least)
        else Remark.of("cuts-least-and-room", name=ladder.least, roomy=ladder.least_with_room)
    )
    head = ("cut", "width", "length", "price", "verdict", "proved", "room")
    return [*job.texts([least, *job.notes]), *table(head, [_row(job, rung) for rung in ladder.rungs])]


def _row(job: Opened, rung: Rung) -> tuple[str, ...]:
    price = "-" if rung.price is None else f"{rung.price:.2f} {job.project.preferences.currency}".strip()
    size = (job.show(rung.width_mm, "down"), job.show(rung.length_mm, "down"))
    return rung.name, *size, price, rung.verdict, "yes" if rung.proved else "no", job.room(rung.spare_mm)


VERB = Verb(
    "cuts",
    "FILE",
    "Every cut on the ladder with its verdict, least first. Exit 0: some cut is enough, 3: none is.",
    (SECONDS, JSON),
    _run,
)
