"""A page of a paper as a picture to look at."""

from __future__ import annotations

import io

import pypdfium2

__all__ = ["page_png"]


def page_png(pdf: bytes, page: int = 0, dots_per_inch: float = 110.0) -> bytes:
    """The page (counted from 0) of a PDF as a PNG. IndexError when there is no such page."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        if not 0 <= page < len(document):
            raise IndexError(page)
        picture = document[page].render(scale=dots_per_inch / 72.0).to_pil()
    finally:
        document.close()
    png = io.BytesIO()
    picture.save(png, "PNG", dpi=(dots_per_inch, dots_per_inch))
    return png.getvalue()
