"""What is unusual about a book's figures, or has to be known at the bench; nothing here refuses anything."""

from __future__ import annotations

import math
from collections.abc import Iterator

from coverlayout.book.book import Book
from coverlayout.book.lining.endpapers import has_endpapers
from coverlayout.book.measures import Measures, measures
from coverlayout.book.rules.belonging import CASES, belongs
from coverlayout.book.rules.ranges import given_figures
from coverlayout.book.rules.sizes import is_spine_far_off, size_notes, spine_by_block_mm
from coverlayout.book.rules.table import Rule, rule
from coverlayout.book.rules.volumes import of_each_thickness
from coverlayout.book.turn_ins import turn_in_mm, turned_edges
from coverlayout.errors import Remark
from coverlayout.geometry.tolerance import SAME_LENGTH_MM

__all__ = ["notes"]


def notes(book: Book) -> tuple[Remark, ...]:
    """Warnings that refuse nothing: unusual sizes and figures, turn-ins too short, bare raw edges, measured spines.

    The book is taken as checked (book.checks); of several volumes with the same to say it is said once.

    >>> [note.code for note in notes(Book("b", "Ledger", page_mm=(114.3, 152.4), liner_inset_mm=12.0))]
    ['liner-inset-wide']
    """
    if book.structure == "parts":
        return ()
    of_turn_ins = tuple(_turn_in_notes(book))
    # Where turn-ins and liners do not meet, that says more than that one of them is unusual.
    found = [*size_notes(book), *of_turn_ins, *_unusual(book, but=("turn-in", "liner inset") if of_turn_ins else ())]
    for each in of_each_thickness(book):
        found += [note for note in _volume_notes(each) if note not in found]
    return tuple(found)


def _turn_in_notes(book: Book) -> Iterator[Remark]:
    """Whether the turn-ins reach the inside, and whether the liners cover their raw edges."""
    thickness_mm = book.board_thickness_mm if belongs("board_thickness_mm", book.structure) else 0.0
    least_mm = min(turn_in_mm(book.turn_ins, edge) for edge in turned_edges(book.structure))
    if least_mm <= thickness_mm:
        yield Remark.of("turn-in-short", book=book.name, turn_in_mm=least_mm, thickness_mm=thickness_mm)
        return
    most_mm = least_mm - thickness_mm - rule("raw edge", book.structure).figure()
    if book.liners != "none" and belongs("liners", book.structure) and book.liner_inset_mm > most_mm:
        yield Remark.of("liner-inset-wide", book=book.name, inset_mm=book.liner_inset_mm, most_mm=max(most_mm, 0.0))


def _unusual(book: Book, but: tuple[str, ...]) -> Iterator[Remark]:
    """Figures of the maker's own outside of what is usual, `but` those rules; the rules' own are not remarked on."""
    turn_ins_mm: set[float] = set()
    for name, figure_mm, row in given_figures(book):
        if row.name in but or not row.unusual(figure_mm) or (row.name.endswith("flap") and figure_mm == 0.0):
            continue
        if row.name == "turn-in":
            # One sentence for each turn-in, however many edges have it.
            if figure_mm in turn_ins_mm:
                continue
            turn_ins_mm.add(figure_mm)
        yield _said_of(book, name, figure_mm, row)


def _said_of(book: Book, name: str, figure_mm: float, row: Rule) -> Remark:
    """What is unusual about a figure; board too thick to be scored would also take of the room for the book."""
    if row.name == "scored board" and figure_mm > row.usual_most:
        return Remark.of(
            "scored-board-thick", book=book.name, thickness_exact_mm=figure_mm, most_exact_mm=row.usual_most
        )
    return row.unusual_said(figure_mm, book=book.name, figure=name)


def _volume_notes(book: Book) -> Iterator[Remark]:
    figures = measures(book, book.volumes[0])
    yield from _fore_edge_notes(book, figures)
    yield from _spine_notes(book, figures)
    yield from _closing_notes(book, figures)
    yield from _pastedown_notes(book, figures)


