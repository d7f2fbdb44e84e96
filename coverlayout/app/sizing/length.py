"""`coverlayout length FILE`: the least length to have cut off the bolt."""

from __future__ import annotations

from coverlayout.app.flags import JSON, Flag, Given, Verb
from coverlayout.app.sizing.limits import notes_of, piece_records, piece_table, watch_of
from coverlayout.app.verbs.lay import SECONDS
from coverlayout.app.verbs.telling import NO, YES, Opened, opened, print_json, print_lines
from coverlayout.document.sizing.length import BoltLength, LeastLength, LengthAsked, least_length_off_bolt
from coverlayout.errors import Remark
from coverlayout.units import parse_length

__all__ = ["VERB"]


def _run(given: Given) -> int:
    width = given.one("--width")
    width_mm = None if width is None else parse_length(width, where="--width", like="1400mm", least="above 0")
    job = opened(given.operand)
    found = least_length_off_bolt(LengthAsked(job.project, width_mm, given.operand), watch_of(given))
    notes = [note for bolt in found.bolts for note in bolt.answer.notes if bolt.length_mm is not None]
    said = notes_of(job, (*found.notes, *notes), None, {}, cut_short=found.cut_short)
    if given.has("--json"):
        print_json(_record(job, found, said))
    else:
        print_lines([*_lines(job, found), *said, *(line for bolt in found.bolts for line in _places(job, bolt))])
    return NO if found.length_mm is None else YES


def _record(job: Opened, found: LeastLength, notes: list[str]) -> dict[str, object]:
    record: dict[str, object] = {
        "length_mm": found.length_mm,
        "proved": found.proved,
        "bound_mm": found.bound_mm,
        "notes": notes,
        "pieces": [each for bolt in found.bolts for each in piece_records(bolt.project, job, bolt.answer, {})],
    }
    if len(found.bolts) > 1:
        record["bolts"] = [
            {"print": bolt.print_name, "length_mm": bolt.length_mm, "proved": bolt.proved, "bound_mm": bolt.bound_mm}
            for bolt in found.bolts
        ]
    return record


def _lines(job: Opened, found: LeastLength) -> list[str]:
    lines = []
    for bolt in found.bolts:
        of = f" of {bolt.print_name}" if len(found.bolts) > 1 else ""
        if bolt.length_mm is None:
            lines.append(
                f"{job.said(Remark.of('length-none', of=of, width_mm=bolt.width_mm))}: {job.said(bolt.answer.reason)}"
            )
            continue
        code = "length-least" if bolt.proved else "length-least-known"
        lines.append(job.said(Remark.of(code, of=of, need_mm=bolt.length_mm, width_mm=bolt.width_mm)))
        if not bolt.proved and bolt.bound_mm is not None:
            lines.append(job.said(Remark.of("length-bound", bound_mm=bolt.bound_mm)))
    return lines


def _places(job: Opened, bolt: BoltLength) -> list[str]:
    return piece_table(bolt.project, job, bolt.answer if bolt.length_mm is not None else None, {})


VERB = Verb(
    "length",
    "FILE",
    "The least length to have cut off the bolt for the whole job, trim included. The bolt carries the job's print and "
    "goes through what the first cloth goes through. Exit 0: there is one, 3: a piece is too wide, or none was found.",
    (Flag("--width", "the width of the bolt; the first cloth's unless said", "1400mm"), SECONDS, JSON),
    _run,
)
