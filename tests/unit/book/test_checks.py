"""What cannot be made is one sentence that names the book and the figure."""

import math
from dataclasses import replace

import pytest

from coverlayout.book.book import Book, OwnPiece, Paper, PartOfBook, TurnIns, Volume
from coverlayout.book.checks import MOST_COPIES, check_book, check_own_piece
from coverlayout.errors import BadInput

BOOK = Book("book-1", "Ledger", page_mm=(114.3, 152.4))
COVER = PartOfBook("cover", 2, 15.0, "none")
PARTS = Book("book-1", "Set", "parts", board_mm=(100.0, 150.0), parts=(COVER,))
POCKET = OwnPiece("own-1", "pocket", 60.0, 90.0)


def test_good_books_and_pieces_pass() -> None:
    check_book(BOOK)
    check_book(replace(BOOK, page_mm=None, block_mm=(100.0, 150.0, 20.0), liners="none", mitre_distance_mm=1.42))
    check_book(replace(BOOK, volumes=(Volume(1, 12.0), Volume(2))))
    check_book(PARTS)
    check_book(replace(PARTS, board_mm=None, board_ratio=(3.0, 4.0)))
    check_own_piece(POCKET)


@pytest.mark.parametrize(
    ("fields", "code", "named"),
    [
        ({"page_mm": (0.0, 150.0)}, "length-too-small", "page width"),
        ({"page_mm": (114.3, -1.0)}, "length-too-small", "page height"),
        ({"page_mm": (math.nan, 150.0)}, "length-unreadable", "page width"),
        ({"page_mm": (math.inf, 150.0)}, "length-unreadable", "page width"),
        ({"page_mm": (1e9, 150.0)}, "length-absurd", "page width"),
        ({"page_mm": None}, "book-one-size", "exactly one"),
        ({"board_mm": (1.0, 1.0)}, "book-one-size", "exactly one"),
        ({"page_mm": None, "board_mm": (100.0, 0.0)}, "length-too-small", "board height"),
        ({"page_mm": None, "block_mm": (9.0, 9.0, 0.0)}, "length-too-small", "block thickness"),
        ({"board_thickness_mm": 0.0}, "figure-range", "board thickness"),
        ({"square_mm": -1.0}, "figure-range", "square"),
        ({"joint_mm": -1.0}, "length-negative", "joint"),
        ({"board_setback_mm": 200.0}, "figure-range", "board setback"),
        ({"page_mm": (90.0, 150.0), "board_setback_mm": 90.0}, "setback-leaves-nothing", "setback"),
        ({"liner_inset_mm": -3.0}, "figure-range", "liner inset"),
        ({"liner_inset_mm": 57.15}, "liner-nothing-left", "inset"),
        ({"turn_ins": TurnIns(head_mm=-1.0)}, "figure-range", "turn-in at the head"),
        ({"turn_ins": TurnIns(fore_edge_mm=math.nan)}, "length-unreadable", "turn-in at the fore-edge"),
        ({"mitre_distance_mm": 0.0}, "mitre-gapes", "1.41 mm or more"),
        ({"mitre_distance_mm": 1.3}, "mitre-gapes", "1.41 mm or more"),
        ({"volumes": ()}, "copies-count", "books 0"),
        ({"volumes": tuple(Volume(k) for k in range(1, MOST_COPIES + 2))}, "copies-count", str(MOST_COPIES)),
        ({"volumes": (Volume(1), Volume(1))}, "volume-number-twice", "same number"),
        ({"volumes": (Volume(2, -5.0),)}, "length-too-small", "thickness of volume 2"),
    ],
)
def test_each_bad_figure_of_a_book_is_named(fields: dict[str, object], code: str, named: str) -> None:
    with pytest.raises(BadInput) as caught:
        check_book(replace(BOOK, **fields))  # type: ignore[arg-type]  # fields by name
    assert caught.value.code == code
    assert str(caught.value).startswith("Ledger")
    assert named in str(caught.value)


# 16 sheets of 9 x 12 in, halved and folded once: pages of 4.5 x 6 in, 114.3 x 152.4 mm.
PAPER = Paper((228.6, 304.8), sheets=16, cut=(2, 1), thickness_mm=0.1)


def test_paper_alone_is_size_enough_and_may_be_said_beside_the_same_page() -> None:
    check_book(replace(BOOK, page_mm=None, paper=PAPER))
    check_book(replace(BOOK, paper=PAPER))
    check_book(replace(BOOK, page_mm=(114.34, 152.36), paper=PAPER))
    check_book(replace(BOOK, page_mm=None, block_mm=(114.3, 152.4, 21.0), paper=PAPER))
    check_book(replace(BOOK, page_mm=None, board_mm=(118.0, 158.0), paper=PAPER))
    check_book(replace(BOOK, page_mm=None, paper=replace(PAPER, sheets=None)))


