"""Liners that may turn or are of paper: which books change, what is kept for cut and pinned pieces."""

from __future__ import annotations

from dataclasses import replace

from coverlayout.book.book import Book, PartOfBook, Volume
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.changing.liners import (
    liners_turned,
    with_liners_turned,
    with_paper_liners,
    with_paper_sides,
)
from coverlayout.document.project import CutPiece, Layout, LinkWish, LockWish, Project
from coverlayout.document.questions import planned_pieces, turns_of
from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.question import Placed
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print

CLOTH = Cloth("cloth-1", "Swatch", 500.0, 400.0)
UPRIGHT = Book("book-1", "Ledger", page_mm=(114.3, 152.4), cover_turns="none", liner_turns="none")
OTHER = replace(UPRIGHT, id="book-2", name="Diary", volumes=(Volume(2),))
PROJECT = Project(cloths=(CLOTH,), books=(UPRIGHT, OTHER))


def turns(project: Project) -> dict[str, str]:
    return {piece.id: turns_of(project, piece) for piece in planned_pieces(project)}


def cut(piece: str) -> CutPiece:
    return CutPiece(piece, piece, "cut", rectangle(108.3, 146.4), (54.15, 73.2), Placed(piece, "cloth-1", 60.0, 80.0))


def test_liners_may_turn_and_covers_stay_as_they_are() -> None:
    turned = with_liners_turned(PROJECT)
    assert turned is not None
    allowed = turns(turned)
    assert {name for name, turn in allowed.items() if turn == "none"} == {"front-1", "back-1", "front-2", "back-2"}
    assert {turn for name, turn in allowed.items() if name.startswith("liner-")} == {"quarter"}
    assert len(allowed) == 8


def test_only_the_liners_of_the_books_named_may_turn() -> None:
    turned = with_liners_turned(PROJECT, ["book-2"])
    assert turned is not None
    assert turned.books[0] == UPRIGHT
    assert turned.books[1].liner_turns == "quarter"


def test_liners_that_turn_already_gain_nothing() -> None:
    for books in (
        (replace(UPRIGHT, liner_turns="quarter"), replace(OTHER, liner_turns="free")),
        (replace(UPRIGHT, liners="none"), replace(OTHER, liners="paper")),
        (),
    ):
        assert with_liners_turned(replace(PROJECT, books=books)) is None


def test_a_liner_that_follows_a_one_way_print_gains() -> None:
    birds = Print("birds", "birds", Lattice((50.0, 13.0), (-17.0, 81.0)))
    on_print = Project(
        prints=(birds,), cloths=(replace(CLOTH, laid=LaidPrint("birds")),), books=(replace(UPRIGHT, liner_turns=None),)
    )
    turned = with_liners_turned(on_print)
    assert turned is not None
    assert turns(turned)["liner-back-1"] == "quarter"
    any_way = replace(on_print, prints=(replace(birds, up="any"),))
    assert with_liners_turned(any_way) is None


def test_of_listed_parts_those_smaller_than_the_board_are_liners() -> None:
    parts = (PartOfBook("cover", 2, 15.0, "none"), PartOfBook("lining", 2, -3.0, "half"))
    parts = (*parts, PartOfBook("loose", 1, -5.0, "free"), PartOfBook("strip", 1, -2.0, "none", width_mm=20.0))
    book = Book("book-1", "Set", "parts", board_mm=(100.0, 150.0), parts=parts)
    turned = with_liners_turned(replace(PROJECT, books=(book,)))
    assert turned is not None
    assert [part.turns for part in turned.books[0].parts] == ["none", "quarter", "free", "none"]


def test_the_liners_that_lie_turned_are_named() -> None:
    places = (
        Placed("front-1", "cloth-1", 100.0, 100.0),
        Placed("liner-front-1", "cloth-1", 300.0, 60.0, 90.0),
        Placed("liner-back-1", "cloth-1", 300.0, 250.0),
        Placed("liner-back-2", "cloth-1", 420.0, 300.0, 270.0),
    )
    assert liners_turned(PROJECT, places) == ("liner-front-1", "liner-back-2")


def test_paper_liners_are_not_cut_from_cloth() -> None:
    wished = replace(
        PROJECT,
        locks=(LockWish("wish-1", "liner-front-1", (0.0, 0.0)), LockWish("wish-2", "front-1", (0.0, 0.0))),
        links=(LinkWish("wish-3", ("liner-front-1", "liner-back-1")),),
        layouts=(Layout("layout-1", "Layout 1", (Placed("liner-back-1", "cloth-1", 90.0, 90.0),)),),
    )
    papered = with_paper_liners(wished)
    assert papered is not None
    assert [piece.id for piece in planned_pieces(papered)] == ["front-1", "back-1", "front-2", "back-2"]
    assert [wish.id for wish in papered.wishes] == ["wish-2"], "wishes on liners go with them"
    assert papered.layout.placements == ()


def test_a_book_with_a_liner_cut_or_pinned_keeps_its_cloth_liners() -> None:
    begun = replace(PROJECT, cut_pieces=(cut("liner-front-1"),))
    papered = with_paper_liners(begun)
    assert papered is not None
    assert [book.liners for book in papered.books] == ["cloth", "paper"]
    lying = Placed("liner-back-2", "cloth-1", 300.0, 200.0)
    pinned = replace(PROJECT, layouts=(Layout("layout-1", "Layout 1", (lying,), ("liner-back-2",)),))
    papered = with_paper_liners(pinned)
    assert papered is not None
    assert [book.liners for book in papered.books] == ["paper", "cloth"]
    assert papered.layout.pinned == ("liner-back-2",)


def test_nothing_to_line_with_paper() -> None:
    listed = Book("book-1", "Set", "parts", board_mm=(100.0, 150.0), parts=(PartOfBook("lining", 2, -3.0, "none"),))
    for books in ((replace(UPRIGHT, liners="paper"), replace(OTHER, liners="none")), (listed,), ()):
        assert with_paper_liners(replace(PROJECT, books=books)) is None


def test_sides_and_walls_of_paper_are_cut_from_no_cloth() -> None:
    quarter = replace(UPRIGHT, structure="quarter-case", volumes=(Volume(1, 12.0),))
    case = Book("book-2", "Case", "slipcase", block_mm=(120.0, 160.0, 22.0), volumes=(Volume(2),))
    wish = LinkWish("wish-1", ("side-front-1", "side-back-1"))
    project = replace(PROJECT, books=(quarter, case), links=(wish,))
    papered = with_paper_sides(project)
    assert papered is not None
    assert [piece.id for piece in planned_pieces(papered)] == ["spine-1", "liner-front-1", "liner-back-1", "wrap-2"]
    assert papered.links == ()
    begun = with_paper_sides(replace(project, cut_pieces=(cut("side-back-1"),)))
    assert begun is not None
    assert [book.sides for book in begun.books] == ["cloth", "paper"], "of a pair that is begun both are of cloth"
    assert with_paper_sides(PROJECT) is None
    assert with_paper_sides(papered) is None
