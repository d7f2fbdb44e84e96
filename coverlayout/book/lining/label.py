"""A label on the front board: behind a window in it, let into it, or on top of its cloth."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from coverlayout.book.binding.separate_boards import spine_edge_mm
from coverlayout.book.book import Book, Label, Volume
from coverlayout.book.covering.laid_flat import FlatFace, FlatPiece, closed_mark, from_flat
from coverlayout.book.measures import Measures, measures
from coverlayout.book.pieces import Mark, Piece, head_mark
from coverlayout.book.rules.belonging import CASES, belongs
from coverlayout.book.rules.table import rule
from coverlayout.errors import BadInput, Remark
from coverlayout.geometry.frames import cloth_to_back
from coverlayout.geometry.shapes import Box, Region, bounds
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.units import check_length

__all__ = ["check_label", "label_box_mm", "label_notes", "label_pieces", "with_label_marks"]


def label_pieces(book: Book, volume: Volume) -> tuple[Piece, ...]:
    """The piece of cloth `label-N`; () without a label, with one of paper, and for a structure that has none.

    The piece is what is seen and the label's margin on each side; where no margin is given, the rule's behind a window
    and none elsewhere. Its face lies on the front board in the book frame.

    >>> book = Book("b", "Ledger", page_mm=(100.0, 150.0), label=Label(40.0, 25.0, "window"))
    >>> [(piece.id, piece.width_mm, piece.height_mm) for piece in label_pieces(book, book.volumes[0])]
    [('label-1', 50.0, 35.0)]
    """
    label = _label_of(book)
    if label is None or label.material != "cloth":
        return ()
    seen, cloth = _seen(book, volume, label), _cloth(book, volume, label)
    edge = () if seen == cloth else (closed_mark("window", seen),)
    flat = FlatPiece(
        id="label",
        name="label",
        kind="label",
        outline_mm=cloth.ring(),
        anchor_mm=seen.middle,
        faces=(FlatFace("label", seen.ring()),),
        marks=(*edge, head_mark(seen)),
        seen_mm=None if seen == cloth else seen.ring(),
        turns=label.turns,
        source=label.source,
    )
    return (from_flat(book, volume, flat),)


def label_box_mm(book: Book, volume: Volume) -> Box | None:
    """The label (window or recess) on the front board seen from outside, head up: from the board's left edge and head.

    None without a label.

    >>> title = Label(40.0, 25.0, from_head_mm=20.0, from_spine_mm=8.0)
    >>> book = Book("b", "Ledger", page_mm=(100.0, 150.0), label=title)
    >>> label_box_mm(book, book.volumes[0])
    Box(left_mm=8.0, top_mm=20.0, width_mm=40.0, height_mm=25.0)
    """
    label = _label_of(book)
    if label is None:
        return None
    board, seen = _front_board(book, measures(book, volume)), _seen(book, volume, label)
    from_spine_mm = seen.left_mm - board.left_mm
    left_mm = from_spine_mm if book.opens == "left" else board.width_mm - from_spine_mm - seen.width_mm
    return Box(left_mm, seen.top_mm, seen.width_mm, seen.height_mm)


def label_notes(book: Book, volume: Volume) -> tuple[Remark, ...]:
    """Where the window, the recess or the label comes on the front board, and what edge lies across it; () without one.

    >>> title = Label(40.0, 25.0, "window", from_head_mm=20.0, from_spine_mm=8.0)
    >>> book = Book("b", "Ledger", page_mm=(100.0, 150.0), label=title)
    >>> [note.code for note in label_notes(book, book.volumes[0])]
    ['label-window-place']
    """
    label = _label_of(book)
    if label is None:
        return ()
    board, seen = _front_board(book, measures(book, volume)), _seen(book, volume, label)
    codes = {"window": "label-window-place", "inset": "label-recess-place", "on top": "label-place"}
    place = {
        "width_mm": seen.width_mm,
        "height_mm": seen.height_mm,
        "head_mm": seen.top_mm,
        "spine_mm": seen.left_mm - board.left_mm,
    }
    return Remark.of(codes[label.kind], book=book.name, **place), *_edge_notes(book, volume, label)


def _edge_notes(book: Book, volume: Volume, label: Label) -> Iterator[Remark]:
    """Whether a window or recess lies across the edge where sides lap over the cloth of the spine or of a corner."""
    figures = measures(book, volume)
    if label.kind == "on top" or figures.spine_on_board_mm <= 0.0:
        return
    what = {"window": "window", "inset": "recess"}[label.kind]
    board, seen = _front_board(book, figures), _seen(book, volume, label)
    from_mm, to_mm, ends_mm = seen.left_mm - board.left_mm, seen.right_mm - board.left_mm, figures.spine_on_board_mm
    begins_mm = ends_mm - figures.lap_mm
    if from_mm < ends_mm - SAME_LENGTH_MM and to_mm > begins_mm + SAME_LENGTH_MM:
        reach = {"from_exact_mm": from_mm, "to_exact_mm": to_mm, "begins_exact_mm": begins_mm, "ends_exact_mm": ends_mm}
        yield Remark.of("label-across-spine", book=book.name, what=what, **reach)
    leg_mm, side_mm = figures.corner_leg_mm, board.right_mm - seen.right_mm
    # Along the slanting edge the ways to both edges of the board add up to the leg; the side laps over it squarely.
    begins_mm = leg_mm - math.sqrt(2) * figures.lap_mm
    for end, end_mm in (("head", seen.top_mm - board.top_mm), ("tail", board.bottom_mm - seen.bottom_mm)):
        nearest_mm = side_mm + end_mm
        farthest_mm = nearest_mm + seen.width_mm + seen.height_mm
        if nearest_mm < leg_mm - SAME_LENGTH_MM and farthest_mm > begins_mm + SAME_LENGTH_MM:
            place = {"side_exact_mm": side_mm, "end_exact_mm": end_mm, "leg_exact_mm": leg_mm}
            yield Remark.of("label-across-corner", book=book.name, what=what, end=end, **place)


def with_label_marks(book: Book, volume: Volume, piece: Piece) -> Piece:
    """The piece with the window or recess marked where it covers the front board; a label on top leaves no mark."""
    label = _label_of(book)
    front = next((face for face in piece.faces if face.name == "front"), None)
    if label is None or label.kind == "on top" or front is None:
        return piece
    seen = _seen(book, volume, label).ring()
    on_book = seen if book.opens == "left" else bounds(cloth_to_back(0.0).ring(seen)).ring()
    opening = Region.of(front.piece_to_book.inverse().ring(on_book)).meet(Region.of(piece.outline_mm))
    marks = tuple(Mark("window", bounds(ring).ring(), closed=True) for ring, _ in opening.parts())
    return replace(piece, marks=(*piece.marks, *marks))


def check_label(book: Book, volume: Volume) -> None:
    """Nothing, or BadInput: a label without size, or one that does not lie within the front board."""
    label = _label_of(book)
    if label is None:
        return
    for name, length_mm in (("width", label.width_mm), ("height", label.height_mm)):
        check_length(length_mm, where=f"{book.name}: label {name}", like="40mm")
    for name, optional_mm in (
        ("from the head", label.from_head_mm),
        ("from the spine", label.from_spine_mm),
    ):
        if optional_mm is not None:
            check_length(optional_mm, where=f"{book.name}: label {name}", like="10mm", least="0")
    if label.margin_mm is not None:
        rule("label margin", book.structure).check(label.margin_mm, where=f"{book.name}: label margin")
    board = _front_board(book, measures(book, volume))
    # What lies behind a window is glued to the inside of the board, margin and all.
    needed = _cloth(book, volume, label) if label.kind == "window" else _seen(book, volume, label)
    if not _holds(board, needed):
        raise BadInput("label-outside", book=book.name, width_mm=needed.width_mm, height_mm=needed.height_mm)


def _label_of(book: Book) -> Label | None:
    return book.label if belongs("label", book.structure) else None


def _front_board(book: Book, figures: Measures) -> Box:
    """The front board laid flat, of a book that opens left; of a side-sewn one without its hinge strip."""
    width_mm, height_mm = figures.board_mm
    if book.structure in (*CASES, "exposed-spine-wrap"):
        return Box(figures.gap_mm / 2, 0.0, width_mm, height_mm)
    taken_mm = figures.hinge_mm + figures.joint_mm
    return Box(spine_edge_mm(figures) + taken_mm, 0.0, width_mm - taken_mm, height_mm)


def _seen(book: Book, volume: Volume, label: Label) -> Box:
    """What is seen of the label, laid flat: as far from spine edge and head as given, else in the middle."""
    board = _front_board(book, measures(book, volume))
    from_spine_mm, from_head_mm = label.from_spine_mm, label.from_head_mm
    if from_spine_mm is None:
        from_spine_mm = (board.width_mm - label.width_mm) / 2
    if from_head_mm is None:
        from_head_mm = (board.height_mm - label.height_mm) / 2
    return Box(board.left_mm + from_spine_mm, from_head_mm, label.width_mm, label.height_mm)


def _cloth(book: Book, volume: Volume, label: Label) -> Box:
    """The piece itself: what is seen and its margin all round."""
    seen, margin_mm = _seen(book, volume, label), label.margin_mm
    if margin_mm is None:
        margin_mm = rule("label margin", book.structure).figure() if label.kind == "window" else 0.0
    width_mm, height_mm = seen.width_mm + 2 * margin_mm, seen.height_mm + 2 * margin_mm
    return Box(seen.left_mm - margin_mm, seen.top_mm - margin_mm, width_mm, height_mm)


def _holds(board: Box, part: Box) -> bool:
    return (
        board.left_mm - SAME_LENGTH_MM <= part.left_mm
        and board.top_mm - SAME_LENGTH_MM <= part.top_mm
        and part.right_mm <= board.right_mm + SAME_LENGTH_MM
        and part.bottom_mm <= board.bottom_mm + SAME_LENGTH_MM
    )
