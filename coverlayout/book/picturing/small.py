"""Each structure as a picture small enough for a list to choose from: stout figures, nothing shortened."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from coverlayout.book.book import Book, Structure, TurnIns
from coverlayout.book.picturing.cut_through import cut_through
from coverlayout.book.picturing.flat_plan import flat_plan
from coverlayout.book.picturing.shapes import Picture, Role, Shape

__all__ = ["structure_picture"]

# What tells these apart lies on the boards, so the cover is shown from outside.
_SHOWN_FLAT = ("quarter-case", "half-case")
_PLAIN: tuple[Role, ...] = ("unseen", "turn-in", "liner edge", "mitre", "joint", "lap", "hidden", "fold", "cut")


@cache
def structure_picture(structure: Structure) -> Picture:
    """A cut through such a book, or its cover laid flat, without measures or words. BadInput for a list of parts.

    >>> picture = structure_picture("flat-case")
    >>> picture.measures, sorted(picture.roles)
    ((), ['board', 'cloth', 'section'])
    """
    book = Book(
        "small",
        structure,
        structure,
        block_mm=(30.0, 34.0, 14.0),
        board_thickness_mm=3.0,
        square_mm=2.0,
        board_setback_mm=0.0,
        joint_mm=5.0,
        hinge_mm=9.0,
        spine_on_board_mm=9.0,
        corner_leg_mm=14.0,
        side_lap_mm=1.0,
        slipcase_clearance_mm=1.5,
        turn_ins=TurnIns.all_round(8.0),
        liners="none",
    )
    if structure in _SHOWN_FLAT:
        whole = flat_plan(book, book.volumes[0])
        kept = tuple(shape for shape in whole.shapes if shape.role not in _PLAIN)
    else:
        whole = cut_through(book, book.volumes[0])
        kept = tuple(shape for shape in whole.shapes if _is_plain_to_see(shape, structure))
    return replace(whole, shapes=kept, measures=(), words=())


def _is_plain_to_see(shape: Shape, structure: Structure) -> bool:
    """No waves, of sections only the outer leaf, where there are several, and of a pile every other leaf."""
    inner_leaf = shape.role == "section" and not shape.closed and structure not in ("limp-wrap", "accordion")
    is_second = shape.name.startswith("leaf") and int(shape.name.split()[1]) % 2 == 0
    return shape.role not in ("break", "wave") and not inner_leaf and not is_second
