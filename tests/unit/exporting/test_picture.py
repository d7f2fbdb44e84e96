from __future__ import annotations

import io

import numpy as np
import pytest
from PIL import Image

from coverlayout.exporting.paper import Paper
from coverlayout.exporting.picture import page_png


def test_a_page_comes_out_at_its_size_with_what_is_on_it():
    paper = Paper(101.6, 50.8, "t")  # 4 x 2 in
    paper.fill(((50.8, 0.0), (101.6, 0.0), (101.6, 50.8), (50.8, 50.8)), (0.0, 0.0, 0.0))
    picture = Image.open(io.BytesIO(page_png(paper.finished(), dots_per_inch=100.0)))
    assert picture.size == (400, 200)
    levels = np.asarray(picture.convert("L"))
    assert levels[:, :195].min() == 255
    assert levels[:, 205:].max() == 0


def test_a_page_that_is_not_there_is_refused():
    with pytest.raises(IndexError):
        page_png(Paper(50.0, 50.0, "t").finished(), page=1)
