"""Labels on the front board: sizes, places on books of both openings and of every structure that has one, marks."""

import math
from dataclasses import replace

import pytest

from coverlayout.book.book import Book, Label, Liner, Source, Structure, TurnIns, Volume
from coverlayout.book.checks import check_book
from coverlayout.book.lining.label import check_label, label_box_mm, label_notes, label_pieces, with_label_marks
from coverlayout.book.materials.plan import plan
from coverlayout.book.pieces import Piece
from coverlayout.book.structures import pieces
from coverlayout.errors import BadInput
from coverlayout.geometry.shapes import Box, bounds

# On a board of 100 x 150 mm: 40 x 25, 12 from the spine edge, 30 from the head.
TITLE = Label(40.0, 25.0, "window", from_head_mm=30.0, from_spine_mm=12.0, margin_mm=6.0)
BOOK = Book(
    "b",
    "Ledger",
    board_mm=(100.0, 150.0),
    turn_ins=TurnIns(head_mm=14.0, tail_mm=17.0, spine_mm=8.0, fore_edge_mm=20.0),
    label=TITLE,
    volumes=(Volume(3, 10.0),),
)


def label_of(book: Book) -> Piece:
    (piece,) = label_pieces(book, book.volumes[0])
    return piece


def on_book(piece: Piece) -> Box:
    (face,) = piece.faces
    return bounds(face.piece_to_book.ring(face.outline_mm))


def windows(piece: Piece) -> list[Box]:
    by = piece.faces[0].piece_to_book
    return [bounds(by.ring(mark.points_mm)) for mark in piece.marks if mark.kind == "window"]


def test_what_lies_behind_a_window_is_larger_by_its_margin() -> None:
    label = label_of(BOOK)
    assert (label.id, label.name, label.kind) == ("label-3", "label", "label")
    assert (label.width_mm, label.height_mm) == (52.0, 37.0)
    assert label.seen_mm == Box(6.0, 6.0, 40.0, 25.0).ring()
    assert label.anchor_mm == (26.0, 18.5)
    assert [mark.kind for mark in label.marks] == ["window", "head"]


@pytest.mark.parametrize(
    ("given", "width"),
    [
        # The rule for what lies behind a window; none for what is let in or lies on top.
        ({"kind": "window", "margin_mm": None}, 50.0),
        ({"kind": "inset", "margin_mm": None}, 40.0),
        ({"kind": "on top", "margin_mm": None}, 40.0),
        ({"kind": "on top", "margin_mm": 4.0}, 48.0),
        ({"kind": "window", "margin_mm": 0.0}, 40.0),
    ],
)
def test_margins_by_kind(given: dict[str, object], width: float) -> None:
    label = label_of(replace(BOOK, label=replace(TITLE, **given)))  # type: ignore[arg-type]  # fields by name
    assert label.width_mm == width
    assert (label.seen_mm is None) == (width == 40.0)


# From the middle of the spine: half of 10 mm of block and a board of 2 mm is 7; a gap of 10 for the wrap is 5.
@pytest.mark.parametrize(
    ("structure", "spine_edge"),
    [
        ("separate-boards", 7.0),
        ("accordion", 7.0),
        ("exposed-spine-wrap", 5.0),
        # Block and two boards less half a millimetre, and joints of 10 mm: 13.5 + 20.
        ("flat-case", 16.75),
        ("quarter-case", 16.75),
        # The hinge of 15 mm and its joint of 4 come before the board.
        ("side-sewn", 7.0 + 19.0),
    ],
)
@pytest.mark.parametrize("opens", ["left", "right"])
def test_where_the_label_lies(structure: Structure, spine_edge: float, opens: str) -> None:
    book = replace(BOOK, structure=structure, opens=opens)  # type: ignore[arg-type]  # one of its two words
    left = spine_edge + 12 if opens == "left" else -(spine_edge + 12 + 40)
    assert on_book(label_of(book)) == Box(left, 30.0, 40.0, 25.0)
    box = label_box_mm(book, book.volumes[0])
    board_width = 81.0 if structure == "side-sewn" else 100.0
    assert box == Box(12.0 if opens == "left" else board_width - 52, 30.0, 40.0, 25.0)


@pytest.mark.parametrize("opens", ["left", "right"])
@pytest.mark.parametrize(
    ("kind", "words"), [("window", "the window in"), ("inset", "the recess in"), ("on top", "the label comes")]
)
def test_the_bench_is_told_where_it_lies_from_head_and_spine_edge(kind: str, words: str, opens: str) -> None:
    """Whichever way the book opens, since the spine edge goes with it; the same of cloth and of paper."""
    label = replace(TITLE, kind=kind, material="paper")  # type: ignore[arg-type]  # one of its three words
    book = replace(BOOK, opens=opens, label=label)  # type: ignore[arg-type]  # one of its two words
    (told,) = label_notes(book, book.volumes[0])
    assert words in told.text()
    figures = dict(told.figures)
    assert (figures["head_mm"], figures["spine_mm"]) == (30.0, 12.0)
    assert (figures["width_mm"], figures["height_mm"]) == (40.0, 25.0)
    assert told in plan(book).notes
    assert label_notes(replace(book, label=None), book.volumes[0]) == ()


