"""The look in force: what the maker chose, else what the system asks for."""

from __future__ import annotations

from PySide6.QtGui import QFontMetricsF, QPalette
from PySide6.QtWidgets import QApplication, QCheckBox

from coverlayout.ui.look import Look, stylesheet, system_theme
from coverlayout.ui.theme import DARK, LIGHT, SIZES_PX, contrast, figures_font, text_font


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


def test_the_edge_of_a_small_box_can_be_seen(look: Look, qapp: QApplication) -> None:
    try:
        for choice, theme in (("light", LIGHT), ("dark", DARK)):
            look.choose(choice)
            box = QCheckBox("trimmed")
            box.resize(120, 24)
            image = box.grab().toImage()
            # WCAG 2, success criterion 1.4.11: 3 for the edges of controls; a tenth is left to smoothing.
            best = max(contrast(image.pixelColor(x, 12).name(), theme.panel) for x in range(6))
            assert best >= 2.7, f"{choice}: {best:.2f}"
            box.deleteLater()
    finally:
        look.choose("light")


def test_chosen_rows_and_buttons_of_the_file_dialog_can_be_read() -> None:
    for theme in (LIGHT, DARK):
        sheet = stylesheet(theme)
        assert f"selection-background-color: {theme.accent}; selection-color: {theme.on_accent}" in sheet
        ground = sheet.split("QFileDialog QToolButton:disabled")[1].split("background: ")[1][:7]
        # The pictures on those buttons are black.
        assert contrast(ground, "#000000") >= 4.5
