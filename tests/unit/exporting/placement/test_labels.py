"""Words on the pieces of every structure: parts of the book named where they lie, nothing written over anything."""

from __future__ import annotations

import io

import pytest
from every_structure import CASES_OF_BOOKS, project_of
from pypdfium2 import PdfDocument

from coverlayout.book.pieces import Piece
from coverlayout.document.project import Layout, Project
from coverlayout.document.questions import planned_pieces
from coverlayout.exporting.measures import Measure, measures
from coverlayout.exporting.paper import Paper
from coverlayout.exporting.placement.pieces import draw_lines, draw_words
from coverlayout.geometry.frames import scale, shift
from coverlayout.geometry.shapes import Box, bounds
from coverlayout.layout.question import Placed
from coverlayout.units import LengthStyle

MM_PER_PT = 25.4 / 72
MM = LengthStyle()


def measured(project: Project, piece: Piece, side: str = "print", turn_deg: float = 0.0) -> Measure:
    """The piece alone in the middle of the cloth."""
    alone = project.with_layout(Layout("layout-1", "One", (Placed(piece.id, "cloth", 450.0, 350.0, turn_deg),)))
    (row,) = measures(alone, "cloth", side)  # type: ignore[arg-type]  # a word of Side
    return row


def drawn(measure: Measure, ratio: float) -> bytes:
    paper = Paper(297.0, 420.0, "t")
    to_page = shift(-bounds(measure.outline_mm).left_mm, -bounds(measure.outline_mm).top_mm)
    to_page = to_page.then(scale(1 / ratio)).then(shift(30.0, 40.0))
    draw_lines(paper, measure, to_page)
    draw_words(paper, measure, to_page, MM, 7)
    return paper.finished()


def word_boxes(pdf: bytes) -> list[tuple[str, Box]]:
    """Every run of words with its box on the page, by pdfium."""
    page = PdfDocument(io.BytesIO(pdf))[0]
    text, high = page.get_textpage(), page.get_height()
    found = []
    for k in range(text.count_rects()):
        left, bottom, right, top = text.get_rect(k)
        box = Box(left * MM_PER_PT, (high - top) * MM_PER_PT, (right - left) * MM_PER_PT, (top - bottom) * MM_PER_PT)
        found.append((text.get_text_bounded(left, bottom, right, top).strip(), box))
    return found


def overlap(one: Box, other: Box) -> float:
    across = min(one.right_mm, other.right_mm) - max(one.left_mm, other.left_mm)
    down = min(one.bottom_mm, other.bottom_mm) - max(one.top_mm, other.top_mm)
    return min(across, down)


@pytest.mark.parametrize("ratio", [1.0, 4.0])
@pytest.mark.parametrize("name", CASES_OF_BOOKS)
def test_no_words_lie_on_others_and_all_stand_on_their_piece(name: str, ratio: float) -> None:
    project = project_of(name)
    for piece in planned_pieces(project):
        measure = measured(project, piece)
        if min(piece.width_mm, piece.height_mm) / ratio < 15.0:
            continue
        words = [(text, box) for text, box in word_boxes(drawn(measure, ratio)) if text and not text[0].isdigit()]
        room = Box(30.0, 40.0, piece.width_mm / ratio, piece.height_mm / ratio)
        for k, (text, box) in enumerate(words):
            assert overlap(room, box) > 0, f"{text} beside {piece.id}"
            assert box.left_mm > room.left_mm - 0.2, f"{text} sticks out of {piece.id}"
            assert box.right_mm < room.right_mm + 0.2, f"{text} sticks out of {piece.id}"
            for other, beside in words[k + 1 :]:
                assert overlap(box, beside) < 0.3, f"{text} and {other} on {piece.id}"


@pytest.mark.parametrize(
    ("name", "piece", "words"),
    [
        ("flat-case", "cover-1", ("back", "spine", "front")),
        ("opens right", "spine-1", ("front", "spine", "back")),
        ("limp with a flap", "cover-1", ("flap", "fore-edge", "back", "spine", "front")),
        ("side-sewn", "front-1", ("hinge", "front")),
        ("side-sewn", "back-1", ("back", "hinge")),
        ("scored slipcase", "wrap-1", ("front", "closed side", "back")),
    ],
)
@pytest.mark.parametrize("side", ["print", "back"])
def test_parts_are_named_in_their_order_from_left_to_right(
    name: str, piece: str, words: tuple[str, ...], side: str
) -> None:
    project = project_of(name)
    found = next(one for one in planned_pieces(project) if one.id == piece)
    boxes = dict(word_boxes(drawn(measured(project, found, side), 2.0)))
    in_order = sorted(words, key=lambda word: boxes[word].middle[0])
    assert tuple(in_order) == (words if side == "print" else words[::-1])


def test_a_turned_piece_has_its_words_at_the_tail_as_it_lies() -> None:
    project = project_of("flat-case")
    cover = planned_pieces(project)[0]
    boxes = dict(word_boxes(drawn(measured(project, cover, turn_deg=180.0), 2.0)))
    assert boxes["back"].middle[0] > boxes["spine"].middle[0] > boxes["front"].middle[0]
    # The tail lies above now: 17 mm of turn-in and the word just within the board, at half size.
    assert 40.0 + 17.0 / 2 < boxes["front"].middle[1] < 40.0 + 17.0 / 2 + 5.0


def test_a_corner_says_its_legs_and_a_slipcase_its_mouth() -> None:
    half = project_of("half-case")
    corner = next(piece for piece in planned_pieces(half) if piece.kind == "corner")
    said = " ".join(text for text, _ in word_boxes(drawn(measured(half, corner), 1.0)))
    # 72.99 mm either way, rounded up.
    assert "legs 73.0 x 73.0 mm" in said
    case = project_of("slipcase")
    wall = next(piece for piece in planned_pieces(case) if piece.kind == "side")
    said = " ".join(text for text, _ in word_boxes(drawn(measured(case, wall), 2.0)))
    assert "mouth" in said
    assert "spine" not in said
