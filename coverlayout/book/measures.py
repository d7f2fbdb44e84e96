"""Every figure of one volume of a book: those the maker gave as they are, the others by the rules of the trade."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache

from coverlayout.book.book import Book, SpinePiece, Volume
from coverlayout.book.paper.block import block_of
from coverlayout.book.paper.folding import folded, pieces_there
from coverlayout.book.round_spine import arc_mm, rise_of_arc_mm, third_of_circle_rise_mm
from coverlayout.book.rules.belonging import WRAPPED, belongs, spine_piece_of
from coverlayout.book.rules.figures import (
    board_from_mm,
    board_over_page_mm,
    figure_mm,
    from_spine_mm,
    joint_mm,
    tail_square_mm,
)
from coverlayout.book.rules.table import rule
from coverlayout.errors import BadInput
from coverlayout.geometry.frames import Point

__all__ = [
    "Measures",
    "as_measured_mm",
    "block_thickness_mm",
    "board_size_mm",
    "measured_thickness_mm",
    "measures",
    "page_size_mm",
    "without_paper",
]

# The cloth goes round the block of these, so nothing can be cut before its thickness is known.
_NEED_THICKNESS = (*WRAPPED, "slipcase")


@dataclass(frozen=True)
class Measures:
    """The figures of one volume, all in mm; what its structure does not have is 0.

    `board_mm` is a whole cover board (of a side-sewn book with hinge and joint, of a limp wrap its face, of a slipcase
    the side wall), `board_from_mm` how far from the back of the closed block its spine edge lies. `spine_mm` is the
    width of the spine piece, None without one. `over_spine_mm` is the way of the cloth over the spine itself, `gap_mm`
    lies between the two boards on the opened cover: the same, and what the boards stay back from it on both sides.
    `rise_mm` is how far a round spine stands out. `thickness_mm` is the block alone; below an exposed-spine wrap that
    was measured over its boards, what these leave of it (0 or less: they leave nothing, which checks.py refuses).
    """

    page_mm: Point | None
    thickness_mm: float
    board_mm: Point
    board_from_mm: float
    board_thickness_mm: float
    square_mm: float
    tail_square_mm: float
    setback_mm: float
    joint_mm: float
    spine_piece: SpinePiece
    spine_mm: float | None
    over_spine_mm: float
    gap_mm: float
    rise_mm: float
    mitre_mm: float
    spine_on_board_mm: float
    corner_leg_mm: float
    lap_mm: float
    hinge_mm: float
    clearance_mm: float

    @property
    def fore_edge_square_mm(self) -> float | None:
        """How far the board stands out at the fore-edge (below 0: ends short of it); None when no page is known."""
        return None if self.page_mm is None else self.board_from_mm + self.board_mm[0] - self.page_mm[0]


@lru_cache(maxsize=512)
def measures(book: Book, volume: Volume) -> Measures:
    """All figures of a volume. BadInput when the size or, where the cloth goes round it, the thickness is not known.

    >>> from coverlayout.book.book import TurnIns
    >>> ledger = Book("b", "Ledger", "flat-case", block_mm=(148.0, 210.0, 10.0), turn_ins=TurnIns.all_round(17.0))
    >>> case = measures(ledger, ledger.volumes[0])
    >>> case.board_mm, case.spine_mm, case.gap_mm
    ((144.5, 216.0), 13.5, 33.5)
    """
    thickness_mm = block_thickness_mm(book, volume)
    if thickness_mm is None and book.structure in _NEED_THICKNESS:
        raise BadInput("book-thickness-needed", book=book.name, structure=book.structure)
    known_mm = thickness_mm or 0.0
    spine_piece = spine_piece_of(book)
    over_mm, rise_mm = _spine(book, volume, known_mm)
    back_mm = from_spine_mm(book)
    square_mm = figure_mm(book, "square_mm")
    plain = Measures(
        page_mm=page_size_mm(book),
        thickness_mm=known_mm,
        board_mm=board_size_mm(book),
        board_from_mm=board_from_mm(book),
        board_thickness_mm=book.board_thickness_mm if belongs("board_thickness_mm", book.structure) else 0.0,
        square_mm=square_mm,
        tail_square_mm=tail_square_mm(book),
        setback_mm=figure_mm(book, "board_setback_mm"),
        joint_mm=joint_mm(book),
        spine_piece=spine_piece,
        spine_mm=over_mm if spine_piece != "none" else None,
        over_spine_mm=over_mm if book.structure in WRAPPED else 0.0,
        gap_mm=over_mm + 2 * back_mm if book.structure in WRAPPED else 0.0,
        rise_mm=rise_mm,
        mitre_mm=figure_mm(book, "mitre_distance_mm", book.board_thickness_mm),
        spine_on_board_mm=0.0,
        corner_leg_mm=0.0,
        lap_mm=figure_mm(book, "side_lap_mm"),
        hinge_mm=figure_mm(book, "hinge_mm"),
        clearance_mm=figure_mm(book, "slipcase_clearance_mm"),
    )
    return _with_cloth_of_spine(book, plain)


def page_size_mm(book: Book) -> Point | None:
    """Width and height of a trimmed page: as given, of the block, else from the paper; None when only boards are known.

    >>> page_size_mm(Book("b", "Ledger", block_mm=(148.0, 210.0, 10.0)))
    (148.0, 210.0)
    """
    if book.page_mm is not None:
        return book.page_mm
    if book.block_mm is not None:
        return book.block_mm[:2]
    return None if book.paper is None else folded(book.paper, book.structure).page_mm


def measured_thickness_mm(book: Book, volume: Volume) -> float | None:
    """The thickness that was measured, for the volume or the block, as it was given; None where none was.

    Of an exposed-spine wrap it was measured over both boards, of everything else over the block of pages alone.
    """
    return book.block_mm[2] if volume.thickness_mm is None and book.block_mm is not None else volume.thickness_mm


def as_measured_mm(book: Book, volume: Volume) -> float | None:
    """What a ruler would say where `measured_thickness_mm` is laid; None: not known.

    >>> from coverlayout.book.book import Paper
    >>> sheets = Paper((210.0, 297.0), sheets=40, thickness_mm=0.1, swell_mm=0.0)
    >>> wrap = Book("b", "Ledger", "exposed-spine-wrap", paper=sheets)
    >>> block_thickness_mm(wrap, Volume(1)), as_measured_mm(wrap, Volume(1)), as_measured_mm(wrap, Volume(2, 13.0))
    (8.0, 12.0, 13.0)
    """
    measured_mm = measured_thickness_mm(book, volume)
    if measured_mm is not None:
        return measured_mm
    block_mm = block_thickness_mm(book, volume)
    return None if block_mm is None else block_mm + _measured_boards_mm(book)


def block_thickness_mm(book: Book, volume: Volume) -> float | None:
    """How thick a volume's block is without boards: as measured, else from the paper; None: not known.

    The cloth of an exposed-spine wrap passes over the block and both boards, and as thick as that it is measured (so an
    article on sewn boards, July 2018, has it): the block is what the boards leave. What the paper makes is the block.

    >>> flat = Book("b", "Ledger", "flat-case", block_mm=(148.0, 210.0, 16.0), board_thickness_mm=2.0)
    >>> wrap = replace(flat, structure="exposed-spine-wrap")
    >>> block_thickness_mm(flat, Volume(1)), block_thickness_mm(wrap, Volume(1))
    (16.0, 12.0)
    """
    measured_mm = measured_thickness_mm(book, volume)
    if measured_mm is not None:
        return measured_mm - _measured_boards_mm(book)
    # Without sheets or pages nothing can be counted; a book that goes without the thickness is still measured.
    if book.paper is None or pieces_there(book.paper) is None:
        return None
    return block_of(book.paper, book.structure).thickness_mm


def _measured_boards_mm(book: Book) -> float:
    """What of a measured thickness is boards: both, where the spine lies open between them and one cloth goes round."""
    return 2 * book.board_thickness_mm if book.structure == "exposed-spine-wrap" else 0.0


def without_paper(book: Book) -> Book:
    """The book with its paper forgotten: each volume stays as thick as it is, and the pages, if nothing else is given.

    >>> from coverlayout.book.book import Paper
    >>> folded_once = Book("b", "Ledger", paper=Paper((304.8, 228.6), sheets=16, thickness_mm=0.1, swell_mm=0.0))
    >>> alone = without_paper(folded_once)
    >>> alone.page_mm, [round(volume.thickness_mm or 0.0, 6) for volume in alone.volumes]
    ((152.4, 228.6), [3.2])
    """
    volumes = tuple(replace(volume, thickness_mm=as_measured_mm(book, volume)) for volume in book.volumes)
    sized = book.board_mm is not None or book.block_mm is not None
    return replace(book, paper=None, page_mm=None if sized else page_size_mm(book), volumes=volumes)


def board_size_mm(book: Book) -> Point:
    """Width and height of one board in mm, as given or from the page.

    The squares stand out at head and tail, and at the fore-edge too unless it is a case, whose joint decides there; the
    board of an accordion stands out on all sides. BadInput when neither page nor board is known.

    >>> board_size_mm(Book("b", "Ledger", page_mm=(114.3, 152.4), square_mm=3.0))
    (117.3, 158.4)
    """
    if book.board_mm is not None:
        return book.board_mm
    page_mm = page_size_mm(book)
    if page_mm is None:
        raise BadInput("book-one-size", book=book.name)
    wider_mm, higher_mm = board_over_page_mm(book)
    return page_mm[0] + wider_mm, page_mm[1] + higher_mm


def _spine(book: Book, volume: Volume, thickness_mm: float) -> tuple[float, float]:
    """What the cloth goes over between the joints, and how far a round spine stands out; what was measured wins."""
    is_round = book.structure == "rounded-case"
    if book.spine_width_mm is not None and belongs("spine_width_mm", book.structure):
        return book.spine_width_mm, rise_of_arc_mm(thickness_mm, book.spine_width_mm) if is_round else 0.0
    allowance_mm = figure_mm(book, "spine_allowance_mm")
    if is_round:
        rise_mm = third_of_circle_rise_mm(thickness_mm) if book.spine_rise_mm is None else book.spine_rise_mm
        return arc_mm(thickness_mm, rise_mm) + allowance_mm, rise_mm
    if book.structure == "exposed-spine-wrap":
        # Straight from what was measured: taken off and added again, the boards would leave a crumb behind.
        return (as_measured_mm(book, volume) or 0.0) + allowance_mm, 0.0
    boards_mm = 2 * book.board_thickness_mm if spine_piece_of(book) == "board" else 0.0
    return thickness_mm + boards_mm + allowance_mm, 0.0


def _with_cloth_of_spine(book: Book, plain: Measures) -> Measures:
    """The measures with how far the cloth of the spine, and the corners, reach onto each board."""
    if book.structure not in ("quarter-case", "half-case"):
        return plain
    if book.structure == "quarter-case":
        return replace(plain, spine_on_board_mm=figure_mm(book, "spine_on_board_mm", plain.board_mm[0]))
    on_board_mm = book.spine_on_board_mm
    if on_board_mm is None:
        on_board_mm = _by_share(plain.board_mm, rule("half share", book.structure).figure(1.0))
    # On a board much wider than high, corners as wide as the spine's cloth would meet: there they are half its height.
    most_mm = min(plain.board_mm[1] / 2, plain.board_mm[0] - on_board_mm)
    leg_mm = min(rule("corner leg", book.structure).figure(on_board_mm), most_mm)
    return replace(
        plain,
        spine_on_board_mm=on_board_mm,
        corner_leg_mm=leg_mm if book.corner_leg_mm is None else book.corner_leg_mm,
    )


def _by_share(board_mm: Point, parts: float) -> float:
    """How wide the cloth of the spine is when it and two corners are `parts` to one of the sides.

    With corners of that leg, s H + s^2 is parts / (1 + parts) of the board W H; with corners half as high as the board,
    where those would meet, s H + H^2 / 4. Solved for s. Derived.

    >>> s = _by_share((150.0, 220.0), 1.0)
    >>> round((s * 220 + s * s) / (150 * 220), 9)
    0.5
    >>> _by_share((200.0, 100.0), 1.0)
    75.0
    """
    width, height = board_mm
    share = parts / (1 + parts)
    spine = (math.sqrt(height**2 + 4 * share * width * height) - height) / 2
    return spine if spine <= height / 2 else share * width - height / 4
