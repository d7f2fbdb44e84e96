"""From a job file to a project: its cloth, prints, zones, flaws, pieces or book, locks and links."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from coverlayout.book.book import Book, OwnPiece, PartOfBook, Source, Turns
from coverlayout.cloth.cloth import Cloth, Flaw, Zone
from coverlayout.document.checks.whole import checked
from coverlayout.document.project import JobRules, LinkWish, LockWish, Project
from coverlayout.document.storage.job_file import JobBook, JobFile, JobPart, JobPiece, JobPrint, read_job_file
from coverlayout.errors import BadInput
from coverlayout.geometry.frames import Ring
from coverlayout.geometry.shapes import bounds, rectangle
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print
from coverlayout.units import LONGEST_MM

__all__ = ["project_from_job"]

_TURNS: dict[tuple[float, ...], Turns] = {
    (0.0,): "none",
    (0.0, 180.0): "half",
    (0.0, 90.0, 180.0, 270.0): "quarter",
}


def project_from_job(data: bytes, name: str) -> Project:
    """The project a job file describes; `name` is the file's, for sentences about it.

    Pieces become own pieces that keep their ids, `edge_mm` the trim, `board_mm` the part that is seen. A cloth whose
    length is asked for becomes a piece off the bolt that is long enough for everything. Print names without repeat
    vectors in the file count only for zones. Turns other than none, half and quarter cannot be kept. BadInput in one
    sentence for anything that cannot be used.
    """
    job = read_job_file(data, name)
    prints = _prints(job, name)
    print_ids = {a_print.name: a_print.id for a_print in prints}
    return checked(
        Project(
            name=job.id,
            prints=prints,
            cloths=(_cloth(job, print_ids, name),),
            books=() if job.book is None else (_book(job.book, name),),
            own_pieces=tuple(_own(job, piece, number, print_ids, name) for number, piece in enumerate(job.pieces, 1)),
            locks=tuple(_locks(job, name)),
            links=tuple(_links(job, name)),
            rules=JobRules(gap_mm=job.gap_mm, objective="least length" if job.question == "least_length" else "room"),
            next_volume_number=2,
        )
    )


def _prints(job: JobFile, name: str) -> tuple[Print, ...]:
    """Every print the file names; those that only zones name never repeat within the cloth."""
    length_mm = _length_mm(job, name)
    never = JobPrint((2 * job.cloth.width_mm, 0.0), (0.0, 2 * length_mm))
    names = dict.fromkeys((*job.prints, *(zone.print for zone in job.zones)))
    if job.zones:
        names |= dict.fromkeys(piece.print for piece in job.pieces if piece.print is not None)
    found = [(print_name, job.prints.get(print_name, never)) for print_name in names]
    return tuple(
        Print(id=f"print-{number}", name=print_name, lattice=Lattice(a_print.a_mm, a_print.b_mm), layout="vectors")
        for number, (print_name, a_print) in enumerate(found, 1)
    )


def _cloth(job: JobFile, print_ids: dict[str, str], name: str) -> Cloth:
    """The cloth with its flaws; zones where the file has some, or one for each of several prints."""
    length_mm = _length_mm(job, name)
    outline = None if job.cloth.outline_mm is None else tuple(job.cloth.outline_mm)
    if outline:
        corner = bounds(outline)
        if max(abs(corner.left_mm), abs(corner.top_mm)) > SAME_LENGTH_MM:
            where = f"{name}, cloth.outline_mm"
            raise BadInput("outline-off-corner", where=where, left_mm=corner.left_mm, top_mm=corner.top_mm)
    zones = [(zone.print, tuple(zone.outline_mm)) for zone in job.zones]
    if not zones and len(job.prints) > 1:
        whole = outline or rectangle(job.cloth.width_mm, length_mm)
        zones = [(print_name, whole) for print_name in job.prints]
    return Cloth(
        id="cloth-1",
        name="Cloth" if job.cloth.length_mm is not None else "Cloth off the bolt",
        width_mm=job.cloth.width_mm,
        length_mm=length_mm,
        outline_mm=outline,
        trim_mm=job.edge_mm,
        flaws=tuple(
            Flaw(f"flaw-{number}", flaw.name, tuple(flaw.outline_mm), fine_where_hidden=flaw.fine_in_turn_in)
            for number, flaw in enumerate(job.keep_outs, 1)
        ),
        zones=tuple(
            Zone(f"zone-{number}", print_name, ring, _laid(job, print_name, print_ids))
            for number, (print_name, ring) in enumerate(zones, 1)
        ),
        laid=None if zones or not job.prints else _laid(job, next(iter(job.prints)), print_ids),
    )


def _laid(job: JobFile, print_name: str, print_ids: dict[str, str]) -> LaidPrint:
    known = job.prints.get(print_name)
    return LaidPrint(print_ids[print_name], (0.0, 0.0) if known is None else known.origin_mm)


def _length_mm(job: JobFile, name: str) -> float:
    """The cloth's length; when it is asked for, enough for all pieces one below the other whatever their turns."""
    if job.cloth.length_mm is not None:
        return job.cloth.length_mm
    if job.cloth.outline_mm:
        box = bounds(job.cloth.outline_mm)
        return box.bottom_mm
    if not job.pieces or job.book is not None:
        raise BadInput("job-length-needed", file=name)
    enough = sum(max(_reach(_ring(piece, name))) + job.gap_mm for piece in job.pieces) + 2 * job.edge_mm
    return min(enough, LONGEST_MM)


