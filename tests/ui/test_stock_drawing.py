"""Sheets as they are drawn: alike ones once, pieces where they lie, by name or letter; never mirrored."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, QRectF
from PySide6.QtGui import QColor, QHelpEvent, QImage
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from coverlayout.book.materials.cut_item import CutItem
from coverlayout.document.project import Project, Stock
from coverlayout.document.stocking.on_stock import OnStock, PieceOnSheet, SheetLaid
from coverlayout.document.stocking.sheets import laid_on_stock
from coverlayout.geometry.shapes import Box
from coverlayout.ui.stock.drawing import SheetsDrawing, letter_of, sheet_words
from coverlayout.ui.stock.placing import alike_sheets, apart, placed_sheets
from coverlayout.ui.theme import LIGHT
from coverlayout.units import LengthStyle

MM = LengthStyle()
GREY = Stock("stock-1", "grey board", "board", 400.0, 500.0, 2.0, "long", 6.5)
BOARDS = CutItem("cover board", "board", 148.0, 210.0, 10, "head to tail", 2.0, volumes=(1, 2, 3, 4, 5))


def boards(stock: Stock = GREY, *items: CutItem) -> OnStock:
    return laid_on_stock(Project(stocks=(stock,)), items or (BOARDS,), "board", 2.0)


@pytest.fixture(scope="module")
def three() -> OnStock:
    """Four boards on two sheets, two on a third."""
    return boards()


def off_a_roll() -> OnStock:
    """A strip off a roll 400 wide: 1000 long at the left edge, so that nothing about it is alike when mirrored."""
    web = Stock("stock-2", "web", "web", 400.0, None)
    piece = PieceOnSheet("web, Yard", 1, None, Box(0.0, 0.0, 100.0, 800.0))
    item = CutItem("web, Yard", "web", 100.0, 800.0)
    sheet = SheetLaid(400.0, 1000.0, (piece,), (Box(100.0, 0.0, 300.0, 1000.0), Box(0.0, 800.0, 400.0, 200.0)))
    return OnStock(web, "web", None, (item,), (sheet,), 1, True, 1000.0)


# Where things are drawn


def test_alike_sheets_are_drawn_once_with_their_numbers(three: OnStock) -> None:
    kinds = alike_sheets(three.sheets)
    assert [(kind.first, kind.count, len(kind.sheet.pieces)) for kind in kinds] == [(1, 2, 4), (3, 1, 2)]
    placed, _ = placed_sheets(three, 600.0)
    assert [sheet_words(each, three) for each in placed] == ["Sheets 1 and 2 alike, 62 % used", "Sheet 3, 31 % used"]


def test_more_than_two_alike_are_told_from_the_first_to_the_last(three: OnStock) -> None:
    many = replace(three, sheets=(three.sheets[0],) * 4)
    (placed,), _ = placed_sheets(many, 600.0)
    assert sheet_words(placed, many) == "Sheets 1 to 4 alike, 62 % used"


def test_all_sheets_have_one_scale_and_true_proportions(three: OnStock) -> None:
    placed, high = placed_sheets(three, 600.0)
    assert len({each.px_per_mm for each in placed}) == 1
    for each in placed:
        assert each.frame.width() / each.frame.height() == pytest.approx(400.0 / 500.0)
        assert each.frame.right() <= 600.0
        assert each.frame.bottom() <= high
    assert not placed[0].frame.intersects(placed[1].frame)


def test_where_there_is_no_room_beside_each_other_they_stand_in_rows(three: OnStock) -> None:
    wide, high_wide = placed_sheets(three, 600.0)
    narrow, high_narrow = placed_sheets(three, 300.0)
    assert wide[0].frame.top() == wide[1].frame.top()
    assert narrow[0].frame.bottom() < narrow[1].frame.top()
    assert high_narrow > high_wide


def test_one_sheet_is_drawn_larger_than_one_of_several(three: OnStock) -> None:
    one = replace(three, sheets=three.sheets[:1])
    assert placed_sheets(one, 600.0)[0][0].px_per_mm > placed_sheets(three, 600.0)[0][0].px_per_mm


def test_a_piece_lies_on_the_drawing_where_it_lies_on_the_sheet(three: OnStock) -> None:
    placed = placed_sheets(three, 600.0)[0][0]
    by = placed.px_per_mm
    box = placed.alike.sheet.pieces[-1].box
    drawn = placed.rect(box)
    assert drawn.left() - placed.frame.left() == pytest.approx(box.left_mm * by)
    assert drawn.top() - placed.frame.top() == pytest.approx(box.top_mm * by)
    assert (drawn.width(), drawn.height()) == (pytest.approx(box.width_mm * by), pytest.approx(box.height_mm * by))


def test_a_long_piece_off_a_roll_lies_down_without_being_mirrored() -> None:
    (placed,), _ = placed_sheets(off_a_roll(), 600.0)
    assert placed.lies
    assert placed.frame.width() / placed.frame.height() == pytest.approx(1000.0 / 400.0)
    # Turned a quarter against the clock: the left edge of the roll comes to lie below, its beginning at the left.
    drawn, by = placed.rect(Box(0.0, 0.0, 100.0, 800.0)), placed.px_per_mm
    assert drawn.left() == pytest.approx(placed.frame.left())
    assert drawn.bottom() == pytest.approx(placed.frame.bottom())
    assert (drawn.width(), drawn.height()) == (pytest.approx(800.0 * by), pytest.approx(100.0 * by))


def test_nothing_found_draws_nothing(three: OnStock) -> None:
    assert placed_sheets(replace(three, sheets=()), 600.0) == ((), 0.0)


def test_offcuts_that_lie_over_each_other_are_not_both_shown() -> None:
    first, over, beside = Box(0.0, 0.0, 10.0, 50.0), Box(0.0, 40.0, 80.0, 10.0), Box(10.0, 0.0, 5.0, 40.0)
    assert apart((first, over, beside)) == (first, beside)


def test_letters_go_on_after_z() -> None:
    assert [letter_of(at) for at in (0, 1, 25, 26, 51, 52)] == ["A", "B", "Z", "AA", "AZ", "BA"]


# What is told of them


def shown(qtbot: QtBot, on: OnStock, width: int = 600) -> SheetsDrawing:
    drawing = SheetsDrawing(on, MM)
    qtbot.addWidget(drawing)
    drawing.resize(width, drawing.heightForWidth(width))
    drawing.show()
    return drawing


def test_the_key_names_every_item_with_its_size_and_number(qtbot: QtBot) -> None:
    spine = CutItem("spine piece", "board", 15.5, 216.0, 5, "head to tail", 2.0)
    drawing = shown(qtbot, boards(GREY, BOARDS, spine))
    assert drawing.key == "A   10 × cover board, 148.0 × 210.0 mm\nB   5 × spine piece, 15.5 × 216.0 mm"


def test_items_of_one_name_and_two_sizes_have_letters_of_their_own(qtbot: QtBot) -> None:
    thin = replace(BOARDS, width_mm=140.0, count=2, volumes=(6,))
    twice = replace(BOARDS, count=4)
    drawing = shown(qtbot, boards(GREY, BOARDS, thin, twice))
    assert drawing.key == "A   14 × cover board, 148.0 × 210.0 mm\nB   2 × cover board, 140.0 × 210.0 mm"


def test_the_piece_under_the_pointer_tells_its_name_volume_and_size(qtbot: QtBot, three: OnStock) -> None:
    drawing = shown(qtbot, three)
    first = drawing.sheets[0]
    piece = first.alike.sheet.pieces[-1]
    words = drawing.words_at(first.rect(piece.box).center())
    assert words == f"cover board {piece.number}, volume {piece.volume}\n148.0 × 210.0 mm"
    assert drawing.words_at(first.frame.bottomRight() - QPointF(5, 5)) == ""


def test_a_turned_piece_says_so_and_keeps_its_own_size(qtbot: QtBot) -> None:
    across = boards(replace(GREY, grain="short", width_mm=500.0, length_mm=400.0, id="stock-9"), BOARDS)
    turned = boards(replace(GREY, grain="short"), BOARDS)
    for on in (across, turned):
        drawing = shown(qtbot, on)
        piece = drawing.sheets[0].alike.sheet.pieces[0]
        words = drawing.words_at(drawing.sheets[0].rect(piece.box).center())
        assert words.endswith("148.0 × 210.0 mm, a quarter turned") == piece.turned
    assert drawing.sheets[0].alike.sheet.pieces[0].turned


class _Tips:
    """Stands for the tips of the system."""

    def __init__(self) -> None:
        self.shown: list[str] = []

    def showText(self, _at: QPoint, words: str, _widget: object) -> None:
        self.shown.append(words)

    def hideText(self) -> None:
        self.shown.append("")


def test_the_tooltip_is_that_of_the_piece(qtbot: QtBot, three: OnStock, monkeypatch: pytest.MonkeyPatch) -> None:
    tips = _Tips()
    monkeypatch.setattr("coverlayout.ui.stock.drawing.QToolTip", tips)
    drawing = shown(qtbot, three)
    first = drawing.sheets[0]
    for at in (first.rect(first.alike.sheet.pieces[0].box).center().toPoint(), QPoint(1, 1)):
        QApplication.sendEvent(drawing, QHelpEvent(QEvent.Type.ToolTip, at, drawing.mapToGlobal(at)))
    assert tips.shown == ["cover board 1, volume 1\n148.0 × 210.0 mm", ""]


def test_who_cannot_see_it_hears_what_lies_on_each_sheet(qtbot: QtBot, three: OnStock) -> None:
    drawing = shown(qtbot, three)
    assert drawing.accessibleDescription() == (
        "Sheets 1 and 2 alike, 62 % used: 4 cover board. Sheet 3, 31 % used: 2 cover board."
    )


def test_one_sheet_needs_no_more_width_than_it_is_wide(qtbot: QtBot, three: OnStock) -> None:
    one = shown(qtbot, replace(three, sheets=three.sheets[:1]))
    assert one.narrow_px is not None
    assert one.narrow_px >= placed_sheets(replace(three, sheets=three.sheets[:1]), 460.0)[0][0].frame.right()
    assert shown(qtbot, three).narrow_px is None
    assert shown(qtbot, off_a_roll()).narrow_px is None


def test_it_is_as_high_as_its_sheets_need(qtbot: QtBot, three: OnStock) -> None:
    drawing = shown(qtbot, three)
    assert drawing.hasHeightForWidth()
    assert drawing.heightForWidth(300) > drawing.heightForWidth(600)
    assert drawing.minimumSizeHint().width() < drawing.sizeHint().width()


# What is painted


def picture(drawing: SheetsDrawing) -> QImage:
    return drawing.grab().toImage()


def ink_in(image: QImage, area: QRectF) -> int:
    """Pixels darker than halfway, as of lines and words in ink."""
    box = area.toRect()
    places = (QPoint(x, y) for x in range(box.left(), box.right()) for y in range(box.top(), box.bottom()))
    return sum(QColor(image.pixel(place)).lightness() < 110 for place in places)


def test_pieces_are_framed_and_filled_and_what_is_left_is_not(qtbot: QtBot, three: OnStock) -> None:
    drawing = shown(qtbot, three)
    image = picture(drawing)
    first = drawing.sheets[0]
    piece = first.rect(first.alike.sheet.pieces[0].box)
    inside = QColor(image.pixel((piece.topLeft() + QPointF(4, 4)).toPoint()))
    left_over = QColor(image.pixel((first.frame.bottomRight() - QPointF(6, 6)).toPoint()))
    assert inside != left_over
    assert QColor(image.pixel(QPoint(round(piece.right()), round(piece.center().y())))).lightness() < 150
    assert ink_in(image, piece.adjusted(4, 4, -4, -4)) > 40, "its name"


def test_a_piece_too_small_for_its_name_has_its_letter_and_a_sliver_nothing(qtbot: QtBot) -> None:
    square = PieceOnSheet("spine lining of the book", 1, None, Box(50.0, 50.0, 30.0, 30.0))
    sliver = PieceOnSheet("spine lining of the book", 2, None, Box(150.0, 50.0, 8.0, 200.0))
    items = (CutItem("spine lining of the book", "board", 30.0, 30.0, 1, "any", 2.0),)
    sheet = SheetLaid(400.0, 500.0, (square,))
    on = OnStock(GREY, "board", 2.0, items, (sheet,), 1, True)
    drawing = shown(qtbot, on)
    assert 5 < ink_in(picture(drawing), drawing.sheets[0].rect(square.box).adjusted(3, 3, -3, -3)) < 120
    thin = (*items, CutItem("spine lining of the book", "board", 8.0, 200.0, 1, "any", 2.0))
    drawing = shown(qtbot, replace(on, items=thin, sheets=(replace(sheet, pieces=(sliver,)),)))
    assert ink_in(picture(drawing), drawing.sheets[0].rect(sliver.box).adjusted(2, 4, -2, -4)) == 0


@pytest.mark.parametrize(
    ("stock", "downward"),
    [(GREY, True), (replace(GREY, grain="short"), False), (replace(GREY, grain="unknown"), True)],
)
def test_the_arrow_runs_along_the_grain(qtbot: QtBot, stock: Stock, downward: bool) -> None:
    drawing = shown(qtbot, boards(stock, replace(BOARDS, grain="any")))
    frame, image = drawing.sheets[0].frame, picture(drawing)
    beside = QRectF(frame.left() - 19, frame.top() + 1, 16, 140)
    above = QRectF(frame.left() + 1, frame.top() - 19, 140, 16)
    assert (ink_in(image, beside) > 25) == downward
    assert (ink_in(image, above) > 25) == (not downward)


def test_off_a_roll_the_arrow_turns_with_the_sheet(qtbot: QtBot) -> None:
    on = off_a_roll()
    drawing = shown(qtbot, replace(on, stock=replace(on.stock, grain="long")))
    frame, image = drawing.sheets[0].frame, picture(drawing)
    assert ink_in(image, QRectF(frame.left() + 1, frame.top() - 19, 140, 16)) > 25
    assert sheet_words(drawing.sheets[0], on) == "Off the roll, 20 % used"


def test_words_of_an_offcut_stand_upright_where_only_that_has_room(qtbot: QtBot) -> None:
    offcut = Box(360.0, 0.0, 40.0, 500.0)
    on = OnStock(GREY, "board", 2.0, (BOARDS,), (SheetLaid(400.0, 500.0, (), (offcut,)),), 1, True)
    drawing = shown(qtbot, on)
    area = drawing.sheets[0].rect(offcut)
    image = picture(drawing)
    words = area.adjusted(4, area.height() / 2 - 40, -4, 40 - area.height() / 2)
    muted = QColor(LIGHT.muted).lightness() + 40
    box = words.toRect()
    dark = [
        QPoint(x, y)
        for x in range(box.left(), box.right())
        for y in range(box.top(), box.bottom())
        if QColor(image.pixel(x, y)).lightness() < muted
    ]
    assert dark, "its size"
    height = max(at.y() for at in dark) - min(at.y() for at in dark)
    assert height > max(at.x() for at in dark) - min(at.x() for at in dark)
