"""Drawn books on screen: words never on each other nor cut off, measures picked out and explained, large and small."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest
from drawn_books import STRUCTURES, drawn_book
from PySide6.QtCore import QEvent, QPoint, QRect, QRectF, Qt
from PySide6.QtGui import QColor, QHelpEvent, QImage, QMouseEvent, QPainter
from PySide6.QtWidgets import QApplication, QDialogButtonBox, QToolTip, QWidget
from pytestqt.qtbot import QtBot

from coverlayout.book.book import Book, Structure, TurnIns, Volume
from coverlayout.book.picturing.cut_through import cut_through
from coverlayout.book.picturing.flat_plan import flat_plan
from coverlayout.book.picturing.shapes import Picture
from coverlayout.ui.bookmaking.larger import LargerPictures, drawn
from coverlayout.ui.bookmaking.picture import BookPicture
from coverlayout.ui.look import Look
from coverlayout.ui.picturing.colours import ink_of, theme_of
from coverlayout.ui.picturing.icons import structure_pixmap
from coverlayout.ui.theme import DARK, LIGHT
from coverlayout.units import LengthStyle

MM = LengthStyle()
INCHES = LengthStyle("in", inch_parts=16)
DRAW = {"cut": cut_through, "plan": flat_plan}


@pytest.fixture
def both_looks(look: Look):
    """The look is put back after a test that changed it."""
    yield look
    look.choose("light")


def shown(
    qtbot: QtBot, picture: Picture, width: int = 300, style: LengthStyle = MM, *, large: bool = False
) -> BookPicture:
    widget = BookPicture("A book", large=large)
    qtbot.addWidget(widget)
    widget.show_picture(picture, style)
    widget.resize(width, 400 if large else widget.heightForWidth(width))
    return widget


def image_of(widget: BookPicture, ratio: float = 1.0) -> QImage:
    image = QImage(widget.size() * ratio, QImage.Format.Format_RGB32)
    image.setDevicePixelRatio(ratio)
    image.fill(Qt.GlobalColor.magenta)
    widget.render(image)
    return image


def colours_in(image: QImage, area: QRect | None = None) -> np.ndarray:
    """Every colour in an area once: rows of blue, green, red."""
    raw = np.frombuffer(image.constBits(), np.uint8).reshape(image.height(), image.bytesPerLine() // 4, 4)
    box = (area or image.rect()).intersected(image.rect())
    part = raw[box.top() : box.bottom() + 1, box.left() : box.right() + 1, :3]
    return np.unique(part.reshape(-1, 3), axis=0)


def has_close(colours: np.ndarray, wanted: str, within: int = 40) -> bool:
    target = QColor(wanted)
    away = np.abs(colours.astype(int) - (target.blue(), target.green(), target.red())).sum(axis=1)
    return bool((away <= within).any())


@pytest.mark.parametrize("style", [MM, INCHES], ids=["mm", "inches"])
@pytest.mark.parametrize("kind", DRAW)
@pytest.mark.parametrize("structure", STRUCTURES)
def test_words_lie_inside_and_never_on_each_other(
    qtbot: QtBot, look: Look, structure: Structure, kind: str, style: LengthStyle
) -> None:
    picture = DRAW[kind](*drawn_book(structure))
    for width, large in ((260, False), (300, False), (420, False), (840, True)):
        widget = shown(qtbot, picture, width, style, large=large)
        placed = widget.placed()
        assert placed, "nothing is measured"
        for each in placed:
            assert QRectF(widget.rect()).contains(each.words), f"{each.text} is cut off at {width} px"
        for one, other in combinations(placed, 2):
            assert not one.words.intersects(other.words), f"{one.text} lies on {other.text} at {width} px"
            for line, words in ((one.line, other.words), (other.line, one.words)):
                band = QRectF(line.p1(), line.p2()).normalized().adjusted(-0.5, -0.5, 0.5, 0.5)
                assert not band.intersects(words), f"a line runs through {one.text} or {other.text} at {width} px"


@pytest.mark.parametrize("kind", DRAW)
@pytest.mark.parametrize("structure", STRUCTURES)
def test_large_pictures_leave_no_measure_out(qtbot: QtBot, look: Look, structure: Structure, kind: str) -> None:
    picture = DRAW[kind](*drawn_book(structure))
    assert len(shown(qtbot, picture, 860, large=True).placed()) == len(picture.measures)


def test_beside_a_large_picture_with_room_words_lie_level(qtbot: QtBot, look: Look) -> None:
    picture = DRAW["cut"](*drawn_book("half-case"))
    named = {each.measure.name: each for each in shown(qtbot, picture, 1000, large=True).placed()}
    for name in ("block thickness", "board thickness"):
        assert not named[name].upward, name


@pytest.mark.parametrize("ratio", [1.0, 1.5, 2.0])
@pytest.mark.parametrize("choice", ["light", "dark"])
def test_paints_in_both_looks_at_every_pixel_ratio(qtbot: QtBot, both_looks: Look, choice: str, ratio: float) -> None:
    both_looks.choose(choice)  # type: ignore[arg-type]  # one of the two
    theme = both_looks.theme
    for structure in STRUCTURES:
        for draw in DRAW.values():
            widget = shown(qtbot, draw(*drawn_book(structure)))
            assert theme_of(widget.palette()) == theme
            colours = colours_in(image_of(widget, ratio))
            assert has_close(colours, theme.field, 0)
            assert has_close(colours, theme.ink, 150)
            assert not has_close(colours, "#ff00ff", 30), "not all of it is painted"


def test_what_things_are_shows_by_their_line_styles() -> None:
    for theme in (LIGHT, DARK):
        assert ink_of("cut", theme).dashes
        assert ink_of("liner", theme).dashes
        assert ink_of("cut", theme).dashes != ink_of("liner", theme).dashes
        assert not ink_of("board", theme).dashes
        assert ink_of("cloth", theme).line != ink_of("side", theme).line


def test_a_measure_that_is_pointed_at_is_bold_and_in_the_accent(qtbot: QtBot, look: Look) -> None:
    widget = shown(qtbot, cut_through(*drawn_book("flat-case")))
    joint = next(each for each in widget.placed() if each.measure.name == "joint")
    area = joint.words.toAlignedRect()
    before = image_of(widget)
    assert not has_close(colours_in(before, area), LIGHT.accent, 30)
    widget.point_at("joint")
    after = image_of(widget)
    assert has_close(colours_in(after, area), LIGHT.accent, 30)
    widget.point_at("")
    assert image_of(widget) == before


def test_a_measure_under_the_mouse_is_picked_out_until_the_mouse_leaves(qtbot: QtBot, look: Look) -> None:
    widget = shown(qtbot, cut_through(*drawn_book("flat-case")))
    before = image_of(widget)
    joint = next(each for each in widget.placed() if each.measure.name == "joint")
    at, none = joint.words.center(), Qt.MouseButton.NoButton
    over = QMouseEvent(QEvent.Type.MouseMove, at, at, none, none, Qt.KeyboardModifier.NoModifier)
    QApplication.sendEvent(widget, over)
    hovered = image_of(widget)
    widget.point_at("joint")
    assert image_of(widget) == hovered != before
    widget.point_at("")
    QApplication.sendEvent(widget, QEvent(QEvent.Type.Leave))
    assert image_of(widget) == before


@pytest.mark.parametrize("opens", ["left", "right"])
def test_the_line_of_a_turn_in_is_bent_where_it_goes_round_the_edge(qtbot: QtBot, look: Look, opens: str) -> None:
    """The level part ends at the board's edge; from there it goes on away from the book, clear of all words."""
    widget = shown(qtbot, cut_through(*drawn_book("flat-case", opens=opens)))
    placed = widget.placed()
    turn_in = next(each for each in placed if each.measure.name == "turn-in")
    bend = turn_in.bend
    assert bend is not None
    edge = turn_in.line.x2() if opens == "left" else turn_in.line.x1()
    assert (bend.x1(), bend.x2(), bend.y1()) == pytest.approx((edge, edge, turn_in.line.y1()))
    assert bend.y2() > bend.y1() + 5
    assert turn_in.area.contains(bend.p2())
    way = QRectF(bend.p1(), bend.p2()).adjusted(-0.5, 0, 0.5, 0)
    assert not any(way.intersects(each.words) for each in placed)
    x, y = round(bend.x2()), round((bend.y1() + bend.y2()) / 2)
    drawn_there = colours_in(image_of(widget), QRect(x - 1, y - 1, 3, 3))
    assert has_close(drawn_there, LIGHT.muted, 300)
    assert all(each.bend is None for each in placed if each is not turn_in)
    # A board of 2.2 mm, said as its thickness is in the same picture.
    assert "\n2.0 mm of it go up the edge of the board" in widget.tip(turn_in)


