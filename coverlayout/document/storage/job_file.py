"""The job file: a plain JSON list of cloth, pieces, prints, locks, flaws and zones, read into records and no further.

All lengths are mm in the cloth frame; pieces have a frame of their own. What becomes of the records: see document.job.
"""

from __future__ import annotations

import re
from typing import Any, Literal

import msgspec

from coverlayout.errors import BadInput, Remark

__all__ = ["JobBook", "JobFile", "JobPart", "JobPiece", "JobPrint", "ignored_fields", "read_job_file"]

_LARGEST_BYTES = 4_000_000
_XY = tuple[float, float]
_Outline = list[_XY]
Whole = dict[str, Any]


class JobCloth(msgspec.Struct, frozen=True):
    """The cloth; without a length the length is what is asked for."""

    width_mm: float
    length_mm: float | None = None
    outline_mm: _Outline | None = None


class JobLock(msgspec.Struct, frozen=True):
    """The piece's reference point lies this far from a lattice point of its print."""

    offset_mm: _XY


class JobPiece(msgspec.Struct, frozen=True):
    """One piece: a size or an outline in its own frame, and its turns in degrees."""

    id: str
    turns: list[float] = msgspec.field(default_factory=lambda: [0.0])
    width_mm: float | None = None
    height_mm: float | None = None
    outline_mm: _Outline | None = None
    print: str | None = None
    reference_mm: _XY | None = None
    lock: JobLock | None = None
    board_mm: tuple[float, float, float, float] | None = None


class JobPrint(msgspec.Struct, frozen=True):
    """Two repeat vectors in the cloth frame (one for plain stripes) and where the lattice starts."""

    a_mm: _XY
    b_mm: _XY | None = None
    origin_mm: _XY = (0.0, 0.0)


class JobLink(msgspec.Struct, frozen=True):
    """Pieces that share a phase, or run on by differences."""

    pieces: list[str]
    differences_mm: list[_XY] | None = None


class JobKeepOut(msgspec.Struct, frozen=True):
    """Ground to keep clear of; `fine_in_turn_in`: only by a piece's board."""

    outline_mm: _Outline
    name: str = "flaw"
    fine_in_turn_in: bool = False


class JobZone(msgspec.Struct, frozen=True):
    """Ground that carries one print."""

    print: str
    outline_mm: _Outline


class JobPart(msgspec.Struct, frozen=True):
    """A part of a book: the board and `grow_mm` a side."""

    name: str
    count: int
    grow_mm: float
    turns: list[float] = msgspec.field(default_factory=lambda: [0.0])
    width_mm: float | None = None


class JobBook(msgspec.Struct, frozen=True):
    """A book as a list of parts on a board of known size or known proportion."""

    pieces: list[JobPart]
    board_mm: _XY | None = None
    board_ratio: _XY | None = None


class JobFile(msgspec.Struct, frozen=True):
    """A whole job file."""

    format: Literal["packing-instance-1"]
    cloth: JobCloth
    id: str = "job"
    question: Literal["lay", "least_length", "largest", "count", "room"] = "lay"
    gap_mm: float = 0.0
    edge_mm: float = 0.0
    pieces: list[JobPiece] = []
    prints: dict[str, JobPrint] = {}
    phase_links: list[JobLink] = []
    keep_outs: list[JobKeepOut] = []
    zones: list[JobZone] = []
    book: JobBook | None = None


# Fields that say where a job comes from; nothing is lost when they are left behind.
_ABOUT = {"family", "source", "note", "notes"}
# What answers a file's question; `lay` tells the room as well.
_VERBS = {"least_length": "length", "largest": "largest", "count": "count"}
_WORDS = {
    "float": "a number",
    "int": "a whole number",
    "str": "text in quotes",
    "bool": "true or false",
    "null": "nothing",
    "object": "a group of fields",
    "array": "a list",
}


def read_job_file(data: bytes, name: str) -> JobFile:
    """The records of a job file; BadInput naming the file and the place for anything that is not as it should be.

    Refused besides wrong fields: files too large to be a list of pieces, JSON nested out of reach, numbers that are not
    finite.
    """
    if len(data) > _LARGEST_BYTES:
        raise BadInput("job-too-large", file=name)
    try:
        return msgspec.json.decode(data, type=JobFile)
    except msgspec.ValidationError as fault:
        what, _, path = str(fault).partition(" - at `$")
        raise BadInput("job-field", file=name, path=path.strip("`.") or "the file", what=_reworded(what)) from fault
    except (msgspec.DecodeError, UnicodeDecodeError) as fault:
        raise BadInput("job-no-json", file=name) from fault
    except RecursionError as fault:
        raise BadInput("job-too-deep", file=name) from fault


def _reworded(what: str) -> str:
    """A decoder's complaint in plain words."""
    what = what.replace("Object missing required field", "there must be a field").replace("got", "found")
    plain = re.sub(r"`(\w+)( \| null)?`", lambda match: _WORDS.get(match[1], match[1]), what)
    return plain[:1].lower() + plain[1:]


def ignored_fields(data: bytes, name: str) -> tuple[Remark, ...]:
    """One remark for each field of a job file that is not known here and was left aside; `name` is the file's.

    A question that `lay` does not answer gets a remark too: which verb does.

    The file is taken as read by `read_job_file` before.
    """
    try:
        whole: Whole = msgspec.json.decode(data)
    except RecursionError as fault:
        raise BadInput("job-too-deep", file=name) from fault
    places = [("", whole, JobFile), ("cloth", whole["cloth"], JobCloth)]
    places += [(f"pieces[{k}]", piece, JobPiece) for k, piece in enumerate(whole.get("pieces", ()))]
    places += [(f"prints.{key}", found, JobPrint) for key, found in whole.get("prints", {}).items()]
    places += [(f"phase_links[{k}]", link, JobLink) for k, link in enumerate(whole.get("phase_links", ()))]
    places += [(f"keep_outs[{k}]", found, JobKeepOut) for k, found in enumerate(whole.get("keep_outs", ()))]
    places += [(f"zones[{k}]", zone, JobZone) for k, zone in enumerate(whole.get("zones", ()))]
    if whole.get("book"):
        places += [("book", whole["book"], JobBook)]
        places += [(f"book.pieces[{k}]", part, JobPart) for k, part in enumerate(whole["book"]["pieces"])]
    asked = whole.get("question", "lay")
    verb = _VERBS.get(asked)
    other = () if verb is None else (Remark.of("job-question", file=name, question=asked, verb=verb),)
    return other + tuple(
        Remark.of("job-field-ignored", file=name, path=f"{path}.{field}".lstrip("."))
        for path, record, kind in places
        for field in record
        if field not in kind.__struct_fields__ and field not in _ABOUT
    )
