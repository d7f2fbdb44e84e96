"""What the tests of the window share: a session, what was said, and hands that type and choose."""

from __future__ import annotations

import pytest

from coverlayout.document.session import Session
from coverlayout.ui.fields.entry import Choice, Entry


class Hands:
    """Types into fields and chooses words as a maker would, and keeps what the panels said."""

    def __init__(self) -> None:
        self.said: list[tuple[str, bool]] = []

    def hear(self, sentence: str, trouble: bool) -> None:
        self.said.append((sentence, trouble))

    def type(self, entry: Entry, text: str) -> None:
        entry.line.setText(text)
        entry.line.setModified(True)
        entry.line.editingFinished.emit()

    def choose(self, choice: Choice, words: str) -> None:
        at = choice.box.findText(words)
        assert at >= 0, f"{words} is not among {[choice.box.itemText(k) for k in range(choice.box.count())]}"
        choice.box.setCurrentIndex(at)
        choice.box.activated.emit(at)


@pytest.fixture
def hands() -> Hands:
    return Hands()


@pytest.fixture
def session() -> Session:
    return Session()
