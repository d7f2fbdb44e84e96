"""The range of every figure of a book, from the table of rules; outside of it a figure cannot be used at all."""

from __future__ import annotations

from collections.abc import Iterator

from coverlayout.book.book import Book
from coverlayout.book.rules.belonging import RULED, belongs, rule_of, spine_piece_of
from coverlayout.book.rules.table import Rule, rule
from coverlayout.book.turn_ins import turn_in_mm, turned_edges
from coverlayout.units import Least, check_length

__all__ = ["check_ranges", "given_figures"]

# Figures that follow no rule while they are not given, and the row that bounds them all the same.
_BOUNDED = {
    "board_thickness_mm": "board thickness",
    "tail_square_mm": "square",
    "liner_inset_mm": "liner inset",
    "fore_edge_flap_mm": "fore-edge flap",
    "turned_in_flap_mm": "turned-in flap",
}
_WORDS = {"tail_square_mm": "square at the tail"}
_MEASURED: dict[str, tuple[str, Least]] = {
    "spine_width_mm": ("spine width", "above 0"),
    "spine_rise_mm": ("rise of the spine", "0"),
}


def given_figures(book: Book) -> Iterator[tuple[str, float, Rule]]:
    """Every figure that the maker gave and that counts for this structure: its name, the figure in mm, its rule.

    >>> [(name, figure) for name, figure, _ in given_figures(Book("b", "Ledger", square_mm=4.0))][:2]
    [('square', 4.0), ('board thickness', 2.0)]
    """
    for field, name in (*RULED.items(), *_BOUNDED.items()):
        figure_mm = getattr(book, field)
        if figure_mm is not None and belongs(field, book.structure):
            yield _WORDS.get(field, name), figure_mm, _row(book, field, name)
    for edge in turned_edges(book.structure):
        yield f"turn-in at the {edge}", turn_in_mm(book.turn_ins, edge), rule("turn-in", book.structure)


def _row(book: Book, field: str, name: str) -> Rule:
    """The row that bounds a figure; a half case's strip follows a share of the board, but is given as a length.

    Board that is folded along a score has a thickness of its own.
    """
    if field == "board_thickness_mm" and book.structure == "slipcase" and book.slipcase_of == "one scored board":
        name = "scored board"
    if field not in RULED:
        return rule(name, book.structure, spine_piece_of(book))
    return rule(name, "quarter-case") if field == "spine_on_board_mm" else rule_of(book, field)


def check_ranges(book: Book) -> None:
    """Nothing, or BadInput naming the book, the figure and the range that is accepted.

    A figure that the structure does not have only has to be a length.
    """
    for name, figure_mm, row in given_figures(book):
        row.check(figure_mm, where=f"{book.name}: {name}")
    for field, (name, least) in _MEASURED.items():
        figure_mm = getattr(book, field)
        if figure_mm is not None and belongs(field, book.structure):
            check_length(figure_mm, where=f"{book.name}: {name}", like="13.5mm", least=least)
    for field in (*RULED, *_BOUNDED, *_MEASURED):
        figure_mm = getattr(book, field)
        if figure_mm is not None:
            words = field.removesuffix("_mm").replace("_", " ")
            check_length(figure_mm, where=f"{book.name}: {words}", like="3mm", least=_least(field))


def _least(field: str) -> Least:
    return "any" if field == "spine_allowance_mm" else "0"
