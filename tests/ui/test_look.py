"""The look in force: what the maker chose, else what the system asks for."""

from __future__ import annotations

from PySide6.QtGui import QFontMetricsF, QPalette
from PySide6.QtWidgets import QApplication

from coverlayout.ui.theme import DARK, LIGHT, SIZES_PX, Look, figures_font, system_theme, text_font


def test_a_choice_dresses_the_whole_program_and_is_told_once(look: Look, qapp: QApplication) -> None:
    heard: list[object] = []
    look.changed.connect(heard.append)
    try:
        look.choose("dark")
        look.choose("dark")
        assert heard == [DARK]
        assert qapp.palette().color(QPalette.ColorRole.Window).name().upper() == DARK.panel
        assert DARK.field in qapp.styleSheet()
        look.choose("system")
        assert look.theme == system_theme()
    finally:
        look.choose("light")
        look.changed.disconnect(heard.append)
    assert look.theme == LIGHT
    assert qapp.palette().color(QPalette.ColorRole.Window).name().upper() == LIGHT.panel


def test_figures_have_one_width(qapp: QApplication) -> None:
    metrics = QFontMetricsF(figures_font(SIZES_PX.title))
    assert {metrics.horizontalAdvance(figure) for figure in "0123456789"} == {metrics.horizontalAdvance("0")}
    assert text_font(SIZES_PX.verdict, bold=True).pixelSize() == 19
    assert text_font(bold=True).weight() > text_font().weight()
