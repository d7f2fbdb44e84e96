"""All that has to be cut for a set of books: cloth, boards, card, linings, paper, thread; equal pieces in one row."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import lru_cache

from coverlayout.book.book import Book, Paper, Volume
from coverlayout.book.lining.endpapers import endpapers_of
from coverlayout.book.materials.cut_item import BoardPiece, CutItem, GrainArrow, Material
from coverlayout.book.materials.spine_lining import spine_lining
from coverlayout.book.paper.block import counted_block
from coverlayout.book.pieces import Piece
from coverlayout.book.rules.belonging import belongs
from coverlayout.book.rules.volumes import by_volume
from coverlayout.book.sewing.thread import thread
from coverlayout.book.structures import boards, pieces
from coverlayout.geometry.tolerance import SNAP_MM

__all__ = ["cut_list", "grouped", "sections_of"]

# The order of the bench: cloth is the dear one, then what it covers, then what is glued in.
_ORDER: tuple[Material, ...] = ("cloth", "board", "card", "web", "tissue", "lining", "paper", "thread")


@lru_cache(maxsize=128)
def cut_list(book: Book) -> tuple[CutItem, ...]:
    """Everything to cut for all volumes; equal pieces of one name share a row that names its volumes.

    Liners, sides and labels of paper are as large as those of cloth would be. Web and tissue belong to the cloth, not
    to the book, and are not in it. Text paper counts in whole sheets. BadInput as for pieces, paper and sewing.

    >>> [(row.name, row.material, row.count) for row in cut_list(Book("b", "Ledger", page_mm=(114.3, 152.4)))][:2]
    [('front cover', 'cloth', 1), ('back cover', 'cloth', 1)]
    """
    return tuple(sorted(grouped(_rows(book)), key=lambda row: _ORDER.index(row.material)))


def _rows(book: Book) -> Iterator[CutItem]:
    """What covers and lines the boards of all volumes, then what else each of them needs."""
    yield from _covering(book)
    for volume, rows in by_volume(book, lambda each, first: tuple(_of_volume(each, first))):
        yield from (replace(row, volumes=(volume.number,)) for row in rows)


def sections_of(book: Book) -> int | None:
    """How many sections a volume is sewn from; None when the paper does not tell."""
    block = counted_block(book.paper, book.structure)
    return None if block is None else block.sections


def grouped(rows: Iterable[CutItem]) -> tuple[CutItem, ...]:
    """Rows that differ in nothing but count and volumes become one, in the order they first came.

    >>> one = CutItem("front cover", "cloth", 144.3, 182.4, volumes=(1,))
    >>> [(row.count, row.volumes) for row in grouped((one, replace(one, count=2, volumes=(2,))))]
    [(3, (1, 2))]
    """
    merged: dict[tuple[object, ...], list[CutItem]] = {}
    for row in rows:
        size_mm = _snapped(row.width_mm), _snapped(row.height_mm)
        merged.setdefault((row.name, row.material, size_mm, row.grain, row.thickness_mm, row.note), []).append(row)
    return tuple(_as_one(alike) for alike in merged.values())


def _as_one(rows: list[CutItem]) -> CutItem:
    """Rows that are alike as one; each volume is named once."""
    volumes = dict.fromkeys(number for row in rows for number in row.volumes)
    return replace(rows[0], count=sum(row.count for row in rows), volumes=tuple(volumes))


def _snapped(length_mm: float) -> float:
    """Free of the dust that adding leaves, so that equal pieces of two volumes are found equal."""
    return round(length_mm / SNAP_MM) * SNAP_MM


def _covering(book: Book) -> Iterator[CutItem]:
    """What covers and lines the boards: every piece as if all of it were cloth, then told by its material."""
    label = None if book.label is None else replace(book.label, material="cloth")
    liners = "cloth" if book.liners == "paper" else book.liners
    for piece in pieces(replace(book, liners=liners, sides="cloth", label=label)):
        yield CutItem(
            name=piece.name,
            material=_material(book, piece),
            width_mm=piece.width_mm,
            height_mm=piece.height_mm,
            grain=piece.grain,
            volumes=() if piece.volume is None else (piece.volume,),
            note="cut-corner" if piece.kind == "corner" else "",
        )


def _material(book: Book, piece: Piece) -> Material:
    if book.structure == "parts":
        return "cloth"
    of_paper = {
        "liner": book.liners == "paper",
        "side": book.sides == "paper" and belongs("sides", book.structure),
        "label": book.label is not None and book.label.material == "paper",
    }
    return "paper" if of_paper.get(piece.kind, False) else "cloth"


def _note_on(book: Book, board: BoardPiece) -> str:
    """What is done to a board besides cutting it out: scored, or opened for a label; "" for nothing."""
    if board.name == "scored board":
        return "cut-scored"
    if board.name != "cover board" or book.label is None or not belongs("label", book.structure):
        return ""
    return {"window": "cut-window", "inset": "cut-recess", "on top": ""}[book.label.kind]


def _of_volume(book: Book, volume: Volume) -> Iterator[CutItem]:
    """Boards, linings, text paper and thread of one volume; a list of parts tells of none."""
    if book.structure == "parts":
        return
    numbers = (volume.number,)
    for board in boards(book, volume):
        yield CutItem(
            board.name,
            board.material,
            board.width_mm,
            board.height_mm,
            board.count,
            board.grain,
            board.thickness_mm,
            numbers,
            note=_note_on(book, board),
        )
    lining = spine_lining(book, volume)
    if lining is not None:
        yield lining
    yield from endpapers_of(book, volume)
    block = counted_block(book.paper, book.structure)
    if book.paper is not None and block is not None:
        yield _text_paper(book.paper, block.sheets_needed, numbers)
    yield from _threads(book, volume)


def _text_paper(paper: Paper, sheets: int, numbers: tuple[int, ...]) -> CutItem:
    width, height = paper.sheet_mm
    along_height: GrainArrow = "head to tail" if (paper.grain == "long") == (height >= width) else "across"
    return CutItem(
        name="text paper",
        material="paper",
        width_mm=width,
        height_mm=height,
        count=sheets,
        grain="any" if paper.grain == "unknown" else along_height,
        volumes=numbers,
        note="cut-whole-sheets",
    )


def _threads(book: Book, volume: Volume) -> Iterator[CutItem]:
    """The threads of a volume by colour, each as long as one of them; none while their length is not known."""
    needed = thread(book, volume, sections_of(book))
    if needed is None:
        return
    colours = tuple((f"thread, {colour}", length_mm) for colour, length_mm in needed.by_colour)
    for name, length_mm in colours or (("thread", needed.total_mm),):
        if length_mm:
            each_mm = length_mm / needed.threads
            yield CutItem(name, "thread", 0.0, each_mm, needed.threads, volumes=(volume.number,))
