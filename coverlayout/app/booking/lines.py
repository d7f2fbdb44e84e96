"""A book worked out, as lines for people: lengths in the project's unit, pieces never shown smaller than they are."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from coverlayout.app.verbs.telling import Opened, table
from coverlayout.book.materials.cut_item import BoardPiece, CutItem
from coverlayout.book.materials.plan import BookPlan, VolumePlan
from coverlayout.book.pieces import Piece
from coverlayout.book.rules.belonging import CASES, WRAPPED
from coverlayout.document.questions import turns_of
from coverlayout.errors import Remark, sentence
from coverlayout.geometry.tolerance import SNAP_MM

__all__ = ["lines_of"]

# The names of the columns, then the rows.
_Table = tuple[tuple[str, ...], list[tuple[str, ...]]]


def lines_of(
    job: Opened, made: BookPlan, backing: Iterable[CutItem] = (), also: Iterable[list[Remark]] = ()
) -> list[str]:
    """Every part of the plan under a heading of its own; parts the book does not have are left out.

    `also` are groups of remarks that follow the sewing: panels, sheets of stock, costs. Notes come last.
    """
    parts = (
        _block(job, made),
        _table("Volumes", *_volumes(job, made)),
        _table("Boards", *_boards(job, made)),
        _table("Pieces of cloth", *_pieces(job, made)),
        _table("Also to cut", *_other_cuts(job, (*made.cut_list, *backing), len(made.volumes))),
        _sewing(job, made.first),
        *(job.texts(group) for group in also),
        job.texts(made.notes),
    )
    return [line for number, part in enumerate(part for part in parts if part) for line in _spaced(number, part)]


def _spaced(number: int, part: list[str]) -> Iterator[str]:
    if number:
        yield ""
    yield from part


def _table(head: str, columns: tuple[str, ...], rows: list[tuple[str, ...]]) -> list[str]:
    return [head, *(f"  {line}" for line in table(columns, rows))] if rows else []


def _block(job: Opened, made: BookPlan) -> list[str]:
    """The paper as it is folded and what it makes; block and spine where they are the same in all volumes."""
    code = "book-structure-copies" if len(made.volumes) > 1 else "book-structure"
    code = "book-parts" if made.book.structure == "parts" else code
    said = [Remark.of(code, name=made.book.name, structure=made.book.structure, copies=len(made.volumes))]
    said += [*_page(made), *_counted(made)]
    if len(_different(made)) == 1:
        said += _of_spine(made, made.first)
    return job.texts(said)


def _page(made: BookPlan) -> Iterator[Remark]:
    """The page; and the piece it is folded from, where it is folded."""
    figures, paper = made.first.measures, made.book.paper
    if figures is None or figures.page_mm is None or made.book.structure == "slipcase":
        return
    page = {"page_w_mm": figures.page_mm[0], "page_h_mm": figures.page_mm[1]}
    if made.folded is None or paper is None or paper.folds == 0:
        yield Remark.of("book-page-alone", **page)
    else:
        leaf = made.folded.leaf_mm
        yield Remark.of("book-page", leaf_w_mm=leaf[0], leaf_h_mm=leaf[1], **page)


def _counted(made: BookPlan) -> Iterator[Remark]:
    block, paper = made.block, made.book.paper
    if block is None or paper is None:
        return
    code = "book-sections" if paper.folds else "book-leaves"
    code = "book-strips" if made.book.structure == "accordion" else code
    counted = {"sections": block.sections, "pages": block.pages, "leaves": block.leaves, "sheets": block.sheets_needed}
    yield Remark.of(code, **counted)


def _of_spine(made: BookPlan, volume: VolumePlan) -> Iterator[Remark]:
    """How thick the block is, and what lies between the boards on the opened cover."""
    figures, structure = volume.measures, made.book.structure
    if figures is None:
        return
    if structure == "slipcase" and figures.page_mm is not None:
        width, height = figures.page_mm
        yield Remark.of("book-goes-in", width_mm=width, height_mm=height, block_mm=figures.thickness_mm)
    elif volume.thickness_mm is not None:
        yield Remark.of("book-block", block_mm=volume.thickness_mm)
    gap = {"gap_mm": figures.gap_mm, "spine_mm": figures.over_spine_mm, "joint_mm": figures.joint_mm}
    if structure in CASES:
        yield Remark.of("book-gap-no-piece" if figures.spine_mm is None else "book-gap-case", **gap)
    elif structure in ("exposed-spine-wrap", "limp-wrap"):
        yield Remark.of("book-gap" if structure == "exposed-spine-wrap" else "book-gap-limp", **gap)


def _volumes(job: Opened, made: BookPlan) -> _Table:
    """Block and spine of each volume that is not as thick as those before it, where there are such."""
    different = _different(made)
    wrapped = made.book.structure in WRAPPED
    rows: list[tuple[str, ...]] = []
    for volume in different if len(different) > 1 else []:
        block = "-" if volume.thickness_mm is None else job.show(volume.thickness_mm)
        row: tuple[str, ...] = (str(volume.number), block)
        figures = volume.measures
        if wrapped and figures is not None:
            row = (*row, job.show(figures.over_spine_mm), job.show(figures.gap_mm))
        rows.append(row)
    return ("volume", "block", *(("spine", "between the boards") if wrapped else ())), rows


def _different(made: BookPlan) -> list[VolumePlan]:
    """The first volume, and each that is not as thick as those before it."""
    by_thickness: dict[float | None, VolumePlan] = {}
    for volume in made.volumes:
        by_thickness.setdefault(volume.thickness_mm, volume)
    return list(by_thickness.values())


def _boards(job: Opened, made: BookPlan) -> _Table:
    counts: dict[BoardPiece, int] = {}
    for board in (board for volume in made.volumes for board in volume.boards):
        counts[board] = counts.get(board, 0) + board.count
    exactly = job.project.preferences.length_style.show_exactly
    rows: list[tuple[str, ...]] = [
        (
            *(board.name, board.material, job.show(board.width_mm), job.show(board.height_mm)),
            *(exactly(board.thickness_mm), str(count), board.grain),
        )
        for board, count in counts.items()
    ]
    return ("board", "of", "width", "height", "thick", "count", "grain"), rows


def _pieces(job: Opened, made: BookPlan) -> _Table:
    """Equal pieces of several volumes are one row, with the first and the last of their ids."""
    ids: dict[tuple[object, ...], list[str]] = {}
    shown: dict[tuple[object, ...], tuple[str, str, str]] = {}
    for piece in _by_kind(made.pieces):
        turns = turns_of(job.project, piece)
        alike = piece.name, round(piece.width_mm / SNAP_MM), round(piece.height_mm / SNAP_MM), turns
        ids.setdefault(alike, []).append(piece.id)
        shown[alike] = job.show(piece.width_mm, "up"), job.show(piece.height_mm, "up"), turns
    rows: list[tuple[str, ...]] = []
    for each, (width, height, ways) in shown.items():
        rows.append((_from_to(ids[each]), width, height, str(len(ids[each])), ways))
    return ("piece", "width", "height", "count", "turns"), rows


def _by_kind(made: Iterable[Piece]) -> list[Piece]:
    """Kind by kind, in the order of the first volume; of one kind volume after volume."""
    pieces = list(made)
    names = list(dict.fromkeys(piece.name for piece in pieces))
    return sorted(pieces, key=lambda piece: names.index(piece.name))


def _from_to(ids: list[str]) -> str:
    """Three or more whose numbers follow each other by the first and the last, others one by one."""
    numbers = [int(one.rpartition("-")[2]) for one in ids]
    if len(ids) > 2 and numbers == list(range(numbers[0], numbers[0] + len(ids))):
        return sentence("book-from-to", {"first": ids[0], "last": ids[-1]})
    return ", ".join(ids)


def _other_cuts(job: Opened, items: Iterable[CutItem], volumes: int) -> _Table:
    """What is neither board nor cloth, which have tables of their own; whole sheets are bought, not cut larger."""
    kept = [row for row in items if row.material not in ("cloth", "board", "card")]
    rows: list[tuple[str, ...]] = [
        (
            *(row.name, row.material),
            *(_size(job, row, side_mm) for side_mm in (row.width_mm, row.height_mm)),
            *(str(row.count), row.grain, sentence(row.note, {}) if row.note else _of_volumes(row, volumes)),
        )
        for row in kept
    ]
    return ("to cut", "of", "width", "height", "count", "grain", ""), rows


def _of_volumes(row: CutItem, volumes: int) -> str:
    """Which volumes it is for, where it is not for all."""
    if not row.volumes or len(row.volumes) == volumes:
        return ""
    return sentence("book-for-volumes", {"volumes": _from_to([str(number) for number in row.volumes])})


def _size(job: Opened, row: CutItem, side_mm: float) -> str:
    if row.material == "thread" and side_mm == 0.0:
        return ""
    if row.material in ("web", "tissue"):
        # Glue that reaches past the cloth sticks to the iron.
        return job.show(side_mm, "down")
    return job.show(side_mm, "nearest" if row.note == "cut-whole-sheets" else "up")


def _sewing(job: Opened, volume: VolumePlan) -> list[str]:
    """Stations, holes and thread of one volume: the page is as high in all of them."""
    said: list[Remark] = []
    head, tail = _places(job, volume.stations_mm), _places(job, volume.stations_from_tail_mm)
    if head and head == tail:
        said.append(Remark.of("book-stations-alike", places=head))
    elif head:
        said += [Remark.of("book-stations", places=head), Remark.of("book-stations-tail", places=tail)]
    holes = [hole for hole in volume.holes if hole.board in ("front", "spine")]
    if holes:
        code = "book-holes-spine" if holes[0].board == "spine" else "book-holes"
        places = _places(job, tuple(hole.y_mm for hole in holes))
        said.append(Remark.of(code, from_spine_mm=holes[0].x_mm, places=places))
    if volume.thread is not None:
        said += volume.thread.said
    return job.texts([*said, Remark.of("caution-awl")] if said else said)


def _places(job: Opened, places_mm: tuple[float, ...]) -> str:
    return ", ".join(job.show(place_mm) for place_mm in places_mm)
