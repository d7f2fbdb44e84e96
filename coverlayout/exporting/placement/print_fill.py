"""The print on paper: the tile as one form object placed many times, exact in mm, clipped to an outline."""

from __future__ import annotations

import math

import numpy as np
from PIL import Image
from reportlab.lib.units import mm as PT_PER_MM  # noqa: N812  (a figure, not a function)
from reportlab.lib.utils import ImageReader

from coverlayout.exporting.paper import Paper
from coverlayout.geometry.frames import Affine, Ring
from coverlayout.geometry.shapes import bounds
from coverlayout.motif.drawn import DrawnTile

__all__ = ["PrintFill"]

# One form holds a block of this many tiles each way: far fewer objects to place on a large cloth of a small print.
_BLOCK = 8


class PrintFill:
    """A print ready to fill outlines on one `Paper`; make it once a paper and use it for every outline."""

    def __init__(self, paper: Paper, name: str, tile: DrawnTile) -> None:
        """Put the tile, and a block of them, into form objects called after `name`."""
        self._paper, self._name, self._tile = paper, name, tile
        rows, columns, _ = tile.rgb.shape
        self._columns_px, self._rows_px = columns, rows
        canvas = paper.canvas
        # One pixel of the neighbours goes along on every side: no light line shows where two tiles meet.
        wide, high = 1 / columns, 1 / rows
        picture = ImageReader(Image.fromarray(np.pad(tile.rgb, ((1, 1), (1, 1), (0, 0)), mode="wrap")))
        canvas.beginForm(f"{name}-1", -wide, -high, 1 + wide, 1 + high)
        canvas.drawImage(picture, -wide, -high, 1 + 2 * wide, 1 + 2 * high)
        canvas.endForm()
        canvas.beginForm(f"{name}-{_BLOCK}", -wide, -high, _BLOCK + wide, _BLOCK + high)
        for column in range(_BLOCK):
            for row in range(_BLOCK):
                canvas.saveState()
                canvas.translate(column, row)
                canvas.doForm(f"{name}-1")
                canvas.restoreState()
        canvas.endForm()

    def fill(self, outlines: tuple[Ring, ...], print_to_page: Affine) -> None:
        """Fill the outlines (page mm) with the print, whose frame `print_to_page` maps to page mm."""
        unit_to_page = self._unit_square().then(self._tile.to_print).then(print_to_page)
        corners = [unit_to_page.inverse().at(point) for ring in outlines for point in bounds(ring).ring()]
        box = bounds(corners)
        canvas = self._paper.canvas
        canvas.saveState()
        self._paper.clip(outlines)
        self._set_frame(unit_to_page)
        for column in range(*_blocks(box.left_mm, box.right_mm)):
            for row in range(*_blocks(box.top_mm, box.bottom_mm)):
                canvas.saveState()
                canvas.translate(column * _BLOCK, row * _BLOCK)
                canvas.doForm(f"{self._name}-{_BLOCK}")
                canvas.restoreState()
        canvas.restoreState()

    def _unit_square(self) -> Affine:
        """Unit square with y up (as a PDF picture lies) to tile pixels with y down."""
        return Affine(xx=self._columns_px, yy=-self._rows_px, dy=self._rows_px)

    def _set_frame(self, unit_to_page: Affine) -> None:
        """Make the unit square's frame the one being drawn in."""
        page_to_pt = Affine(xx=PT_PER_MM, yy=-PT_PER_MM, dy=self._paper.height_mm * PT_PER_MM)
        frame = unit_to_page.then(page_to_pt)
        self._paper.canvas.transform(frame.xx, frame.yx, frame.xy, frame.yy, frame.dx, frame.dy)


def _blocks(low: float, high: float) -> tuple[int, int]:
    return math.floor(low / _BLOCK), math.ceil(high / _BLOCK)
