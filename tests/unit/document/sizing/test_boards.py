"""A book on boards of another size: which side is kept, and what goes with the boards."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coverlayout.book.book import Book, Paper, PartOfBook, Volume
from coverlayout.book.measures import board_size_mm
from coverlayout.book.structures import pieces
from coverlayout.document.project import LinkWish, Project
from coverlayout.document.sizing.boards import Growth, Keep, growth_of, place_on_book, with_board
from coverlayout.errors import BadInput

BOOK = Book("book-1", "Ledger", block_mm=(114.3, 152.4, 20.0), square_mm=3.0, volumes=(Volume(1), Volume(2, 31.0)))
PARTS = Book("book-2", "Set", "parts", board_ratio=(3.0, 4.0), parts=(PartOfBook("cover", 2, 15.0, "none"),))


def sizes(project: Project) -> dict[str, tuple[float, float]]:
    return {
        piece.id: (round(piece.width_mm, 6), round(piece.height_mm, 6))
        for book in project.books
        for piece in pieces(book)
    }


def test_a_book_grows_from_the_board_its_page_makes() -> None:
    growth = growth_of(BOOK)
    # Square 3 at fore-edge, head and tail.
    assert growth.board_mm == pytest.approx((117.3, 158.4))
    assert growth.start_mm == pytest.approx(117.3)
    assert growth.board_at(234.6) == pytest.approx((234.6, 316.8))


@pytest.mark.parametrize(
    ("keep", "board", "start"),
    [("shape", (60.0, 80.0), 90.0), ("height", (60.0, 120.0), 90.0), ("width", (90.0, 60.0), 120.0)],
)
def test_what_is_kept(keep: Keep, board: tuple[float, float], start: float) -> None:
    growth = Growth("b", (90.0, 120.0), keep)
    assert (growth.board_at(60.0), growth.start_mm) == (board, start)


def test_of_a_proportion_no_side_can_be_kept() -> None:
    assert growth_of(PARTS).board_at(120.0) == pytest.approx((120.0, 160.0))
    with pytest.raises(BadInput, match="--keep height"):
        growth_of(PARTS, "height")
    assert growth_of(replace(PARTS, board_ratio=None, board_mm=(90.0, 120.0)), "height").board_at(60.0)[1] == 120.0


def test_turn_ins_and_insets_stay() -> None:
    made = with_board(Project(books=(BOOK,)), "book-1", (100.0, 140.0))
    assert sizes(made)["front-1"] == (130.0, 170.0)
    assert sizes(made)["liner-front-1"] == (94.0, 134.0)


def test_a_block_keeps_its_thickness_and_its_squares() -> None:
    made = with_board(Project(books=(BOOK,)), "book-1", (100.0, 140.0)).books[0]
    # The square of 3 at the fore-edge, at head and at tail is no part of the page.
    assert (made.block_mm, made.page_mm, made.board_mm) == ((97.0, 134.0, 20.0), None, None)
    assert board_size_mm(made) == (100.0, 140.0)
    assert made.volumes == BOOK.volumes


def test_a_board_that_was_given_is_given_again() -> None:
    book = replace(BOOK, block_mm=None, board_mm=(110.0, 150.0))
    made = with_board(Project(books=(book,)), "book-1", (100.0, 140.0)).books[0]
    assert made == replace(book, board_mm=(100.0, 140.0))


def test_a_book_sized_by_its_paper_grows_without_it() -> None:
    """16 sheets of 9 x 12 in, halved and folded: 64 leaves of 0.1 mm and 8 swells of 0.2 mm make 8 mm."""
    paper = Paper((228.6, 304.8), sheets=16, cut=(2, 1), thickness_mm=0.1, swell_mm=0.2)
    book = replace(BOOK, block_mm=None, paper=paper, structure="flat-case", volumes=(Volume(1), Volume(2, 31.0)))
    made = with_board(Project(books=(book,)), "book-1", (100.0, 140.0)).books[0]
    # A case's board is 3.5 narrower than its page, and 3 higher at both ends.
    assert (made.paper, made.page_mm, made.board_mm) == (None, (103.5, 134.0), None)
    assert [volume.thickness_mm for volume in made.volumes] == [pytest.approx(8.0), 31.0]
    # Two boards, a spine of 8 + 4 - 0.5, two joints of 10, two turn-ins of 15.
    assert sizes(Project(books=(made,)))["cover-1"] == (2 * 100 + 11.5 + 20 + 30, 140 + 30)


def test_where_the_width_is_kept_the_cloth_of_a_half_case_is_too() -> None:
    """By the rule it gets narrower with height, and a larger book would not need all that a smaller one needs."""
    half = replace(BOOK, structure="half-case", volumes=(Volume(1, 20.0),))
    width, height = board_size_mm(half)
    project = Project(books=(half,))
    taller = sizes(with_board(project, "book-1", (width, height + 100.0)))
    assert taller["spine-1"] == (sizes(project)["spine-1"][0], sizes(project)["spine-1"][1] + 100.0)
    assert with_board(project, "book-1", (width, height)).books[0] == half
    assert with_board(project, "book-1", (width + 9.0, height)).books[0].spine_on_board_mm is None


def test_parts_get_a_board() -> None:
    made = with_board(Project(books=(PARTS,)), "book-2", (90.0, 120.0))
    assert sizes(made) == {"cover-1-1": (120.0, 150.0), "cover-1-2": (120.0, 150.0)}


def test_what_runs_on_does_so_on_the_new_boards() -> None:
    runs_on = LinkWish("link-1", ("front-1", "back-1"), ((-141.3, 0.0),))
    alike = LinkWish("link-2", ("front-1", "front-2"))
    project = Project(books=(BOOK,), links=(runs_on, alike))
    made = with_board(project, "book-1", (100.0, 140.0))
    # The middles of the boards come nearer by as much as a board is narrower, 17.3, and not up or down.
    (x, y), *_ = made.links[0].differences_mm
    assert (x, y) == pytest.approx((-141.3 + 17.3, 0.0))
    assert made.links[1] == alike


def test_a_link_to_a_piece_without_a_place_on_the_book_stays() -> None:
    link = LinkWish("link-1", ("front-1", "pocket-1"), ((10.0, 0.0),))
    assert with_board(Project(books=(BOOK,), links=(link,)), "book-1", (100.0, 140.0)).links == (link,)


def test_a_place_on_the_book_is_told_by_the_face_that_holds_it() -> None:
    """The scored cloth of a slipcase folds: its flaps lie on head and tail each by its own map."""
    case = Book("book-1", "Case", "slipcase", block_mm=(130.0, 203.0, 22.0))
    wrap, front, back = pieces(case)
    # The middle of the mouth is x = 0; the walls stand half a book's thickness from it.
    (front_x, front_y), (back_x, back_y) = place_on_book(front), place_on_book(back)
    assert front_x == pytest.approx(-back_x)
    assert front_y == back_y
    faces = {face.name: face for face in wrap.faces}
    assert place_on_book(wrap) == faces["closed side"].piece_to_book.at(wrap.anchor_mm)
