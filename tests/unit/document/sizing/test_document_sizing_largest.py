"""The largest board on a project: shapes kept, what stays as it is, rounding, doubt, bad input."""

from __future__ import annotations

import pickle
from dataclasses import replace

import pytest

from coverlayout.book.book import Book, OwnPiece, PartOfBook, Volume
from coverlayout.cloth.cloth import Cloth, Flaw
from coverlayout.document.project import LinkWish, Project
from coverlayout.document.questions import question_for
from coverlayout.document.sizing.largest import LargestAsked, largest_board
from coverlayout.errors import BadInput
from coverlayout.layout.rules import Judge
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print

# Two covers, 15 mm larger all round, upright; a fixed strip beside them.
PARTS = Book(
    "book-1",
    "Set",
    "parts",
    board_mm=(60.0, 90.0),
    parts=(PartOfBook("cover", 2, 15.0, "none"), PartOfBook("strip", 1, 5.0, "none", width_mm=40.0)),
)
LEDGER = Book("book-1", "Ledger", page_mm=(60.0, 90.0), cover_turns="none", liners="none")
CLOTH = Cloth("cloth-1", "Cloth", 307.0, 250.0)


def project(**more: object) -> Project:
    return replace(Project(cloths=(CLOTH,), books=(PARTS,)), **more)  # type: ignore[arg-type] # fields by name


def test_the_same_shape() -> None:
    found = largest_board(LargestAsked(project()))
    # Side by side 2 (w + 30) + 40 <= 307 gives 103.5; the height 1.5 w + 30 = 185.25 has room.
    assert found.board_mm == (103.5, 155.25)
    assert found.proved
    assert found.bound_mm is not None
    assert 103.5 < found.bound_mm <= 103.6
    assert Judge(question_for(found.project)).report(found.answer.placed).breaches == ()
    assert found.project.books[0].board_mm == found.board_mm
    assert pickle.loads(pickle.dumps(found)) == found


def test_the_boards_of_a_case_under_one_cloth() -> None:
    case = Book("book-1", "Ledger", "flat-case", block_mm=(60.0, 90.0, 20.0), cover_turns="none", liners="none")
    found = largest_board(LargestAsked(project(books=(case,))))
    # Boards 56.5 x 96; round a spine of 20 + 4 - 0.5 and joints of 10: 2 w + 43.5 + 30 <= 307, 96 / 56.5 w + 30 <= 250.
    assert found.board_mm == (116.75, 198.371)
    assert found.proved
    # The board's setback of 3.5 and squares of 3: the page is that much wider and lower, the block as thick as before.
    assert found.project.books[0].block_mm == pytest.approx((120.25, 192.371, 20.0))


def test_the_height_kept() -> None:
    found = largest_board(LargestAsked(project(), "height"))
    # Below each other 2 (90 + 30) = 240 <= 250: the strip, 100 high, still lies beside: w + 30 + 40 <= 307.
    assert found.board_mm == (237.0, 90.0)


def test_the_width_kept_bounds_the_height() -> None:
    found = largest_board(LargestAsked(project(), "width"))
    # All three side by side: h + 30 <= 250.
    assert found.board_mm == (60.0, 220.0)
    assert found.bound_mm is not None
    assert 220.0 < found.bound_mm <= 220.1


def test_sides_are_rounded_down_to_a_thousandth() -> None:
    thirds = replace(CLOTH, width_mm=60.0 + 2 * 200.0 / 3)
    found = largest_board(LargestAsked(project(books=(LEDGER,), cloths=(thirds,))))
    # Side by side 2 (w + 30) <= 193.333 gives 66.666..., so the height is 100 or a hair less.
    assert found.board_mm in ((66.666, 100.0), (66.666, 99.999))


def test_a_proportion_is_enough() -> None:
    book = replace(PARTS, board_mm=None, board_ratio=(2.0, 3.0))
    assert largest_board(LargestAsked(project(books=(book,)))).board_mm == (103.5, 155.25)


