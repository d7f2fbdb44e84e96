"""The look in force: the system's or the maker's choice, as the palette and the style sheet of the application."""

from __future__ import annotations

from string import Template
from typing import Literal

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QColor, QGuiApplication, QPalette
from PySide6.QtWidgets import QApplication

from coverlayout.ui.theme import CORNER_PX, DARK, LIGHT, SIZES_PX, Theme

__all__ = ["Choice", "Look", "palette", "stylesheet", "system_theme"]

Choice = Literal["light", "dark", "system"]


def system_theme() -> Theme:
    """Light or dark as the system asks; light when it does not say."""
    return DARK if QGuiApplication.styleHints().colorScheme() == Qt.ColorScheme.Dark else LIGHT


class Look(QObject):
    """The look in force: follows the system until the maker chooses light or dark; `changed` carries the new Theme.

    It dresses the whole application (palette and style sheet) and keeps it dressed when the system changes its mind;
    not `at_once`: when `dress` is called first. Widgets made before are dressed in a third of the time.
    """

    changed = Signal(object)

    def __init__(self, application: QApplication, choice: Choice = "system", *, at_once: bool = True) -> None:
        super().__init__(application)
        self._application = application
        self.choice: Choice = choice
        self.theme = self._wanted()
        application.setStyle("Fusion")
        if at_once:
            self.dress()
        QGuiApplication.styleHints().colorSchemeChanged.connect(self._follow)

    def choose(self, choice: Choice) -> None:
        """Light, dark, or as the system asks."""
        self.choice = choice
        self._follow()

    def _wanted(self) -> Theme:
        return system_theme() if self.choice == "system" else (DARK if self.choice == "dark" else LIGHT)

    def _follow(self, *_scheme: object) -> None:
        if (wanted := self._wanted()) != self.theme:
            self.theme = wanted
            self.dress()
            self.changed.emit(wanted)

    def dress(self) -> None:
        """Give the application the look in force."""
        # One style sheet in place of another takes four times as long as none in between.
        self._application.setStyleSheet("")
        self._application.setPalette(palette(self.theme))
        for each in ("QCheckBox", "QRadioButton"):
            # PySide6 says bytes are wanted and takes only str.
            self._application.setPalette(box_palette(self.theme), each)  # type: ignore[arg-type]  # see above
        self._application.setStyleSheet(stylesheet(self.theme))


def palette(theme: Theme) -> QPalette:
    """The colours Qt's own parts use, so that nothing stays in another look."""
    role = QPalette.ColorRole
    colors = {
        role.Window: theme.panel,
        role.WindowText: theme.ink,
        role.Base: theme.field,
        role.AlternateBase: theme.panel,
        role.Text: theme.ink,
        role.PlaceholderText: theme.muted,
        role.Button: theme.field,
        role.ButtonText: theme.ink,
        role.BrightText: theme.no,
        role.Highlight: theme.accent,
        role.HighlightedText: theme.on_accent,
        role.ToolTipBase: theme.ink,
        role.ToolTipText: theme.panel,
        role.Link: theme.accent,
        role.LinkVisited: theme.accent,
        role.Accent: theme.accent,
        role.Mid: theme.line,
        role.Dark: theme.line,
        role.Light: theme.field,
        role.Midlight: theme.panel,
        role.Shadow: theme.line,
    }
    made = QPalette()
    for each, color in colors.items():
        made.setColor(each, QColor(color))
    for each in (role.WindowText, role.Text, role.ButtonText):
        made.setColor(QPalette.ColorGroup.Disabled, each, theme.color("muted", 0.7))
    return made


def box_palette(theme: Theme) -> QPalette:
    """The colours of small boxes to tick: Fusion draws their edge as a shade of what they stand on, which would vanish.

    It takes the window's colour with its brightness divided by 1.4, then multiplied by 1.1.
    """
    made = palette(theme)
    made.setColor(QPalette.ColorRole.Window, QColor(theme.line).lighter(_EDGE_SHADE_PERCENT))
    return made


# 100 x 1.4 / 1.1.
_EDGE_SHADE_PERCENT = 127

