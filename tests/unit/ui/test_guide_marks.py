"""Where the name of a guide stands: beside the pieces, in sight, clear of other words."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QColor, QImage, QPainter
from pytestqt.qtbot import QtBot

from coverlayout.geometry.frames import scale
from coverlayout.layout.guiding.guide import Guide, GuideKind, Line, said
from coverlayout.ui.canvas.guides import GuideMark, marks_of, paint_guide_names, paint_guides
from coverlayout.ui.theme import LIGHT
from coverlayout.units import LengthStyle

SEEN = QRectF(20.0, 20.0, 780.0, 580.0)
CARRIED = QRectF(300.0, 200.0, 120.0, 160.0)
TO_SCREEN = scale(2.0)


def guide(kind: GuideKind, *lines: Line, marks: tuple[tuple[float, float], ...] = ()) -> Guide:
    return Guide(kind, said(kind, ("Back cover", "Label"), 6.0), lines, (1.0, 0.0), marks)


def box(mark: GuideMark) -> QRectF:
    return QRectF(*mark.box)


def marked(*guides: Guide, carried: QRectF = CARRIED, taken: tuple[QRectF, ...] = ()) -> list[GuideMark]:
    return list(marks_of(guides, TO_SCREEN, LengthStyle(), carried, seen=SEEN, taken=taken))


LEVEL = guide("level", ((50.0, 100.0), (210.0, 100.0)))
UPRIGHT = guide("touch", ((150.0, 60.0), (150.0, 200.0)))


def test_names_stand_on_their_lines_outside_of_the_pieces(qtbot: QtBot) -> None:
    (level,) = marked(LEVEL)
    assert level.lines_px == (((100.0, 200.0), (420.0, 200.0)),)
    assert (box(level).right(), box(level).center().y()) == pytest.approx((294.0, 200.0))
    assert level.text == "level with Back cover"
    (upright,) = marked(UPRIGHT)
    assert (box(upright).center().x(), box(upright).bottom()) == pytest.approx((300.0, 194.0))
    (repeat,) = marked(guide("repeat", marks=((180.0, 140.0),)))
    assert repeat.marks_px == ((360.0, 280.0),)
    assert box(repeat).center().x() == pytest.approx(360.0)


def test_names_stay_in_sight(qtbot: QtBot) -> None:
    at_top = CARRIED.translated(0.0, -190.0)
    assert box(marked(UPRIGHT, carried=at_top)[0]).top() == pytest.approx(at_top.bottom() + 6.0)
    at_left = CARRIED.translated(-270.0, 0.0)
    assert box(marked(LEVEL, carried=at_left)[0]).left() == pytest.approx(at_left.right() + 6.0)
    everywhere = QRectF(-50.0, -50.0, 1000.0, 800.0)
    for mark in marked(LEVEL, UPRIGHT, carried=everywhere):
        assert SEEN.contains(box(mark))


def test_names_cover_neither_each_other_nor_distances(qtbot: QtBot) -> None:
    distance = QRectF(280.0, 170.0, 60.0, 18.0)
    found = [box(mark) for mark in marked(UPRIGHT, guide("middle-cloth", UPRIGHT.lines_mm[0]), taken=(distance,))]
    assert not found[0].intersects(found[1])
    assert not any(each.intersects(distance) or each.intersects(CARRIED) for each in found)
    below = marked(guide("level", ((50.0, 175.0), (210.0, 175.0))), taken=(QRectF(200.0, 340.0, 90.0, 20.0),))
    assert box(below[0]).top() >= 360.0


def test_a_slanted_line_is_painted_anew_in_small_parts(qtbot: QtBot) -> None:
    (mark,) = marked(guide("level", ((0.0, 0.0), (300.0, 200.0))))
    *lines, _ = mark.areas()
    assert sum(area.width() * area.height() for area in lines) < 600 * 400 / 8
    for k in range(101):
        assert any(area.contains(QPointF(6.0 * k, 4.0 * k)) for area in lines)


def test_every_kind_has_a_look_and_paints_within_its_areas(qtbot: QtBot) -> None:
    kinds: tuple[GuideKind, ...] = ("edge", "like", "middle", "level", "repeat")
    looks = set()
    for kind in kinds:
        marks = marked(guide(kind, *(LEVEL.lines_mm if kind != "repeat" else ()), marks=((180.0, 140.0),)))
        picture = QImage(820, 620, QImage.Format.Format_RGB32)
        picture.fill(QColor("#777777"))
        painter = QPainter(picture)
        paint_guides(painter, marks)
        paint_guide_names(painter, marks)
        painter.end()
        line = tuple(picture.pixelColor(x, 200).name() == LIGHT.accent.lower() for x in range(310, 410))
        looks.add(line)
        areas = marks[0].areas()
        for x in range(0, 820, 3):
            for y in range(0, 620, 3):
                if picture.pixelColor(x, y).name() != "#777777":
                    assert any(area.contains(QPointF(x, y)) for area in areas), (kind, x, y)
    # Drawn through, as a centre line, dashed, or not at all.
    assert len(looks) == 4
