"""A half case whose every figure is another, for tests of what lies where on it."""

from coverlayout.book.book import Book, TurnIns, Volume
from coverlayout.book.covering.partly import PartlyCovered
from coverlayout.book.measures import measures

__all__ = ["HALF", "plan"]

# A strip-less spine: the gap is 20 + 2 x 6 = 32 mm. Boards of 100 x 150 mm.
HALF = Book(
    "b",
    "Ledger",
    "half-case",
    board_mm=(100.0, 150.0),
    spine_piece="none",
    joint_mm=6.0,
    spine_on_board_mm=30.0,
    corner_leg_mm=25.0,
    side_lap_mm=4.0,
    turn_ins=TurnIns(head_mm=14.0, tail_mm=17.0, spine_mm=8.0, fore_edge_mm=20.0),
    volumes=(Volume(1, 20.0),),
)


def plan(book: Book) -> PartlyCovered:
    """Where things lie on the first volume of a book."""
    return PartlyCovered(book, measures(book, book.volumes[0]))
