"""The one question before unsaved work would be lost."""

from __future__ import annotations

from typing import Literal

from PySide6.QtWidgets import QMessageBox, QWidget

__all__ = ["Decision", "ask_unsaved"]

Decision = Literal["save", "drop", "stay"]


def ask_unsaved(parent: QWidget, name: str) -> Decision:
    """Save, do not save, or stay here."""
    box = QMessageBox(parent)
    box.setIcon(QMessageBox.Icon.NoIcon)
    box.setWindowTitle("Unsaved changes")
    box.setText(f"“{name}” has changes that are not saved.")
    save = box.addButton("Save", QMessageBox.ButtonRole.AcceptRole)
    drop = box.addButton("Don't save", QMessageBox.ButtonRole.DestructiveRole)
    stay = box.addButton("Cancel", QMessageBox.ButtonRole.RejectRole)
    box.setDefaultButton(save)
    box.setEscapeButton(stay)
    box.exec()
    if box.clickedButton() is save:
        return "save"
    return "drop" if box.clickedButton() is drop else "stay"
