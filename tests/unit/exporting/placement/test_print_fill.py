from __future__ import annotations

import io

import numpy as np
import pytest
from PIL import Image
from pypdf import PdfReader

from coverlayout.exporting.paper import Paper
from coverlayout.exporting.picture import page_png
from coverlayout.exporting.placement.print_fill import PrintFill
from coverlayout.geometry.frames import Affine, cloth_to_back, scale, shift, turn
from coverlayout.geometry.shapes import rectangle
from coverlayout.motif.drawn import DrawnTile

# Four pixels without any symmetry, 2 mm each: red, green over blue, grey.
COLOURS = np.array([[[200, 30, 30], [30, 160, 30]], [[30, 30, 200], [120, 120, 120]]], np.uint8)
TILE = DrawnTile(np.kron(COLOURS, np.ones((8, 8, 1), np.uint8)), scale(0.25))


def colour_by_formula(point_mm: tuple[float, float]) -> np.ndarray:
    x, y = point_mm
    return COLOURS[int(y // 2) % 2, int(x // 2) % 2]


@pytest.mark.parametrize(
    "print_to_page",
    [shift(3.0, 5.0), turn(90).then(shift(61.0, 7.0)), scale(1.5).then(shift(2.0, 1.0)), cloth_to_back(60.0)],
    ids=["shifted", "turned", "scaled", "mirrored"],
)
def test_the_print_lies_where_the_map_says(print_to_page: Affine):
    paper = Paper(60.0, 40.0, "t")
    PrintFill(paper, "p", TILE).fill((rectangle(60.0, 40.0),), print_to_page)
    dots_per_mm = 10.0
    picture = np.asarray(
        Image.open(io.BytesIO(page_png(paper.finished(), dots_per_inch=25.4 * dots_per_mm))).convert("RGB")
    )
    to_print = print_to_page.inverse()
    checked = 0
    for x_mm in np.arange(0.53, 59.5, 1.37):
        for y_mm in np.arange(0.71, 39.5, 1.91):
            place = to_print.at((x_mm, y_mm))
            if min(abs((value + 1) % 2 - 1) for value in place) < 0.3:
                continue  # too near a border between colours to be told apart in pixels
            seen = picture[int(y_mm * dots_per_mm), int(x_mm * dots_per_mm)].astype(int)
            assert np.abs(seen - colour_by_formula(place)).max() <= 6, (x_mm, y_mm)
            checked += 1
    assert checked > 300


def test_tiles_overlap_by_a_pixel_so_that_no_viewer_shows_a_light_line_between_them():
    paper = Paper(60.0, 40.0, "t")
    PrintFill(paper, "p", TILE).fill((rectangle(60.0, 40.0),), shift(0.0, 0.0))
    page = PdfReader(io.BytesIO(paper.finished())).pages[0]
    block = page["/Resources"]["/XObject"]["/FormXob.p-8"]
    tile = block["/Resources"]["/XObject"]["/FormXob.p-1"]
    (picture,) = tile["/Resources"]["/XObject"].values()
    # 16 x 16 pixels and one more on every side, drawn over the unit square and a sixteenth more.
    assert [float(edge) for edge in tile["/BBox"]] == [-0.0625, -0.0625, 1.0625, 1.0625]
    assert (picture.get_object()["/Width"], picture.get_object()["/Height"]) == (18, 18)


def test_nothing_is_drawn_outside_the_outline():
    paper = Paper(60.0, 40.0, "t")
    PrintFill(paper, "p", TILE).fill((rectangle(20.0, 10.0, 5.0, 5.0),), shift(0.0, 0.0))
    picture = np.asarray(Image.open(io.BytesIO(page_png(paper.finished(), dots_per_inch=254.0))).convert("RGB"))
    assert (picture[:, 260:] == 255).all()
    assert (picture[160:] == 255).all()
