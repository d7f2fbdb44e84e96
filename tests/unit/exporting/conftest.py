from __future__ import annotations

import pytest

from coverlayout.book.book import Book, OwnPiece
from coverlayout.cloth.cloth import Cloth, Flaw
from coverlayout.document.project import CutPiece, Layout, Project
from coverlayout.layout.question import Placed
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print

L_SHAPE = ((0.0, 0.0), (60.0, 0.0), (60.0, 20.0), (25.0, 20.0), (25.0, 80.0), (0.0, 80.0))


@pytest.fixture
def project() -> Project:
    """Nothing in it is symmetric: an L-shaped piece turned a quarter, a sheared print, a flaw off the middle."""
    sheared = Print("p", "Signal flags", Lattice((50.0, 12.0), (7.0, 64.0)), layout="vectors", up="any")
    cloth = Cloth(
        "c",
        "Chart-room blue",
        500.0,
        420.0,
        laid=LaidPrint("p", origin_mm=(11.0, 23.0), turn_deg=0.0),
        flaws=(Flaw("f", "rust stain", ((420.0, 40.0), (440.0, 38.0), (436.0, 60.0), (419.0, 58.0))),),
    )
    book = Book("b", "Log", page_mm=(114.3, 152.4), cover_turns="none", liner_turns="quarter")
    corner = OwnPiece("o", "corner", outline_mm=L_SHAPE, count=2, turns="quarter")
    placed = (
        Placed("front-1", "c", 100.0, 120.0, 0.0),
        Placed("back-1", "c", 260.0, 130.0, 0.0),
        Placed("liner-front-1", "c", 120.0, 300.0, 90.0),
        Placed("corner-1", "c", 420.0, 150.0, 90.0),
    )
    return Project(
        "Lighthouse logs",
        (sheared,),
        (cloth,),
        (book,),
        (corner,),
        layouts=(Layout("layout-1", "First", placed),),
        cut_pieces=(
            CutPiece(
                "label-1",
                "label",
                "cut",
                ((0.0, 0.0), (40.0, 0.0), (40.0, 20.0), (0.0, 20.0)),
                (20.0, 10.0),
                Placed("label-1", "c", 430.0, 380.0),
            ),
        ),
    )
