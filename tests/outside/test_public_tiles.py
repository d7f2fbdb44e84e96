"""Figures of a public set of scanned prints: sizes, resolutions believed or not, repeats in pixels and mm.

The pictures were made from tiles of free packages (named item by item in the data file under `source`; MIT
and X11). Only their figures are carried here, none of the pictures: each is written anew with the same fields and size.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from picture_samples import encoded, exif_with, lopsided
from PIL import Image

from coverlayout.motif.lattice import Lattice
from coverlayout.motif.pixels import pixels
from coverlayout.motif.tile import open_picture

ITEMS: list[dict[str, Any]] = json.loads((Path(__file__).parent / "data/public_prints.json").read_text())


def written_anew(item: dict[str, Any]) -> bytes:
    """A picture of the item's kind, mode, stored resolution and upright size."""
    width_px, height_px = item["size_px"]
    options: dict[str, Any] = {"dpi": tuple(item["dpi_in_file"])} if item["dpi_in_file"] else {}
    image = Image.fromarray(lopsided(width_px, height_px))
    if item["made_as"] == "rgba":
        image.putalpha(200)
    elif item["made_as"] == "cmyk":
        image = image.convert("CMYK")
    elif item["made_as"] == "gray16":
        image = Image.fromarray(np.asarray(image.convert("L")).astype(np.uint16) * 257)
    elif item["made_as"] == "orient6":
        image = image.transpose(Image.Transpose.ROTATE_90)
        options["exif"] = exif_with(orientation=6)
    elif item["made_as"] == "tif_cm":
        per_cm = item["dpi_in_file"][0] / 2.54
        options = {"resolution_unit": 3, "x_resolution": per_cm, "y_resolution": per_cm}
    return encoded(image, {"jpg": "JPEG", "tif": "TIFF"}.get(item["kind"], item["kind"].upper()), **options)


@pytest.mark.parametrize("item", ITEMS, ids=lambda item: item["item"])
def test_size_and_resolution_as_published(item: dict[str, Any]) -> None:
    data = written_anew(item)
    opened = open_picture(data, item["item"])
    assert [opened.ref.width_px, opened.ref.height_px] == item["size_px"]
    assert opened.resolution.known == item["dpi_usable"]
    expected = item["dpi_upright"] or item["dpi_in_file"]
    if expected is not None:
        # PNG and BMP keep whole pixels per metre: up to 0.013 dpi off.
        assert opened.resolution.x_dpi == pytest.approx(expected[0], abs=0.02)
        assert opened.resolution.y_dpi == pytest.approx(expected[1], abs=0.02)
    assert pixels(data).shape[:2] == tuple(reversed(item["size_px"]))


@pytest.mark.parametrize("item", [item for item in ITEMS if item["vectors_mm"]], ids=lambda item: item["item"])
def test_repeats_in_mm_follow_from_the_files_resolution(item: dict[str, Any]) -> None:
    opened = open_picture(written_anew(item), item["item"])
    assert opened.size_from_file_mm is not None
    across, along = (mm / px for mm, px in zip(opened.size_from_file_mm, item["size_px"], strict=True))
    found = Lattice(*((x * across, y * along) for x, y in item["vectors_px"]))
    published = Lattice(*(tuple(vector) for vector in item["vectors_mm"]))
    # Whole pixels per metre make 150 dpi 150.0124: 0.004 mm on the longest repeat, 46.7 mm.
    assert found.same_as(published, within_mm=0.005)
    assert found.cell_area_mm2 == pytest.approx(published.cell_area_mm2, rel=2e-4)
