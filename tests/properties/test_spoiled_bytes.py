"""Pictures spoiled at any byte are opened or refused in one sentence; nothing else comes out, no warning either."""

from __future__ import annotations

import warnings

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from picture_samples import encoded, exif_with, lopsided, ramp16
from PIL import Image

from coverlayout.errors import BadInput
from coverlayout.motif.picture.decoder import LONGEST_SIDE_PX
from coverlayout.motif.pixels import pixels
from coverlayout.motif.tile import open_picture

EXIF = exif_with(orientation=6, x_dpi=300.0, y_dpi=200.0, unit=2)
FRAMES = [Image.fromarray(lopsided(12, 8, seed)) for seed in (1, 2)]
GOOD = {
    "png": encoded(lopsided(12, 8), "PNG", dpi=(300, 300), exif=EXIF),
    "palette png": encoded(FRAMES[0].quantize(7), "PNG", transparency=bytes(range(7))),
    "sixteen-bit png": encoded(ramp16(12, 4), "PNG"),
    "jpeg": encoded(lopsided(12, 8), "JPEG", dpi=(300, 200), exif=EXIF),
    "cmyk jpeg": encoded(FRAMES[0].convert("CMYK"), "JPEG", progressive=True),
    "tiff": encoded(lopsided(12, 8), "TIFF", dpi=(300, 200)),
    "packed tiff": encoded(lopsided(12, 8), "TIFF", compression="tiff_lzw"),
    "webp": encoded(lopsided(12, 8), "WEBP", exif=EXIF),
    "bmp": encoded(lopsided(12, 8), "BMP"),
    "gif": encoded(FRAMES[0], "GIF", save_all=True, append_images=FRAMES[1:]),
}


def opened_or_refused(data: bytes) -> None:
    try:
        opened = open_picture(data, "x")
    except BadInput:
        return
    assert 0 < opened.ref.width_px <= LONGEST_SIDE_PX
    # A header that claims much is believed only as far as a test may wait.
    if opened.ref.width_px * opened.ref.height_px > 1_000_000:
        return
    try:
        rgb = pixels(data, longest_px=64)
    except BadInput:
        return
    assert rgb.dtype == np.uint8
    assert rgb.ndim == 3


@pytest.mark.parametrize("name", GOOD)
@settings(max_examples=60)
@given(st.data())
def test_bytes_written_over(name: str, data: st.DataObject) -> None:
    spoiled = bytearray(GOOD[name])
    # The first bytes tell the kind; most of what matters stands near them.
    places = st.one_of(st.integers(3, min(120, len(spoiled) - 1)), st.integers(3, len(spoiled) - 1))
    for place, value in data.draw(st.lists(st.tuples(places, st.integers(0, 255)), min_size=1, max_size=6)):
        spoiled[place] = value
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        opened_or_refused(bytes(spoiled))


@pytest.mark.parametrize("name", GOOD)
@settings(max_examples=40)
@given(st.data())
def test_files_cut_anywhere(name: str, data: st.DataObject) -> None:
    opened_or_refused(GOOD[name][: data.draw(st.integers(0, len(GOOD[name])))])
