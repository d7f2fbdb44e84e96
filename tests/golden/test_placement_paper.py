"""The drawing of the demo's first ledger, compared with a kept one line by line in mm, never byte by byte.

`python tests/golden/test_placement_paper.py` writes the kept lines anew after a change that is meant.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

import pytest

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE.parent))

from pdf_reader import stroked_outlines_mm, text_of  # noqa: E402  (the folder of shared readers is put in reach first)

from coverlayout.document.file import load  # noqa: E402
from coverlayout.document.project import Layout  # noqa: E402
from coverlayout.errors import Remark  # noqa: E402
from coverlayout.exporting.placement.pages import placement_pdf  # noqa: E402
from coverlayout.layout.question import Placed  # noqa: E402

KEPT = HERE / "placement_paper.json"
DEMO = HERE.parents[1] / "sample_prints" / "salt-works.coverlayout"
SAME_MM = 0.05


def drawn(side: str) -> dict[str, object]:
    """Every line of the page, rounded to 0.01 mm, and its words, for a layout given by hand."""
    opened = load(DEMO)
    wader, stripe = (cloth.id for cloth in opened.project.cloths)
    placed = (
        Placed("front-1", wader, 250.0, 140.0),
        Placed("back-1", wader, 450.0, 150.0),
        Placed("liner-front-1", stripe, 120.0, 130.0),
        Placed("liner-back-1", stripe, 300.0, 140.0, 180.0),
    )
    project = opened.project.with_layout(Layout(opened.project.layout_id, "By hand", placed))
    pdf = placement_pdf(project, opened.pictures, side, Remark.of("paper-valid", room_mm=20.0))
    lines = [
        [[round(x, 2), round(y, 2)] for x, y in points] for page in (0, 1) for points in stroked_outlines_mm(pdf, page)
    ]
    return {"lines": lines, "words": text_of(pdf).split()}


@pytest.mark.parametrize("side", ["print", "back"])
def test_the_drawing_is_the_kept_one(side):
    kept, now = json.loads(KEPT.read_text(encoding="utf-8"))[side], drawn(side)
    assert now["words"] == kept["words"]
    assert len(now["lines"]) == len(kept["lines"])
    for line, kept_line in zip(now["lines"], kept["lines"], strict=True):
        assert len(line) == len(kept_line)
        for point, kept_point in zip(line, kept_line, strict=True):
            assert point == pytest.approx(kept_point, abs=SAME_MM)


if __name__ == "__main__":
    KEPT.write_text(json.dumps({side: drawn(side) for side in ("print", "back")}), encoding="utf-8")