def test_the_key_tells_the_book_in_its_case_and_the_liners_edge(qtbot: QtBot, look: Look) -> None:
    case, cover = drawn_book("slipcase"), drawn_book("flat-case")
    assert "the book" in [word for _at, _role, word in shown(qtbot, cut_through(*case)).key(300)]
    assert [word for _at, _role, word in shown(qtbot, flat_plan(*case)).key(300)][-1] == "head"
    flat = [word for _at, _role, word in shown(qtbot, flat_plan(*cover)).key(300)]
    assert "liner's edge, on the turn-in" in flat
    assert "liner" not in flat
    assert "liner" in [word for _at, _role, word in shown(qtbot, cut_through(*cover)).key(300)]


def test_the_name_of_a_rule_picks_its_measure_out_too(qtbot: QtBot, look: Look) -> None:
    widget = shown(qtbot, cut_through(*drawn_book("flat-case")))
    widget.point_at("inset")
    by_name = image_of(widget)
    widget.point_at("liner inset")
    assert image_of(widget) == by_name


def test_a_measure_without_room_comes_forward_when_it_is_pointed_at(qtbot: QtBot, look: Look) -> None:
    picture = flat_plan(*drawn_book("half-case", turn_ins=TurnIns(20.0, 25.0, 15.0, 15.0), tail_square_mm=6.0))
    widget = shown(qtbot, picture, 260)
    there = {each.measure.name for each in widget.placed()}
    left_out = [measure.name for measure in picture.measures if measure.name not in there]
    assert left_out, "there was room for all"
    widget.point_at(left_out[-1])
    assert left_out[-1] in {each.measure.name for each in widget.placed()}