HALF = Book("b", "Ledger", "half-case", block_mm=(148.0, 210.0, 10.0), spine_on_board_mm=57.0, corner_leg_mm=50.0)
LOW = Label(60.0, 40.0, "window", from_head_mm=100.0)


@pytest.mark.parametrize("opens", ["left", "right"])
@pytest.mark.parametrize(("kind", "word"), [("window", "window"), ("inset", "recess")])
def test_a_window_across_the_edge_of_the_spines_cloth_is_said_with_both_figures(
    kind: str, word: str, opens: str
) -> None:
    """In the middle of a board of 144.5, 60 wide: from 42.25 to 102.25; the spine's cloth ends at 57, sides lap 3."""
    label = replace(LOW, kind=kind)  # type: ignore[arg-type]  # two of its words
    book = replace(HALF, label=label, opens=opens)  # type: ignore[arg-type]  # one of its two words
    for structure in ("quarter-case", "half-case"):
        (_, across) = label_notes(replace(book, structure=structure), Volume(1))
        assert f"the {word} lies from 42.25 mm to 102.25 mm from the spine edge" in across.text()
        assert "the side begins at 54 mm and the spine's cloth ends at 57 mm" in across.text()


@pytest.mark.parametrize(
    ("from_spine_mm", "width_mm", "is_across"),
    [(57.0, 60.0, False), (56.9, 60.0, True), (0.0, 60.0, True), (14.0, 40.0, False), (14.1, 40.0, True)],
)
def test_beside_the_edge_of_the_spines_cloth_nothing_is_said(
    from_spine_mm: float, width_mm: float, is_across: bool
) -> None:
    """It lies clear from 57 on (the cloth's end), and up to 54 (where the side begins)."""
    label = replace(LOW, from_spine_mm=from_spine_mm, width_mm=width_mm)
    codes = [note.code for note in label_notes(replace(HALF, label=label), Volume(1))]
    assert ("label-across-spine" in codes) == is_across


@pytest.mark.parametrize(
    ("end", "head_mm", "fore_edge_mm", "is_across"),
    [
        # A window of 20 x 10 that begins 10 below the head: 10 and 39 make 49, within a leg of 50; 10 and 40 do not.
        ("head", 10.0, 39.0, True),
        ("head", 10.0, 40.0, False),
        # The same at the tail of a board 216 high: 196 + 10 leaves 10.
        ("tail", 196.0, 39.0, True),
        ("tail", 196.0, 40.0, False),
        # Wholly on the corner: its far point is 5 + 5 + 20 + 10 = 40 away, the side begins at 50 - 3 sqrt2 = 45.76.
        ("head", 5.0, 5.0, False),
        ("head", 8.0, 8.0, True),
    ],
)
def test_a_window_across_the_edge_of_a_corner_is_said(
    end: str, head_mm: float, fore_edge_mm: float, is_across: bool
) -> None:
    label = Label(20.0, 10.0, "window", from_head_mm=head_mm, from_spine_mm=144.5 - 20 - fore_edge_mm)
    _, *across = label_notes(replace(HALF, label=label), Volume(1))
    assert [note.code for note in across] == (["label-across-corner"] if is_across else [])
    for note in across:
        from_end_mm = 10.0 if end == "tail" else head_mm
        figures = dict(note.figures)
        assert (figures["end"], figures["end_exact_mm"], figures["leg_exact_mm"]) == (end, from_end_mm, 50.0)
        assert figures["side_exact_mm"] == pytest.approx(fore_edge_mm)
        assert "the slanting edge of a corner of 50 mm lies across it" in note.text()


def test_a_label_on_top_may_lie_across_an_edge() -> None:
    on_top = replace(HALF, label=replace(LOW, kind="on top"))
    assert [note.code for note in label_notes(on_top, Volume(1))] == ["label-place"]


def test_in_the_middle_where_no_place_is_given() -> None:
    centred = replace(BOOK, label=replace(TITLE, from_head_mm=None, from_spine_mm=None))
    assert on_book(label_of(centred)) == Box(7 + 30.0, 62.5, 40.0, 25.0)
    assert label_box_mm(centred, centred.volumes[0]) == Box(30.0, 62.5, 40.0, 25.0)