_SHEET = Template("""
QWidget { font-size: ${text}px; }
QLabel[role="muted"] { color: $muted; font-size: ${small}px; }
QLabel[role="hint"] { color: $muted; }
QLabel[role="title"] { font-size: ${title}px; font-weight: 600; }
QLabel[role="verdict"] { font-size: ${verdict}px; font-weight: 700; }
QLabel[state="fits"] { color: $fits; }
QLabel[state="tight"] { color: $tight; }
QLabel[state="no"] { color: $no; }
QLineEdit, QComboBox, QAbstractSpinBox, QPlainTextEdit {
    background: $field; color: $ink; border: 1px solid $line; border-radius: ${corner}px; padding: 4px 8px;
    min-height: 20px; selection-background-color: $accent; selection-color: $on_accent;
}
QLineEdit:focus, QComboBox:focus, QAbstractSpinBox:focus, QPlainTextEdit:focus {
    border: 2px solid $accent; padding: 3px 7px;
}
QLineEdit[state="no"] { border: 2px solid $no; padding: 3px 7px; }
QLineEdit:disabled, QComboBox:disabled, QAbstractSpinBox:disabled { color: $muted; background: $panel; }
QPushButton, QToolButton {
    background: $field; color: $ink; border: 1px solid $line; border-radius: ${corner}px;
    padding: 4px 12px; min-height: 20px;
}
QPushButton, QToolButton, QTabBar { outline: 0; }
QPushButton:hover, QToolButton:hover { border-color: $accent; }
QPushButton:focus, QToolButton:focus { border: 2px solid $accent; padding: 3px 11px; }
QPushButton:pressed, QToolButton:pressed { background: $panel; }
QPushButton:checked, QToolButton:checked { background: $accent; color: $on_accent; border-color: $accent; }
QPushButton:checked:focus, QToolButton:checked:focus { border: 2px solid $ink; padding: 3px 11px; }
QPushButton:disabled, QToolButton:disabled { color: $muted; background: $panel; }
QPushButton[role="first"] { background: $accent; color: $on_accent; border: 1px solid $accent; font-weight: 600; }
QPushButton[role="first"]:focus { border: 2px solid $ink; }
QPushButton[role="first"]:disabled { background: $panel; color: $muted; border-color: $line; }
QPushButton[role="quiet"] { background: transparent; border: 1px solid transparent; }
QPushButton[role="quiet"]:hover { border-color: $line; }
QPushButton[role="quiet"]:focus { border: 2px solid $accent; }
QToolTip { background: $ink; color: $panel; border: 0; padding: 4px 8px; }
QMenu { background: $field; color: $ink; border: 1px solid $line; padding: 4px; }
QMenu::item { padding: 4px 24px 4px 12px; border-radius: ${corner}px; }
QMenu::item:selected { background: $accent; color: $on_accent; }
QMenu::item:disabled { color: $muted; }
QMenu::separator { height: 1px; background: $line; margin: 4px 8px; }
QPushButton[role="fold"] {
    background: transparent; border: 1px solid transparent; text-align: left; padding: 4px 2px; font-weight: 600;
}
QPushButton[role="fold"]:checked { color: $ink; }
QPushButton[role="fold"]:hover { color: $accent; }
QPushButton[role="fold"]:focus { border: 2px solid $accent; padding: 3px 1px; }
QPushButton[role="more"] { background: transparent; border: 1px solid transparent; color: $accent; padding: 4px 2px;
    text-align: left; }
QPushButton[role="more"]:hover { text-decoration: underline; }
QPushButton[role="more"]:disabled { color: $line; }
QPushButton[role="more"]:focus { border: 2px solid $accent; padding: 3px 1px; }
QWidget[role="line"] { background: $canvas; }
QFileDialog QToolButton, QFileDialog QToolButton:disabled { padding: 2px; min-width: 22px; background: $under_icons; }
QComboBox::drop-down { border: 0; width: 20px; }
QComboBox::down-arrow { image: none; }
QComboBox { combobox-popup: 0; }
QComboBox QAbstractItemView { background: $field; color: $ink; border: 1px solid $line; padding: 0; outline: 0; }
QComboBox QAbstractItemView::item { min-height: 26px; padding: 0 8px; }
QComboBox QAbstractItemView::item:selected { background: $accent; color: $on_accent; }
QMenuBar { background: transparent; border: 0; }
QMenuBar::item { background: transparent; padding: 6px; border-radius: ${corner}px; }
QMenuBar QToolButton { padding: 0; min-height: 0; background: $under_icons; }
QMenuBar::item:selected { background: $canvas; }
QTabBar::tab {
    background: transparent; color: $muted; border: 0; border-bottom: 2px solid transparent; padding: 4px 12px;
}
QTabBar::tab:hover { color: $ink; }
QTabBar::tab:selected { color: $ink; border-bottom-color: $accent; font-weight: 600; }
QTabBar::tab:focus { border: 2px solid $accent; border-radius: ${corner}px; padding: 2px 10px; }
QAbstractItemView { selection-background-color: $accent; selection-color: $on_accent; }
QListWidget, QTableWidget { background: $field; color: $ink; border: 1px solid $line; border-radius: ${corner}px; }
QListWidget:focus, QTableWidget:focus { border: 2px solid $accent; }
QListWidget::item { padding: 3px 4px; }
QListWidget::item:selected, QTableWidget::item:selected { background: $accent; color: $on_accent; }
QTableWidget[role="small"] { font-size: ${small}px; }
QTableWidget::item { padding: 0 2px; }
QHeaderView { background: transparent; border: 0; }
QHeaderView::section {
    background: transparent; color: $muted; border: 0; padding: 4px 2px; font-size: ${small}px;
    font-weight: 400;
}
QTableCornerButton::section { background: transparent; border: 0; }
QScrollArea, QScrollArea > QWidget > QWidget { background: transparent; border: 0; }
QScrollBar:vertical { width: 12px; background: transparent; margin: 0; }
QScrollBar:horizontal { height: 12px; background: transparent; margin: 0; }
QScrollBar::handle { background: $line; border-radius: 4px; margin: 2px; min-height: 24px; min-width: 24px; }
QScrollBar::add-line, QScrollBar::sub-line { width: 0; height: 0; }
QScrollBar::add-page, QScrollBar::sub-page { background: transparent; }
""")


def stylesheet(theme: Theme) -> str:
    """The style sheet of the application.

    Widgets choose by properties: `role` first, quiet, muted, hint, title, verdict; `state` fits, tight, no.
    """
    colors = {name: value for name, value in vars(theme).items() if name != "name"}
    # The pictures on the buttons of Qt's file dialog are dark in every look.
    colors["under_icons"] = theme.field if theme.name == "light" else theme.muted
    return _SHEET.substitute(colors, corner=CORNER_PX, **vars(SIZES_PX))
