"""How cloths are painted: regions as paths, hatches that stay on what is hatched."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
import pytest
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QImage, QPainter, QPainterPath
from PySide6.QtWidgets import QApplication

from coverlayout.cloth.cloth import Cloth
from coverlayout.document.project import Project
from coverlayout.geometry.frames import cloth_to_back, scale
from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.ui.painting.cloths import Drawing, fill_hatched, paint_veil, path_of, polygon
from coverlayout.ui.table.arranging import laid_out
from coverlayout.ui.theme import DARK, LIGHT, Theme, contrast


def hatched(pixel_ratio: float, shifted_px: int, left_px: int) -> npt.NDArray[np.bool_]:
    """Where a hatched box is dark: `left_px` from the painter's origin, which is shifted; both device pixels."""
    image = QImage(300, 40, QImage.Format.Format_RGB32)
    image.setDevicePixelRatio(pixel_ratio)
    image.fill(QColor("white"))
    painter = QPainter(image)
    painter.translate(shifted_px / pixel_ratio, 0)
    path = QPainterPath()
    path.addRect(QRectF(left_px / pixel_ratio, 0, 120 / pixel_ratio, 40 / pixel_ratio))
    fill_hatched(painter, path, QColor("black"), Qt.BrushStyle.FDiagPattern)
    painter.end()
    return np.frombuffer(image.constBits(), np.uint8).reshape(40, 300, 4)[:, :, 0] < 128


@pytest.mark.parametrize("pixel_ratio", [1.0, 1.25, 1.5, 2.0])
@pytest.mark.parametrize(("shifted_px", "left_px"), [(50, 30), (0, 80), (133, -53), (-20, 100)])
def test_a_hatch_stays_on_its_shape(qapp: QApplication, pixel_ratio: float, shifted_px: int, left_px: int) -> None:
    wanted = np.roll(hatched(pixel_ratio, 0, 7), 73, axis=1)
    assert np.array_equal(hatched(pixel_ratio, shifted_px, left_px), wanted)
    assert 0.05 < wanted[:, 80:200].mean() < 0.5


def test_a_region_with_a_hole_leaves_the_hole_free() -> None:
    region = Region.of(rectangle(100.0, 50.0)).minus(Region.of(rectangle(10.0, 10.0, 20.0, 20.0)))
    path = path_of(region, scale(2.0))
    box = path.boundingRect()
    assert (box.width(), box.height()) == (200.0, 100.0)
    assert path.contains(QRectF(10, 10, 4, 4))
    assert not path.intersects(QRectF(44, 44, 8, 8))
    assert path_of(Region.nothing(), scale(2.0)).isEmpty()


def test_a_polygon_seen_from_the_back_is_closed_and_mirrored() -> None:
    seen = polygon(((0.0, 0.0), (30.0, 0.0), (0.0, 10.0)), cloth_to_back(100.0))
    assert [(seen.at(k).x(), seen.at(k).y()) for k in range(4)] == [(100, 0), (70, 0), (100, 10), (100, 0)]


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)
def test_a_print_can_still_be_read_under_the_veil(qapp: QApplication, theme: Theme) -> None:
    image = QImage(200, 100, QImage.Format.Format_RGB32)
    cloth = Cloth("c", "plain", 200.0, 100.0)
    drawing = Drawing(
        Project("P"), laid_out([cloth], [], []), scale(1.0), theme, 1.0, lambda _: pytest.fail("no print")
    )
    painter = QPainter(image)
    painter.fillRect(0, 0, 100, 100, QColor("#204050"))
    painter.fillRect(100, 0, 100, 100, QColor("#F0E6D2"))
    paint_veil(painter, drawing, QRectF(0, 0, 200, 100))
    painter.end()
    dark, light = image.pixelColor(50, 50), image.pixelColor(150, 50)
    # Motif and ground stay as far apart as large signs must be (WCAG 2: 3) in the dark; paler, not gone, in the light.
    assert contrast(dark.name(), light.name()) >= (3.0 if theme is DARK else 1.8)
    assert light.lightness() != QColor("#F0E6D2").lightness(), "veiled all the same"