def _reach(ring: Ring) -> tuple[float, float]:
    box = bounds(ring)
    return box.width_mm, box.height_mm


def _ring(piece: JobPiece, name: str) -> Ring:
    if piece.outline_mm:
        return tuple(piece.outline_mm)
    if piece.width_mm is None or piece.height_mm is None:
        raise BadInput("job-piece-size", file=name, piece=piece.id)
    return rectangle(piece.width_mm, piece.height_mm)


def _own(job: JobFile, piece: JobPiece, number: int, print_ids: dict[str, str], name: str) -> OwnPiece:
    if job.zones and piece.print is None:
        raise BadInput("job-piece-without-print", file=name, piece=piece.id)
    ring = _ring(piece, name)
    width_mm, height_mm = _reach(ring)
    left, top, width, height = piece.board_mm or (0.0, 0.0, 0.0, 0.0)
    return OwnPiece(
        id=f"own-{number}",
        name=piece.id,
        width_mm=width_mm,
        height_mm=height_mm,
        outline_mm=ring if piece.outline_mm else None,
        turns=_turns(piece, name),
        source=Source(print_id=print_ids.get(piece.print or "")),
        reference_mm=piece.reference_mm,
        seen_mm=None if piece.board_mm is None else rectangle(width, height, left, top),
        ids=(piece.id,),
    )


def _turns(piece: JobPiece | JobPart, name: str) -> Turns:
    listed = tuple(sorted({turn_deg % 360.0 for turn_deg in piece.turns}))
    if listed not in _TURNS:
        called = piece.id if isinstance(piece, JobPiece) else piece.name
        raise BadInput(
            "job-turns", file=name, piece=called, found=", ".join(f"{turn_deg:g}" for turn_deg in piece.turns)
        )
    return _TURNS[listed]


def _book(book: JobBook, name: str) -> Book:
    return Book(
        id="book-1",
        name="Book",
        structure="parts",
        board_mm=book.board_mm,
        board_ratio=book.board_ratio,
        parts=tuple(
            PartOfBook(part.name, part.count, part.grow_mm, _turns(part, name), part.width_mm) for part in book.pieces
        ),
    )


def _locks(job: JobFile, name: str) -> Iterable[LockWish]:
    """One lock for each piece that has one; prints are not turned here, so the offset is the place in the repeat."""
    locked = [(piece.id, piece.lock) for piece in job.pieces if piece.lock is not None]
    prints = {piece.id: piece.print for piece in job.pieces}
    for number, (piece_id, lock) in enumerate(locked, 1):
        _needs_repeat(job, prints, piece_id, name)
        yield LockWish(f"lock-{number}", piece_id, lock.offset_mm)


def _links(job: JobFile, name: str) -> Iterable[LinkWish]:
    prints = {piece.id: piece.print for piece in job.pieces}
    for number, link in enumerate(job.phase_links, 1):
        for piece_id in link.pieces:
            _needs_repeat(job, prints, piece_id, name)
        yield LinkWish(f"link-{number}", tuple(link.pieces), tuple(link.differences_mm or ()))


def _needs_repeat(job: JobFile, prints: Mapping[str, str | None], piece_id: str, name: str) -> None:
    """BadInput unless the piece is in the file, on a print whose repeat the file gives; `prints`: of every piece."""
    if piece_id not in prints:
        raise BadInput("job-piece-unknown", file=name, piece=piece_id)
    if prints[piece_id] not in job.prints:
        raise BadInput("job-repeat-unknown", file=name, piece=piece_id)