def test_a_book_with_pages_and_all_its_copies() -> None:
    one = largest_board(LargestAsked(project(books=(LEDGER,))))
    # Side by side 2 (w + 30) <= 307.
    assert one.board_mm == (123.5, 185.25)
    two = largest_board(LargestAsked(project(books=(replace(LEDGER, volumes=(Volume(1), Volume(2))),))))
    # Two rows of two: 2 (1.5 w + 30) <= 250 gives 63.333.
    assert two.board_mm is not None
    assert two.board_mm[0] == pytest.approx(63.333)


def test_one_of_several_books_grows_and_own_pieces_stay() -> None:
    label = OwnPiece("own-1", "label", 300.0, 20.0, turns="none")
    small = replace(PARTS, id="book-2", name="Small", board_mm=(10.0, 10.0), parts=PARTS.parts[:1])
    both = project(books=(LEDGER, small), own_pieces=(label,))
    found = largest_board(LargestAsked(both, book="ledger"))
    assert found.board_mm is not None
    assert found.project.books[1] == small
    assert {"label-1", "cover-1-1"} <= {one.piece for one in found.answer.placed}
    with pytest.raises(BadInput, match="Ledger, Small"):
        largest_board(LargestAsked(both))
    with pytest.raises(BadInput, match="--book Thick"):
        largest_board(LargestAsked(both, book="Thick"))


def test_a_flaw_is_in_the_way() -> None:
    crease = Flaw("flaw-1", "crease", ((0.0, 160.0), (307.0, 160.0), (307.0, 164.0), (0.0, 164.0)))
    found = largest_board(LargestAsked(project(cloths=(replace(CLOTH, flaws=(crease,)),))))
    # Above the crease 1.5 w + 30 <= 160.
    assert found.board_mm is not None
    assert found.board_mm[0] == pytest.approx(86.666)


def test_not_even_the_smallest_board_fits() -> None:
    found = largest_board(LargestAsked(project(cloths=(replace(CLOTH, width_mm=39.0),))))
    assert (found.board_mm, found.proved, found.answer.verdict) == (None, True, "does not fit")
    assert found.project == project(cloths=(replace(CLOTH, width_mm=39.0),))


def test_the_doubt_about_the_cloth_is_told_with_what_is_sure() -> None:
    bought = replace(CLOTH, state="to-buy")
    found = largest_board(LargestAsked(project(cloths=(bought,))))
    assert found.board_mm == (103.5, 155.25)
    (note,) = found.notes
    # 307 less 1 % is 303.93: (303.93 - 100) / 2 = 101.965.
    assert note.code == "largest-in-doubt"
    assert dict(note.figures)["board_width_mm"] == pytest.approx(101.965, abs=0.001)
    narrow = replace(CLOTH, width_mm=100.2, state="to-buy")
    lost = largest_board(LargestAsked(project(cloths=(narrow,), books=(LEDGER,))))
    assert lost.board_mm is not None


def test_what_runs_on_is_bounded_by_no_proof() -> None:
    a_print = Print("print-1", "Leaves", Lattice((40.0, 0.0), (0.0, 30.0)))
    on = replace(CLOTH, laid=LaidPrint("print-1"))
    link = LinkWish("link-1", ("front-1", "back-1"), ((-64.0, 0.0),))
    found = largest_board(LargestAsked(project(prints=(a_print,), cloths=(on,), books=(LEDGER,), links=(link,))))
    assert (found.proved, found.bound_mm) == (False, None)
    assert [note.code for note in found.notes] == ["largest-run-on"]
    assert Judge(question_for(found.project)).report(found.answer.placed).breaches == ()


@pytest.mark.parametrize(
    ("bad", "said"),
    [
        (Project(books=(PARTS,)), "no cloth"),
        (Project(cloths=(CLOTH,)), "no book"),
        (Project(cloths=(CLOTH,), books=(replace(LEDGER, structure="flat-case"),)), "thickness is needed"),
        (Project(cloths=(CLOTH,), books=(replace(LEDGER, board_thickness_mm=-1.0),)), "thickness"),
    ],
)
def test_bad_input_in_one_sentence(bad: Project, said: str) -> None:
    with pytest.raises(BadInput, match=said):
        largest_board(LargestAsked(bad))
