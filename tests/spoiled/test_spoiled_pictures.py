"""Every spoiled picture on the shelf gets the one sentence that says what is wrong with it."""

from __future__ import annotations

import tracemalloc
from pathlib import Path

import pytest

from coverlayout.errors import BadInput
from coverlayout.motif.pixels import pixels
from coverlayout.motif.tile import open_picture

SHELF = Path(__file__).parent / "pictures"
FAULTS = {
    "a-drawing-program.eps": "picture-unknown-kind",
    "claims-more-than-it-holds.png": "picture-cut-short",
    "cut-short.bmp": "picture-cut-short",
    "cut-short.gif": "picture-damaged",
    "cut-short.jpg": "picture-cut-short",
    "cut-short.png": "picture-cut-short",
    "cut-short.tif": "picture-cut-short",
    "cut-short.webp": "picture-damaged",
    "empty.jpg": "picture-empty",
    "forty-thousand-wide.png": "picture-too-large",
    "header-only.jpg": "picture-damaged",
    "no-height.gif": "picture-no-pixels",
    "no-width.png": "picture-no-pixels",
    "not-a-picture.png": "picture-unknown-kind",
    "one-wrong-bit.png": "picture-cut-short",
    "text-that-swells.png": "picture-damaged",
    "too-many-pixels.gif": "picture-too-large",
}


def test_the_shelf_and_the_list_name_the_same_pictures() -> None:
    assert sorted(path.name for path in SHELF.iterdir() if path.suffix != ".md") == sorted(FAULTS)


@pytest.mark.parametrize("name", FAULTS)
def test_each_spoiled_picture_says_one_sentence(name: str) -> None:
    data = (SHELF / name).read_bytes()
    tracemalloc.start()
    try:
        with pytest.raises(BadInput) as fault:
            open_picture(data, name)
        peak = tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()
    assert fault.value.code == FAULTS[name]
    sentence = str(fault.value)
    assert sentence.startswith(f"{name}: ")
    assert "\n" not in sentence
    # None is believed far enough to set memory aside for what it claims.
    assert peak < 30_000_000


@pytest.mark.parametrize(
    "name", [name for name, code in FAULTS.items() if "large" not in code and "claims" not in name]
)
def test_decoding_one_unopened_is_as_safe(name: str) -> None:
    with pytest.raises(BadInput):
        pixels((SHELF / name).read_bytes(), name=name)