def test_an_unusual_figure_warns_by_its_colour_and_in_words(qtbot: QtBot, look: Look) -> None:
    widget = shown(qtbot, cut_through(*drawn_book("flat-case", joint_mm=25.0)))
    joint = next(each for each in widget.placed() if each.measure.name == "joint")
    assert has_close(colours_in(image_of(widget), joint.words.toAlignedRect()), LIGHT.tight, 40)
    assert "Unusual: 5.0 mm to 12.0 mm is met most." in widget.tip(joint)


def test_the_mouse_over_a_measure_tells_what_it_is_and_where_that_comes_from(
    qtbot: QtBot, look: Look, monkeypatch: pytest.MonkeyPatch
) -> None:
    said: list[str] = []
    monkeypatch.setattr(QToolTip, "showText", lambda _at, text, _widget, _area: said.append(text))
    monkeypatch.setattr(QToolTip, "hideText", lambda: said.append(""))
    widget = shown(qtbot, cut_through(*drawn_book("flat-case")))
    board = next(each for each in widget.placed() if each.measure.name == "board thickness")
    for at in (board.words.center().toPoint(), QPoint(2, widget.height() - 2)):
        QApplication.sendEvent(widget, QHelpEvent(QHelpEvent.Type.ToolTip, at, widget.mapToGlobal(at)))
    told, nothing = said
    assert told.startswith("Board thickness: 2.0 mm.\nThickness of the board under the cloth")
    assert "Source: common practice, no source." in told
    assert nothing == ""