@pytest.mark.parametrize("opens", ["left", "right"])
@pytest.mark.parametrize("structure", ["separate-boards", "exposed-spine-wrap", "flat-case", "side-sewn"])
def test_the_window_is_marked_on_the_cover_of_the_front_and_nowhere_else(structure: Structure, opens: str) -> None:
    made = pieces(replace(BOOK, structure=structure, opens=opens))  # type: ignore[arg-type]  # one of its two words
    (label,) = [piece for piece in made if piece.kind == "label"]
    marked = [piece for piece in made if windows(piece) and piece.kind != "label"]
    assert [piece.id for piece in marked] == ["cover-3" if structure.endswith(("wrap", "case")) else "front-3"]
    (found,) = windows(marked[0])
    assert (found.left_mm, found.top_mm) == pytest.approx((on_book(label).left_mm, 30.0))
    assert (found.width_mm, found.height_mm) == pytest.approx((40.0, 25.0))


def test_a_window_over_two_pieces_is_marked_on_both() -> None:
    """On a quarter case with 30 mm of spine cloth: 18 mm of the window on it, the rest and a lap of 3 on the side."""
    book = replace(BOOK, structure="quarter-case", spine_on_board_mm=30.0)
    made = {piece.id: piece for piece in pieces(book)}
    (strip,) = windows(made["spine-3"])
    (side,) = windows(made["side-front-3"])
    assert (strip.left_mm, strip.right_mm) == pytest.approx((28.75, 46.75))
    assert (side.left_mm, side.right_mm) == pytest.approx((43.75, 68.75))
    assert windows(made["side-back-3"]) == []


def test_what_is_let_in_is_marked_and_what_lies_on_top_is_not() -> None:
    let_in, on_top = (replace(BOOK, label=replace(TITLE, kind=kind)) for kind in ("inset", "on top"))  # type: ignore[arg-type]  # two of its words
    assert [piece.id for piece in pieces(let_in) if windows(piece)] == ["front-3", "label-3"]
    assert [piece.id for piece in pieces(on_top) if windows(piece)] == ["label-3"]


def test_a_label_of_paper_is_no_piece_and_its_window_is_marked_all_the_same() -> None:
    paper = replace(BOOK, label=replace(TITLE, material="paper"))
    assert label_pieces(paper, paper.volumes[0]) == ()
    assert [piece.id for piece in pieces(paper) if windows(piece)] == ["front-3"]
    assert label_box_mm(paper, paper.volumes[0]) is not None


@pytest.mark.parametrize("book", [replace(BOOK, label=None), replace(BOOK, structure="limp-wrap", liners="none")])
def test_no_label_and_structures_without_one(book: Book) -> None:
    volume = book.volumes[0]
    assert label_pieces(book, volume) == ()
    assert label_box_mm(book, volume) is None
    check_label(book, volume)
    for piece in pieces(book):
        assert with_label_marks(book, volume, piece) == piece


def test_turns_and_source_are_its_own() -> None:
    label = replace(TITLE, turns="quarter", source=Source("print-9"))
    made = label_of(replace(BOOK, label=label, cover_turns="none", cover_source=Source("print-1")))
    assert (made.turns, made.source) == ("quarter", Source("print-9"))


@pytest.mark.parametrize(
    ("given", "code"),
    [
        ({"width_mm": 0.0}, "length-too-small"),
        ({"height_mm": -3.0}, "length-too-small"),
        ({"from_head_mm": -1.0}, "length-negative"),
        ({"margin_mm": -1.0}, "figure-range"),
        ({"margin_mm": 101.0}, "figure-range"),
        ({"margin_mm": math.nan}, "length-unreadable"),
        ({"from_spine_mm": 60.5, "kind": "on top"}, "label-outside"),
        ({"from_head_mm": 125.5, "kind": "inset"}, "label-outside"),
        ({"width_mm": 101.0, "from_spine_mm": None, "kind": "on top"}, "label-outside"),
        # The margin behind a window is glued to the board too.
        ({"from_spine_mm": 5.0}, "label-outside"),
        ({"from_head_mm": 120.0}, "label-outside"),
    ],
)
def test_what_cannot_be(given: dict[str, object], code: str) -> None:
    book = replace(BOOK, label=replace(TITLE, **given))  # type: ignore[arg-type]  # fields by name
    with pytest.raises(BadInput) as caught:
        check_book(book)
    assert caught.value.code == code
    assert str(caught.value)


@pytest.mark.parametrize(
    "given",
    [
        {"from_spine_mm": 60.0, "kind": "on top"},
        {"from_head_mm": 125.0, "kind": "inset"},
        {"from_spine_mm": 6.0, "from_head_mm": 6.0},
    ],
)
def test_up_to_the_edge_of_the_board_it_can_be(given: dict[str, object]) -> None:
    check_book(replace(BOOK, label=replace(TITLE, **given)))  # type: ignore[arg-type]  # fields by name


@pytest.mark.parametrize("liners", ["cloth", "paper", "none"])
def test_the_label_comes_last_among_the_pieces_of_its_volume(liners: Liner) -> None:
    made = pieces(replace(BOOK, liners=liners, volumes=(Volume(1), Volume(2))))
    assert [piece.id for piece in made if piece.kind == "label"] == ["label-1", "label-2"]
    assert made[-1].id == "label-2"
