"""A book worked out, as plain values for a file or another program: one dictionary of names, numbers and lists."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from coverlayout.book.book import Turns
from coverlayout.book.lining.label import label_box_mm
from coverlayout.book.materials.cut_item import BoardPiece, CutItem
from coverlayout.book.materials.plan import BookPlan, VolumePlan
from coverlayout.book.pieces import Piece
from coverlayout.book.sewing.holes import Hole
from coverlayout.errors import Remark, sentence
from coverlayout.geometry.frames import Point
from coverlayout.geometry.tolerance import SNAP_MM

__all__ = ["as_record", "row_of"]

Words = Callable[[Remark], str]
Row = dict[str, Any]


def as_record(plan: BookPlan, turns_of: Callable[[Piece], Turns], words: Words = Remark.text) -> Row:
    """The plan as lists and numbers in mm, unrounded; null (None) for what is not known.

    `turns_of` tells the turns a piece may take, `words` makes a remark a sentence. Figures that volumes may differ in
    are those of the first; `volumes` has them for each. Equal pieces and boards of several volumes are one row, counted
    over all; `thread_mm` and stations are of one volume.
    """
    first = plan.first
    return {
        "book": plan.book.name,
        "structure": plan.book.structure,
        **_of_paper(plan),
        "page_mm": _page(plan),
        "block_mm": _block(first),
        "spine_mm": _measure(first, "spine_mm"),
        "gap_mm": _measure(first, "gap_mm"),
        "boards": _boards(plan),
        "label_mm": _label(plan),
        "pieces": _pieces(plan, turns_of),
        "cut_list": [row_of(row) for row in plan.cut_list],
        **_sewing(first, words),
        "volumes": [_volume(volume) for volume in plan.volumes],
        "notes": [words(note) for note in plan.notes],
    }


def _of_paper(plan: BookPlan) -> Row:
    """Whole numbers of the block, all null without paper."""
    block = plan.block
    return {
        "leaf_mm": None if plan.folded is None else list(plan.folded.leaf_mm),
        "sections": None if block is None else block.sections,
        "pages": None if block is None else block.pages,
        "blank_pages": None if block is None else block.blank_pages,
        "leaves": None if block is None else block.leaves,
        "sheets": None if block is None else block.sheets_needed,
        "leftover_sheets": None if block is None else block.leftover_sheets,
    }


def _page(plan: BookPlan) -> list[float] | None:
    made = plan.first.measures
    if made is None or made.page_mm is None or plan.book.structure == "slipcase":
        return None
    return list(made.page_mm)


def _block(volume: VolumePlan) -> list[float | None] | None:
    """Width, height and thickness of the block; a slipcase's is the book that goes in."""
    if volume.measures is None:
        return None
    page: Point | tuple[None, None] = volume.measures.page_mm or (None, None)
    return [*page, volume.thickness_mm]


def _measure(volume: VolumePlan, name: str) -> float | None:
    return None if volume.measures is None else getattr(volume.measures, name)


def _label(plan: BookPlan) -> list[float] | None:
    """The label, window or recess: from the left edge of the front board seen from outside, its head, width, height."""
    box = label_box_mm(plan.book, plan.book.volumes[0])
    return None if box is None else [box.left_mm, box.top_mm, box.width_mm, box.height_mm]


def _boards(plan: BookPlan) -> list[Row]:
    counts: dict[BoardPiece, int] = {}
    for board in (board for volume in plan.volumes for board in volume.boards):
        counts[board] = counts.get(board, 0) + board.count
    return [
        {
            "name": board.name,
            "width_mm": board.width_mm,
            "height_mm": board.height_mm,
            "thickness_mm": board.thickness_mm,
            "count": count,
            "material": board.material,
            "grain": board.grain,
        }
        for board, count in counts.items()
    ]


def _pieces(plan: BookPlan, turns_of: Callable[[Piece], Turns]) -> list[Row]:
    rows: dict[tuple[object, ...], Row] = {}
    names = {piece.id: piece.name for piece in plan.pieces}
    for piece in plan.pieces:
        turns = turns_of(piece)
        alike = piece.name, piece.kind, round(piece.width_mm / SNAP_MM), round(piece.height_mm / SNAP_MM), turns
        row = rows.setdefault(
            alike,
            {
                "name": piece.name,
                "kind": piece.kind,
                "width_mm": piece.width_mm,
                "height_mm": piece.height_mm,
                "count": 0,
                "turns": turns,
                "grain": piece.grain,
                "matches": sorted({names[other] for other in piece.matches}),
            },
        )
        row["count"] += 1
    return list(rows.values())


def row_of(row: CutItem) -> Row:
    """A row of the cut list as a dictionary; a thread has a length and no width."""
    is_thread = row.material == "thread"
    return {
        "name": row.name,
        "material": row.material,
        "width_mm": None if is_thread else row.width_mm,
        "height_mm": None if is_thread else row.height_mm,
        "length_mm": row.height_mm if is_thread else None,
        "thickness_mm": row.thickness_mm,
        "count": row.count,
        "grain": row.grain,
        "volumes": list(row.volumes),
        "note": sentence(row.note, {}) if row.note else "",
    }


def _sewing(volume: VolumePlan, words: Words) -> Row:
    needed = volume.thread
    return {
        "stations_mm": list(volume.stations_mm),
        "stations_from_tail_mm": list(volume.stations_from_tail_mm),
        "holes": [_hole(hole) for hole in volume.holes],
        "thread_mm": None if needed is None else needed.total_mm,
        "thread_by_colour": []
        if needed is None
        else [{"name": name, "length_mm": length_mm} for name, length_mm in needed.by_colour],
        "thread_rule": None if needed is None else needed.rule,
        "thread_in_words": [] if needed is None else [words(remark) for remark in needed.said],
        "needles": None if needed is None else needed.needles,
    }


def _hole(hole: Hole) -> Row:
    return {"board": hole.board, "from_spine_edge_mm": hole.x_mm, "from_head_mm": hole.y_mm}


def _volume(volume: VolumePlan) -> Row:
    return {
        "number": volume.number,
        "block_mm": _block(volume),
        "spine_mm": _measure(volume, "spine_mm"),
        "gap_mm": _measure(volume, "gap_mm"),
    }
