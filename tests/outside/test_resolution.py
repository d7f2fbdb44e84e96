"""Resolution fields of PNG, JPEG, TIFF and BMP against the formats' specifications and an independent writer."""

from __future__ import annotations

import pytest
from picture_samples import corners, encoded, hand_jpeg_density, hand_png, hand_tiff

from coverlayout.motif.tile import open_picture


def dpi(data: bytes) -> tuple[float | None, float | None, bool]:
    found = open_picture(data, "x").resolution
    return found.x_dpi, found.y_dpi, found.known


# PNG specification (ISO/IEC 15948), pHYs: whole pixels per metre. 300 dpi -> 11811 -> 299.9994; 600 -> 23622 ->
# 599.9988 (the handbook of the format prints 23622); 150 -> 5906 -> 150.0124; 96 -> 3780 -> 96.012. 72: arithmetic.
PNG_FIGURES = [
    (300, 11811, 299.9994, True),
    (600, 23622, 599.9988, True),
    (150, 5906, 150.0124, True),
    (96, 3780, 96.012, False),
    (72, 2835, 72.009, False),
]


@pytest.mark.parametrize(("written", "per_metre", "read", "known"), PNG_FIGURES)
def test_png_pixels_per_metre(written: int, per_metre: int, read: float, known: bool) -> None:
    by_pillow = encoded(corners(), "PNG", dpi=(written, written))
    at = by_pillow.index(b"pHYs") + 4
    assert int.from_bytes(by_pillow[at : at + 4], "big") == per_metre
    for data in (by_pillow, hand_png(4, 4, phys=(per_metre, per_metre, 1))):
        assert dpi(data) == (pytest.approx(read, abs=1e-6), pytest.approx(read, abs=1e-6), known)


def test_twelve_dots_a_millimetre_are_exact_in_png() -> None:
    opened = open_picture(hand_png(768, 1152, phys=(12000, 12000, 1)), "x")
    assert opened.size_from_file_mm == pytest.approx((64.0, 96.0), abs=1e-9)


@pytest.mark.parametrize(("unit", "x", "y", "read"), [(1, 300, 150, (300, 150)), (2, 120, 118, (304.8, 299.72))])
def test_jfif_density(unit: int, x: int, y: int, read: tuple[float, float]) -> None:
    # JFIF 1.02 (ITU-T T.871): units 1 dots per inch, 2 dots per centimetre.
    data = hand_jpeg_density(encoded(corners(), "JPEG"), unit, x, y)
    assert dpi(data) == (pytest.approx(read[0]), pytest.approx(read[1]), True)


def test_jfif_written_by_pillow() -> None:
    assert dpi(encoded(corners(), "JPEG", dpi=(300, 150))) == (300, 150, True)
    assert dpi(encoded(corners(), "JPEG", dpi=(72, 72))) == (72, 72, False)
    assert dpi(encoded(corners(), "JPEG")) == (None, None, False)


@pytest.mark.parametrize(
    ("unit", "fraction", "read"),
    [(2, (300, 1), 300), (2, (2999994, 10000), 299.9994), (3, (120, 1), 304.8), (3, (118110, 1000), 299.9994)],
)
def test_tiff_fields(unit: int, fraction: tuple[int, int], read: float) -> None:
    # TIFF 6.0, tags 282, 283 (fractions) and 296 (1 none, 2 inch, 3 centimetre).
    data = hand_tiff(4, 4, x=fraction, y=fraction, unit=unit)
    assert dpi(data) == (pytest.approx(read), pytest.approx(read), True)


def test_tiff_without_a_unit_of_length_or_without_fields() -> None:
    assert dpi(hand_tiff(4, 4, x=(300, 1), y=(300, 1), unit=1)) == (None, None, False)
    assert dpi(hand_tiff(4, 4)) == (None, None, False)
    # TIFF 6.0: a missing unit means inch.
    assert dpi(hand_tiff(4, 4, x=(300, 1), y=(200, 1))) == (300, 200, True)


def test_tiff_written_by_pillow() -> None:
    assert dpi(encoded(corners(), "TIFF", dpi=(300, 150))) == (300, 150, True)
    assert dpi(encoded(corners(), "TIFF", resolution_unit=3, x_resolution=120, y_resolution=120)) == (
        pytest.approx(304.8),
        pytest.approx(304.8),
        True,
    )


def test_bmp_written_without_a_resolution_reads_96_and_is_not_believed() -> None:
    x_dpi, y_dpi, known = dpi(encoded(corners(), "BMP"))
    assert (x_dpi, y_dpi, known) == (pytest.approx(96.01, abs=0.01), pytest.approx(96.01, abs=0.01), False)
    x_dpi, _, known = dpi(encoded(corners(), "BMP", dpi=(300, 300)))
    assert (x_dpi, known) == (pytest.approx(300, abs=0.02), True)
