"""Liners: their size on a board, the spine edge of those in a case, and what they say of themselves."""

from dataclasses import replace

from coverlayout.book.book import Book, Source, TurnIns, Volume
from coverlayout.book.lining.liners import liner_size_mm, liners_of, spine_inset_mm

BOOK = Book("book-1", "Ledger", page_mm=(100.0, 150.0), liner_inset_mm=4.0, volumes=(Volume(4, 12.0),))


def test_a_liner_is_inset_on_all_sides_and_in_a_case_flush_at_the_joint() -> None:
    assert liner_size_mm(BOOK, (100.0, 150.0)) == (92.0, 142.0)
    for structure in ("flat-case", "rounded-case", "quarter-case", "half-case"):
        case = replace(BOOK, structure=structure)
        assert liner_size_mm(case, (100.0, 150.0)) == (96.0, 142.0)
        assert spine_inset_mm(case) == 0.0
    assert spine_inset_mm(replace(BOOK, structure="exposed-spine-wrap")) == 4.0


def test_only_liners_of_cloth_are_pieces() -> None:
    for liners in ("paper", "none"):
        book = replace(BOOK, liners=liners)
        assert liners_of(book, BOOK.volumes[0], from_middle_mm=8.0) == ()


def test_liners_carry_name_turns_source_and_signs() -> None:
    book = replace(BOOK, liner_turns="quarter", liner_source=Source("print-2"), turn_ins=TurnIns(9.0, 10.0, 11.0, 12.0))
    front, back = liners_of(book, book.volumes[0], from_middle_mm=8.0)
    assert (front.id, back.id, front.name, front.kind) == ("liner-front-4", "liner-back-4", "front liner", "liner")
    assert (front.turns, front.source, front.volume, front.book_id) == ("quarter", Source("print-2"), 4, "book-1")
    assert front.anchor_mm == (46.0, 71.0)
    spine = {mark.kind: mark.points_mm for mark in front.marks}["spine edge"]
    # From its print side, inside the front of a book that opens left, the spine lies at the right.
    assert spine == ((92.0, 0.0), (92.0, 142.0))
    assert {mark.kind: mark.points_mm for mark in back.marks}["spine edge"] == ((0.0, 0.0), (0.0, 142.0))


def test_liners_lie_on_the_book_behind_their_boards() -> None:
    front, back = liners_of(BOOK, BOOK.volumes[0], from_middle_mm=8.0)
    # The board runs from 8 to 108; the liner from 12 to 104, its own left edge at the fore-edge.
    assert front.faces[0].piece_to_book.at((0.0, 0.0)) == (104.0, 4.0)
    assert front.faces[0].piece_to_book.at((92.0, 142.0)) == (12.0, 146.0)
    assert back.faces[0].piece_to_book.at((0.0, 0.0)) == (-12.0, 4.0)
    assert back.faces[0].piece_to_book.at((92.0, 142.0)) == (-104.0, 146.0)
    case = replace(BOOK, structure="flat-case")
    front, _ = liners_of(case, Volume(4, 12.0), from_middle_mm=8.0)
    # Boards of 96.5 by the rule for a case: from 8 to 104.5; the liner from 8 to 100.5.
    assert front.faces[0].piece_to_book.at((92.5, 0.0)) == (8.0, 4.0)
    assert front.faces[0].piece_to_book.at((0.0, 0.0)) == (100.5, 4.0)