@pytest.mark.parametrize(
    ("fields", "code"),
    [
        ({"page_mm": (114.4, 152.4)}, "page-not-of-paper"),
        ({"page_mm": None, "block_mm": (114.3, 152.0, 21.0)}, "page-not-of-paper"),
        ({"board_mm": (100.0, 150.0)}, "book-one-size"),
        ({"paper": replace(PAPER, sheets=0)}, "no-sheets"),
        ({"paper": replace(PAPER, sheets=None, pages=0)}, "no-pages"),
        ({"page_mm": None, "structure": "flat-case", "paper": replace(PAPER, thickness_mm=None)},
         "book-thickness-needed"),
        ({"structure": "flat-case"}, "book-thickness-needed"),
        ({"structure": "rounded-case", "spine_rise_mm": 11.0, "volumes": (Volume(1, 20.0),)}, "spine-too-round"),
        ({"structure": "flat-case", "joint_mm": 99.0, "page_mm": (90.0, 150.0), "volumes": (Volume(1, 20.0),)},
         "joint-too-wide"),
    ],
)  # fmt: skip
def test_paper_and_book_that_do_not_go_together_are_refused(fields: dict[str, object], code: str) -> None:
    paper = {"paper": PAPER} if code in ("page-not-of-paper", "book-one-size") else {}
    with pytest.raises(BadInput) as caught:
        check_book(replace(BOOK, **{**paper, **fields}))  # type: ignore[arg-type]  # fields by name
    assert caught.value.code == code


def test_the_page_that_is_not_of_the_paper_is_said_with_both() -> None:
    with pytest.raises(BadInput) as caught:
        check_book(replace(BOOK, page_mm=(120.0, 160.0), paper=PAPER))
    assert str(caught.value) == (
        "Ledger: the page is given as 120 mm x 160 mm, and the paper makes pages of 114.3 mm x 152.4 mm; "
        "leave one of the two out"
    )


def test_every_volume_is_looked_at() -> None:
    volumes = (Volume(1, 20.0), Volume(2))
    with pytest.raises(BadInput, match="thickness is needed"):
        check_book(replace(BOOK, structure="flat-case", volumes=volumes))
    check_book(replace(BOOK, structure="flat-case", volumes=(Volume(1, 20.0), Volume(2, 8.0))))


def test_a_wide_inset_is_no_matter_without_liners() -> None:
    check_book(replace(BOOK, liner_inset_mm=60.0, liners="none"))


@pytest.mark.parametrize(
    ("fields", "code"),
    [
        ({"parts": ()}, "parts-board"),
        ({"board_mm": None}, "parts-board"),
        ({"board_ratio": (3.0, 4.0)}, "parts-board"),
        ({"board_mm": (0.0, 4.0)}, "length-too-small"),
        ({"board_mm": None, "board_ratio": (3.0, -4.0)}, "length-too-small"),
        ({"parts": (replace(COVER, count=0),)}, "copies-count"),
        ({"parts": (replace(COVER, grow_mm=math.inf),)}, "length-unreadable"),
        ({"parts": (replace(COVER, grow_mm=-50.0),)}, "part-nothing-left"),
        ({"parts": (replace(COVER, width_mm=0.0),)}, "length-too-small"),
    ],
)
def test_each_bad_figure_of_a_list_of_parts_is_named(fields: dict[str, object], code: str) -> None:
    with pytest.raises(BadInput) as caught:
        check_book(replace(PARTS, **fields))  # type: ignore[arg-type]  # fields by name
    assert caught.value.code == code
    assert str(caught.value).startswith("Set")


@pytest.mark.parametrize(
    ("fields", "code"),
    [
        ({"name": "  "}, "piece-without-name"),
        ({"count": 0}, "copies-count"),
        ({"count": MOST_COPIES + 1}, "copies-count"),
        ({"width_mm": 0.0}, "length-too-small"),
        ({"height_mm": math.nan}, "length-unreadable"),
        ({"ids": ("a", "b")}, "piece-ids-count"),
        ({"outline_mm": ((0.0, 0.0), (1.0, 1.0))}, "outline-no-area"),
        ({"outline_mm": ((0.0, 0.0), (1e9, 0.0), (0.0, 5.0))}, "length-absurd"),
        ({"seen_mm": ((0.0, 0.0), (9.0, 9.0), (9.0, 0.0), (0.0, 8.0))}, "outline-crosses"),
        ({"reference_mm": (math.nan, 0.0)}, "outline-not-finite"),
    ],
)
def test_each_bad_figure_of_an_own_piece_is_named(fields: dict[str, object], code: str) -> None:
    with pytest.raises(BadInput) as caught:
        check_own_piece(replace(POCKET, **fields))  # type: ignore[arg-type]  # fields by name
    assert caught.value.code == code


def test_a_page_agrees_with_iso_paper_as_closely_as_sheets_are_cut() -> None:
    """A4 folded once is 148.5 mm wide, A5 148: within the 1.5 mm that ISO 216 allows a side of that length."""
    a4 = Paper((210.0, 297.0), "A4", sheets=16)
    check_book(Book("b", "Notes", page_mm=(148.0, 210.0), paper=a4))
    for page_mm in ((146.5, 210.0), (148.0, 213.0)):
        with pytest.raises(BadInput) as told:
            check_book(Book("b", "Notes", page_mm=page_mm, paper=a4))
        assert told.value.code == "page-not-of-paper"
