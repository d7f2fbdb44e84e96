"""The values of a book."""

from coverlayout.book.book import Book, TurnIns, Volume


def test_one_turn_in_counts_for_all_four_edges() -> None:
    assert TurnIns.all_round(12.0) == TurnIns(12.0, 12.0, 12.0, 12.0)


def test_a_new_book_has_the_usual_figures() -> None:
    book = Book("book-1", "Ledger")
    assert (book.board_thickness_mm, book.turn_ins, book.liner_inset_mm) == (2.0, TurnIns.all_round(15.0), 3.0)
    assert (book.square_mm, book.liners, book.opens, book.volumes) == (None, "cloth", "left", (Volume(1),))
