"""Pieces of every structure on the canvas: bright where they will be seen, every mark with a line of its own."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPointF
from PySide6.QtGui import QColor, QImage, QPainter, QPixmap
from pytestqt.qtbot import QtBot

from coverlayout.book.book import Book, Label
from coverlayout.book.pieces import Piece
from coverlayout.book.structures import BUILT_STRUCTURES, pieces
from coverlayout.exporting.paper import PENS
from coverlayout.geometry.frames import scale, shift
from coverlayout.geometry.shapes import bounds
from coverlayout.layout.question import Placed
from coverlayout.ui.dialogs.line_key import LINES
from coverlayout.ui.painting.names import PieceLook
from coverlayout.ui.painting.pieces import paint_ground, paint_lines
from coverlayout.ui.seeing.template import template_piece
from coverlayout.ui.table.bench import Bench, Lying
from coverlayout.ui.theme import LIGHT, pen

PRINT = QColor(20, 120, 90)
STRUCTURES = [name for name in BUILT_STRUCTURES if name != "parts"]


def made(structure: str) -> tuple[Piece, ...]:
    label = None if structure in ("limp-wrap", "slipcase") else Label(40.0, 20.0, "window")
    book = Book("b", "Ledger", structure, block_mm=(100.0, 150.0, 12.0), label=label)  # type: ignore[arg-type]  # one of all
    return pieces(book)


def painted(piece: Piece) -> QImage:
    image = QImage(600, 600, QImage.Format.Format_RGB32)
    image.fill(QColor("white"))
    bright = QPixmap(600, 600)
    bright.fill(PRINT)
    with QPainter(image) as painter:
        paint_ground(painter, piece, scale(1.0), bright, QPointF(0, 0))
    return image


def test_a_cover_is_bright_on_both_boards_and_the_spine_and_pale_where_it_is_turned_in(qtbot: QtBot) -> None:
    cover = made("flat-case")[0]
    image = painted(cover)
    for face in cover.faces:
        x, y = bounds(face.outline_mm).middle
        assert image.pixelColor(round(x), round(y)) == PRINT, face.name
    turned_in = image.pixelColor(4, 90)
    assert turned_in != PRINT
    assert turned_in.lightness() > PRINT.lightness()


def test_a_side_is_bright_only_where_it_is_seen(qtbot: QtBot) -> None:
    side = next(piece for piece in made("half-case") if piece.kind == "side")
    image = painted(side)
    x, y = bounds(side.faces[0].outline_mm).middle
    assert image.pixelColor(round(x), round(y)) == PRINT
    assert image.pixelColor(round(side.width_mm / 2), 4) != PRINT


@pytest.mark.parametrize("structure", STRUCTURES)
def test_every_mark_has_a_pen_on_screen_and_on_paper(qtbot: QtBot, structure: str) -> None:
    for piece in made(structure):
        image = painted(piece)
        plain = image.copy()
        lying = Lying(piece, Placed(piece.id, "c", 0.0, 0.0), piece.name)
        with QPainter(image) as painter:
            paint_lines(painter, lying, scale(1.0), LIGHT, PieceLook())
        assert image != plain
        for mark in piece.marks:
            assert mark.kind in PENS
            if mark.kind not in ("head", "spine edge"):
                assert pen(mark.kind).widthF() > 0


@pytest.mark.parametrize("structure", ["separate-boards", "accordion", "side-sewn"])
@pytest.mark.parametrize(("piece_id", "dark_px"), [("liner-back-1", {2, 3, 5, 6, 7}), ("front-1", {0, 3, 4})])
@pytest.mark.parametrize("px_per_mm", [0.5, 1.0, 3.5])
def test_the_spine_edge_is_a_double_line_without_ticks_on_every_zoom(
    qtbot: QtBot, structure: str, px_per_mm: float, piece_id: str, dark_px: set[int]
) -> None:
    """On a liner 3 and 6.5 px inside, 1.5 px wide; along a board its edge is one of the two, the other 4 px inside.

    Nothing crosses them, whatever the scale.
    """
    piece = next(each for each in made(structure) if each.id == piece_id)
    image = QImage(600, 600, QImage.Format.Format_RGB32)
    image.fill(QColor("white"))
    edge_px, down_px = 40, 40.0
    ((x, y), _) = next(mark.points_mm for mark in piece.marks if mark.kind == "spine edge")
    by = shift(-x, -y).then(scale(px_per_mm)).then(shift(edge_px, down_px))
    with QPainter(image) as painter:
        paint_lines(painter, Lying(piece, Placed(piece.id, "c", 0.0, 0.0), piece.name), by, LIGHT, PieceLook())
    # A fifth of the way down to the two fifths: clear of head, corners and the word in the middle.
    high_px = 150.0 * px_per_mm
    rows = range(round(down_px + 0.2 * high_px), round(down_px + 0.4 * high_px))
    across = [
        [image.pixelColor(edge_px + k, y).lightness() for k in range(min(dark_px), max(dark_px) + 2)] for y in rows
    ]
    assert len(across) >= 10
    assert all(row == across[0] for row in across)
    dark = [k for k, light in enumerate(across[0], min(dark_px)) if light < 128]
    assert set(dark) <= dark_px
    assert sum(k - 1 not in dark for k in dark) == 2, "two lines apart"


def test_the_new_lines_stand_in_the_key() -> None:
    words = " ".join(words for _, words in LINES)
    for word in ("joint", "fold", "lap", "window"):
        assert word in words


def test_without_covers_the_template_looks_for_what_is_seen_outside() -> None:
    lying = tuple(Lying(piece, Placed(piece.id, "c", 0.0, 0.0), piece.name) for piece in made("quarter-case"))
    liners_first = tuple(sorted(lying, key=lambda each: each.piece.kind != "liner"))
    found = template_piece(Bench((), None, liners_first), ())  # type: ignore[arg-type]  # nothing is asked of a sheet
    assert found is not None
    assert found.startswith(("spine", "side"))