@pytest.mark.parametrize("structure", STRUCTURES)
def test_every_measure_has_something_to_tell(qtbot: QtBot, look: Look, structure: Structure) -> None:
    for draw in DRAW.values():
        widget = shown(qtbot, draw(*drawn_book(structure)), 860, large=True)
        for placed in widget.placed():
            assert len(widget.tip(placed).splitlines()) >= 2, placed.measure.name


def test_it_says_in_words_what_it_shows(qtbot: QtBot, look: Look) -> None:
    widget = shown(qtbot, cut_through(*drawn_book("flat-case")))
    assert widget.accessibleName() == "A book"
    said = widget.accessibleDescription()
    assert said.startswith("The closed book cut across, from the tail: ")
    assert "joint 7.5 mm" in said
    assert "block thickness 16.0 mm" in said


def test_it_follows_the_book_and_the_unit(qtbot: QtBot, look: Look) -> None:
    widget = shown(qtbot, cut_through(*drawn_book("flat-case")))
    widget.show_picture(cut_through(*drawn_book("flat-case", joint_mm=9.0)), MM)
    assert "joint 9.0" in {each.text for each in widget.placed()}
    widget.show_picture(widget.picture, INCHES)
    assert "joint 3/8 in" in {each.text for each in widget.placed()}


@pytest.mark.parametrize("large", [False, True])
def test_what_the_knife_follows_is_never_shown_smaller_than_it_is(qtbot: QtBot, look: Look, large: bool) -> None:
    # 228.6 + 2 x 3 of square + 2 x 15 of turn-in is 264.6 high, that lies nearer to 264.5 than to 265.
    book = Book("b", "Ledger", "flat-case", block_mm=(152.4, 228.6, 25.4))
    widget = shown(qtbot, flat_plan(book, book.volumes[0]), 700 if large else 300, large=large)
    assert "cut height 265.0" in widget.spoken()
    high = next(each for each in widget.placed() if each.measure.name == "cut height")
    assert "265.0" in high.text
    assert "265.0" in widget.tip(high)


def test_another_picture_stands_at_once_where_it_stays(qtbot: QtBot, look: Look) -> None:
    widget = shown(qtbot, cut_through(*drawn_book("flat-case")))
    widget.show()
    qtbot.waitExposed(widget)
    widget.show_picture(cut_through(*drawn_book("flat-case", joint_mm=9.0)), MM)
    widget.resize(300, widget.heightForWidth(300))
    at_once = image_of(widget)
    qtbot.wait(60)
    assert image_of(widget) == at_once
    widget.resize(300, widget.height() + 1)
    widget.resize(300, widget.height() - 1)
    assert image_of(widget) == at_once, "nor later"


def test_the_last_good_picture_stays_while_the_book_cannot_be_drawn(qtbot: QtBot, look: Look) -> None:
    good = cut_through(*drawn_book("flat-case"))
    widget = shown(qtbot, good)
    before = image_of(widget)
    widget.show_picture(None, MM)
    assert widget.picture == good
    assert image_of(widget) == before


def test_without_a_picture_it_is_a_quiet_field(qtbot: QtBot, look: Look) -> None:
    widget = BookPicture("A book")
    qtbot.addWidget(widget)
    widget.resize(300, widget.heightForWidth(300))
    assert widget.placed() == ()
    assert widget.spoken() == ""
    assert has_close(colours_in(image_of(widget)), LIGHT.field, 0)
    widget.show_picture(None, MM)
    assert widget.picture is None


def test_it_asks_for_the_height_it_needs_up_to_a_bound(qtbot: QtBot, look: Look) -> None:
    for structure in STRUCTURES:
        for draw in DRAW.values():
            widget = shown(qtbot, draw(*drawn_book(structure)))
            assert widget.hasHeightForWidth()
            assert 90 < widget.heightForWidth(300) <= 260
            assert widget.sizeHint().height() <= 260
            assert widget.minimumSizeHint().width() <= 240
    large = shown(qtbot, cut_through(*drawn_book()), 600, large=True)
    assert not large.hasHeightForWidth()
    assert large.minimumSizeHint().width() < large.sizeHint().width()


