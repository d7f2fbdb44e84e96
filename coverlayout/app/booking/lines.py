"""A book worked out, as lines for people: lengths in the project's unit, sizes never shown smaller than they are."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from coverlayout.app.verbs.telling import Opened, table
from coverlayout.book.materials.cut_item import CutItem
from coverlayout.book.materials.plan import BookPlan, VolumePlan
from coverlayout.document.questions import turns_of
from coverlayout.errors import Remark

__all__ = ["lines_of"]

# The names of the columns, then the rows.
_Table = tuple[tuple[str, ...], list[tuple[str, ...]]]


def lines_of(
    job: Opened, made: BookPlan, backing: Iterable[CutItem] = (), of_stock: Iterable[Remark] = ()
) -> list[str]:
    """Every part of the plan under a heading of its own; parts the book does not have are left out."""
    parts = (
        _paper(job, made),
        _table("Boards", *_boards(job, made)),
        _table("Pieces of cloth", *_pieces(job, made)),
        _table("To cut", *_cut_list(job, (*made.cut_list, *backing))),
        [line for volume in _different(made) for line in _sewing(job, volume)],
        job.texts(of_stock),
        job.texts(made.notes),
    )
    return [line for number, part in enumerate(part for part in parts if part) for line in _spaced(number, part)]


def _spaced(number: int, part: list[str]) -> Iterator[str]:
    if number:
        yield ""
    yield from part


def _table(head: str, columns: tuple[str, ...], rows: list[tuple[str, ...]]) -> list[str]:
    return [head, *(f"  {line}" for line in table(columns, rows))] if rows else []


def _paper(job: Opened, made: BookPlan) -> list[str]:
    said = [Remark.of("book-structure", name=made.book.name, structure=made.book.structure)]
    if made.folded is not None:
        leaf, page = made.folded.leaf_mm, made.folded.page_mm
        said.append(Remark.of("book-page", leaf_w_mm=leaf[0], leaf_h_mm=leaf[1], page_w_mm=page[0], page_h_mm=page[1]))
    if made.block is not None:
        block = made.block
        said.append(Remark.of("book-sections", sections=block.sections, pages=block.pages, sheets=block.sheets_needed))
    for volume in _different(made):
        if volume.thickness_mm is not None:
            said.append(Remark.of("book-block", number=volume.number, block_mm=volume.thickness_mm))
    return job.texts(said)


def _different(made: BookPlan) -> list[VolumePlan]:
    """The first volume, and each that is not as thick as those before it."""
    by_thickness: dict[float | None, VolumePlan] = {}
    for volume in made.volumes:
        by_thickness.setdefault(volume.thickness_mm, volume)
    return list(by_thickness.values())


def _boards(job: Opened, made: BookPlan) -> _Table:
    counts: dict[tuple[str, str, str, str], int] = {}
    for board in (board for volume in made.volumes for board in volume.boards):
        row = (board.name, job.show(board.width_mm), job.show(board.height_mm), job.show(board.thickness_mm))
        counts[row] = counts.get(row, 0) + board.count
    return ("board", "width", "height", "thick", "count"), [(*row, str(count)) for row, count in counts.items()]


def _pieces(job: Opened, made: BookPlan) -> _Table:
    rows: list[tuple[str, ...]] = [
        (
            piece.id,
            job.show(piece.width_mm, "up"),
            job.show(piece.height_mm, "up"),
            turns_of(job.project, piece),
        )
        for piece in made.pieces
    ]
    return ("piece", "width", "height", "turns"), rows


def _cut_list(job: Opened, items: Iterable[CutItem]) -> _Table:
    rows: list[tuple[str, ...]] = [
        (
            row.name,
            row.material,
            "" if row.material == "thread" else job.show(row.width_mm, "up"),
            job.show(row.height_mm, "up"),
            str(row.count),
            row.grain,
        )
        for row in items
    ]
    return ("to cut", "of", "width", "height", "count", "grain"), rows


def _sewing(job: Opened, volume: VolumePlan) -> list[str]:
    said: list[Remark] = []
    if volume.stations_mm:
        head = ", ".join(job.show(place) for place in volume.stations_mm)
        tail = ", ".join(job.show(place) for place in volume.stations_from_tail_mm)
        said += [Remark.of("book-stations", places=head), Remark.of("book-stations-tail", places=tail)]
    if volume.thread is not None:
        if volume.thread.total_mm is not None:
            said.append(Remark.of("book-thread", thread_mm=volume.thread.total_mm, needles=volume.thread.needles))
        said += volume.thread.said
    return job.texts(said)
