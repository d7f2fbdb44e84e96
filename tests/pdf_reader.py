"""Reads lines (pypdf) and words (pdfium) out of a PDF: papers are measured by something other than their maker."""

from __future__ import annotations

import io

from pypdf import PdfReader
from pypdf.generic import ContentStream
from pypdfium2 import PdfDocument

MM_PER_PT = 25.4 / 72


def text_of(pdf: bytes) -> str:
    return "\n".join(pages_of(pdf))


def pages_of(pdf: bytes) -> list[str]:
    """The words of each page."""
    document = PdfDocument(pdf)
    try:
        return [page.get_textpage().get_text_range() for page in document]
    finally:
        document.close()


def page_sizes_mm(pdf: bytes) -> list[tuple[float, float]]:
    boxes = [page.mediabox for page in PdfReader(io.BytesIO(pdf)).pages]
    return [(float(box.width) * MM_PER_PT, float(box.height) * MM_PER_PT) for box in boxes]


def print_scaling(pdf: bytes) -> str:
    return str(PdfReader(io.BytesIO(pdf)).trailer["/Root"]["/ViewerPreferences"]["/PrintScaling"])


def stroked_outlines_mm(pdf: bytes, page: int = 0) -> list[list[tuple[float, float]]]:
    """Every stroked path of a page as points in mm from the page's top-left corner, y down."""
    reader = PdfReader(io.BytesIO(pdf))
    sheet = reader.pages[page]
    height_pt = float(sheet.mediabox.height)
    matrix, saved, path, found = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0), [], [], []
    for operands, operator in ContentStream(sheet.get_contents(), reader).operations:
        numbers = [float(n) for n in operands] if operator in (b"cm", b"m", b"l") else []
        if operator == b"q":
            saved.append(matrix)
        elif operator == b"Q":
            matrix = saved.pop()
        elif operator == b"cm":
            a, b, c, d, e, f = numbers
            ma, mb, mc, md, me, mf = matrix
            matrix = (
                a * ma + b * mc, a * mb + b * md, c * ma + d * mc, c * mb + d * md,
                e * ma + f * mc + me, e * mb + f * md + mf,
            )  # fmt: skip
        elif operator in (b"m", b"l"):
            x, y = numbers
            ma, mb, mc, md, me, mf = matrix
            place = (x * ma + y * mc + me) * MM_PER_PT, (height_pt - (x * mb + y * md + mf)) * MM_PER_PT
            path.append([place]) if operator == b"m" else path[-1].append(place)
        elif operator in (b"S", b"s"):
            found += path
            path = []
        elif operator in (b"f", b"F", b"f*", b"B", b"b", b"n"):
            path = []
    return found