def test_the_key_names_what_the_picture_has_and_nothing_else(qtbot: QtBot, look: Look) -> None:
    widget = shown(qtbot, cut_through(*drawn_book("flat-case", liners="none")))
    assert [word for _at, _role, word in widget.key(300)] == ["board", "cloth", "pages"]
    narrow = widget.key(140)
    assert narrow[-1][0].y() > narrow[0][0].y()


def test_the_largest_pictures_follow_the_book_and_go_by_escape(qtbot: QtBot, look: Look) -> None:
    dialog = LargerPictures()
    qtbot.addWidget(dialog)
    book, volume = drawn_book("flat-case")
    dialog.show_book(book, volume, MM)
    dialog.show()
    qtbot.waitExposed(dialog)
    assert "joint 7.5 mm" in {each.text for each in dialog.cut.placed()}
    dialog.show_book(replace(book, joint_mm=8.0), volume, MM)
    assert "joint 8.0 mm" in {each.text for each in dialog.cut.placed()}
    # A book that cannot be drawn leaves what was there.
    dialog.show_book(replace(book, joint_mm=-5.0), volume, MM)
    assert "joint 8.0 mm" in {each.text for each in dialog.plan.placed()}
    dialog.point_at("joint")
    qtbot.keyClick(dialog, Qt.Key.Key_Escape)
    assert not dialog.isVisible()


def test_the_large_pictures_open_beside_the_fields_and_stay_where_they_are_put(qtbot: QtBot, look: Look) -> None:
    window = QWidget()
    qtbot.addWidget(window)
    window.setGeometry(40, 30, 1280, 800)
    dialog = LargerPictures(window)
    dialog.show()
    qtbot.waitExposed(dialog)
    assert dialog.geometry().left() >= window.geometry().left() + 340
    assert window.geometry().contains(dialog.geometry())
    dialog.resize(500, 480)
    dialog.hide()
    dialog.show()
    qtbot.waitExposed(dialog)
    assert dialog.width() == 500


def test_the_button_closes_the_large_pictures(qtbot: QtBot, look: Look) -> None:
    dialog = LargerPictures()
    qtbot.addWidget(dialog)
    dialog.show()
    qtbot.waitExposed(dialog)
    (close,) = dialog.findChild(QDialogButtonBox).buttons()
    qtbot.mouseClick(close, Qt.MouseButton.LeftButton)
    assert not dialog.isVisible()


def test_what_cannot_be_drawn_is_none() -> None:
    assert drawn(Book("b", "Ledger", "flat-case", page_mm=(100.0, 150.0)), Volume(1)) == (None, None)
    book, volume = drawn_book("flat-case")
    assert drawn(book, volume) == (cut_through(book, volume), flat_plan(book, volume))


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=["light", "dark"])
def test_small_pictures_tell_the_structures_apart(qtbot: QtBot, theme) -> None:
    images = []
    for structure in STRUCTURES:
        pixmap = structure_pixmap(structure, theme, ratio=2.0)
        assert (pixmap.width(), pixmap.height()) == (128, 96)
        assert pixmap.devicePixelRatio() == 2.0
        field = QImage(pixmap.size(), QImage.Format.Format_RGB32)
        field.fill(QColor(theme.field))
        with QPainter(field) as painter:
            pixmap.setDevicePixelRatio(1.0)
            painter.drawPixmap(0, 0, pixmap)
        images.append(field)
        assert len(colours_in(field)) > 10
        # It brings its own ground, so that it reads where a list marks the chosen row.
        assert has_close(colours_in(pixmap.toImage().convertToFormat(QImage.Format.Format_RGB32)), theme.field, 6)
    for one, other in combinations(images, 2):
        assert one != other
