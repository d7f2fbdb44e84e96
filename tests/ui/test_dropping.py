"""What may be dropped: one picture or one project; anything else is one sentence."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QMimeData, QUrl

from coverlayout.errors import BadInput
from coverlayout.ui.files.dropping import dropped_path, holds_files


def mime(*urls: str) -> QMimeData:
    made = QMimeData()
    made.setUrls([QUrl(url) for url in urls])
    return made


@pytest.mark.parametrize(
    ("urls", "name"),
    [
        (["file:///prints/moss.PNG"], "moss.PNG"),
        (["file:///jobs/tides.coverlayout"], "tides.coverlayout"),
        (["file:///jobs/letter.txt", "file:///prints/moss%20green.jpg"], "moss green.jpg"),
    ],
)
def test_a_picture_or_a_project_is_taken(urls: list[str], name: str) -> None:
    assert holds_files(mime(*urls))
    assert dropped_path(mime(*urls)).name == name


@pytest.mark.parametrize(
    ("urls", "words"),
    [
        (["file:///a.png", "file:///b.coverlayout"], "Drop one picture or one project at a time."),
        (["file:///jobs/letter.txt"], "letter.txt is neither a picture nor a project; drop a picture of your print"),
        (["https://example.org/moss.png"], "This is neither a picture nor a project"),
        (["file:///a.txt", "file:///b.txt"], "This is neither a picture nor a project"),
    ],
)
def test_anything_else_is_one_sentence(urls: list[str], words: str) -> None:
    with pytest.raises(BadInput) as caught:
        dropped_path(mime(*urls))
    assert str(caught.value).startswith(words)


def test_words_that_are_dragged_are_no_files() -> None:
    made = QMimeData()
    made.setText("moss.png")
    assert not holds_files(made)