def _fore_edge_notes(book: Book, figures: Measures) -> Iterator[Remark]:
    """A board that does not reach the pages' fore-edge, or stands out unusually far."""
    square_mm = figures.fore_edge_square_mm
    if square_mm is None or book.structure == "slipcase":
        return
    row = rule("square", book.structure)
    if square_mm < -SAME_LENGTH_MM:
        yield Remark.of("fore-edge-bare", book=book.name, short_exact_mm=-square_mm)
    elif row.unusual(square_mm):
        yield Remark.of(
            "fore-edge-square-unusual",
            book=book.name,
            square_exact_mm=square_mm,
            least_exact_mm=row.usual_least,
            most_exact_mm=row.usual_most,
        )


def _spine_notes(book: Book, figures: Measures) -> Iterator[Remark]:
    """A spine that was measured, is narrower than its block, or is of board where it has to bend."""
    if not belongs("spine_width_mm", book.structure):
        return
    is_round = book.structure == "rounded-case"
    spine_mm = figures.over_spine_mm
    if is_round and figures.spine_piece == "board":
        yield Remark.of("round-spine-of-board", book=book.name)
    if is_spine_far_off(book, figures):
        made_mm = spine_by_block_mm(book)
        yield Remark.of("spine-far-off", book=book.name, spine_exact_mm=spine_mm, made_exact_mm=made_mm)
        return
    if book.spine_width_mm is not None:
        yield Remark.of("spine-as-measured", book=book.name, spine_exact_mm=spine_mm)
    # Of a wrap round boards more is said below.
    if spine_mm < figures.thickness_mm - SAME_LENGTH_MM and book.structure != "exposed-spine-wrap":
        yield Remark.of(
            "spine-narrow", book=book.name, spine_exact_mm=spine_mm, thickness_exact_mm=figures.thickness_mm
        )
    half_circle_mm = math.pi / 2 * figures.thickness_mm
    if is_round and spine_mm > half_circle_mm + SAME_LENGTH_MM:
        yield Remark.of("spine-over-half-circle", book=book.name, spine_exact_mm=spine_mm, most_exact_mm=half_circle_mm)


def _closing_notes(book: Book, figures: Measures) -> Iterator[Remark]:
    """Whether the cloth is long enough, where it goes round the edges of boards, for the cover to close on its block.

    A board folded up beside the spine lies a thickness further in than the cloth (arithmetic). Over an open spine the
    cloth passes block and both boards; only a negative allowance or a spine measured less makes it shorter.
    """
    board_mm = figures.board_thickness_mm
    if book.structure in CASES and figures.joint_mm < board_mm - SAME_LENGTH_MM:
        yield Remark.of(
            "joint-below-board", book=book.name, joint_exact_mm=figures.joint_mm, thickness_exact_mm=board_mm
        )
    thick_mm = figures.thickness_mm + 2 * board_mm
    if book.structure == "exposed-spine-wrap" and figures.over_spine_mm < thick_mm - SAME_LENGTH_MM:
        yield Remark.of(
            "wrap-round-boards", book=book.name, spine_exact_mm=figures.over_spine_mm, thickness_exact_mm=thick_mm
        )


def _pastedown_notes(book: Book, figures: Measures) -> Iterator[Remark]:
    """Endpapers, or the panels of an accordion, that line the boards and do not reach a raw edge; said of the worst."""
    lines_boards = book.structure == "accordion" or (book.structure in CASES and has_endpapers(book))
    at_fore_edge_mm = figures.fore_edge_square_mm
    if not lines_boards or book.liners != "none" or at_fore_edge_mm is None:
        return
    stays_back_mm = {"head": figures.square_mm, "tail": figures.tail_square_mm}
    taken_mm = figures.board_thickness_mm + rule("raw edge", book.structure).figure()
    short = [
        (taken_mm + stays_back_mm.get(edge, at_fore_edge_mm) - turn_in_mm(book.turn_ins, edge), edge)
        for edge in turned_edges(book.structure)
    ]
    short_mm, edge = max(short)
    if short_mm > SAME_LENGTH_MM:
        least_mm = turn_in_mm(book.turn_ins, edge) + short_mm
        yield Remark.of("pastedown-short", book=book.name, edge=edge, least_exact_mm=least_mm)
