"""A question to the layout: frozen values that carry all it needs, so that they can travel to another process.

Everything is in the cloth frame of the cloth as it now is (changes in size applied), in mm and degrees.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Literal

from coverlayout.geometry.frames import Affine, Point, Ring
from coverlayout.geometry.shapes import Region
from coverlayout.motif.lattice import Lattice

__all__ = [
    "AnotherAsked",
    "ClothAsked",
    "CutAsked",
    "Ground",
    "KeepOut",
    "Link",
    "Lock",
    "PieceAsked",
    "Placed",
    "Question",
    "Watch",
    "never",
    "unseen",
    "with_room",
]


@dataclass(frozen=True)
class PieceAsked:
    """A piece to be laid. `turns_deg` are counted from the ground's up; None means any angle.

    `outline_mm`, `anchor_mm` and `seen_mm` are in the piece frame. Empty `cloth_ids` or `ground_ids`: anywhere. A piece
    with a `print_id` lies only on ground of that print; None lies on any ground.
    """

    id: str
    outline_mm: Ring
    anchor_mm: Point
    turns_deg: tuple[float, ...] | None = (0.0,)
    print_id: str | None = None
    cloth_ids: tuple[str, ...] = ()
    ground_ids: tuple[str, ...] = ()
    seen_mm: Ring | None = None

    def may_come_from(self, cloth_id: str, ground: Ground) -> bool:
        """True when it may lie on this ground: its print, its cloths and its grounds agree."""
        return (
            self.print_id in (None, ground.print_id)
            and (not self.cloth_ids or cloth_id in self.cloth_ids)
            and (not self.ground_ids or ground.id in self.ground_ids)
        )


@dataclass(frozen=True)
class Placed:
    """Where a piece lies: its anchor in the cloth frame and its clockwise turn there, not counted from the print's up.

    `unknown` holds what a project file said of this placement beyond these figures.
    """

    piece: str
    cloth: str
    x_mm: float
    y_mm: float
    turn_deg: float = 0.0
    unknown: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Ground:
    """A part of a cloth that pieces of one print may use: the usable region (strips and edge already taken off).

    `up_deg` is the turn of the print's up; `one_way`: what lies half turned from it shows the print on its head.
    `print_to_cloth` and `lattice_mm` (in the cloth frame) are None without a
    print; `origin_known` False: the print's origin is not known, locks hold nowhere for sure. `alike_deg`: the turns
    that bring the print onto itself about `alike_about_mm` (in the print's own frame); pieces linked there may be
    turned apart by one of them.
    """

    id: str
    usable: Region
    print_id: str | None = None
    up_deg: float = 0.0
    lattice_mm: Lattice | None = None
    print_to_cloth: Affine | None = None
    origin_known: bool = True
    one_way: bool = False
    alike_deg: tuple[float, ...] = ()
    alike_about_mm: Point = (0.0, 0.0)


@dataclass(frozen=True)
class KeepOut:
    """Ground to keep clear of.

    `seen_only`: only the seen part of a piece must. `spoiled`: a hole left by a spoiled piece, which counts for the gap
    and the clearance like a neighbour.
    """

    id: str
    name: str
    region: Region
    seen_only: bool = False
    spoiled: bool = False


@dataclass(frozen=True)
class ClothAsked:
    """One cloth: its outline (for used %), its grounds, what to keep clear of, and what already lies there for good.

    `gone_mm2` of the outline's area are no longer there: they became a cloth of their own.
    """

    id: str
    name: str
    outline_mm: Ring
    grounds: tuple[Ground, ...]
    keep_outs: tuple[KeepOut, ...] = ()
    fixed: tuple[tuple[PieceAsked, Placed], ...] = ()
    gone_mm2: float = 0.0


@dataclass(frozen=True)
class Lock:
    """A point of a piece sits at a place in the repeat: `place_mm` in the print's own frame, whole repeats aside."""

    piece: str
    point_mm: Point
    place_mm: Point
    must: bool = True


@dataclass(frozen=True)
class Link:
    """Pieces that share a phase or run on around the book.

    The k-th further piece's point differs from the first's by `differences_mm[k]` (turned with the pieces) and whole
    repeats; all have the same turn, unless their ground says which turned copies look alike. Points are piece-frame
    points, one a piece.
    """

    pieces: tuple[str, ...]
    points_mm: tuple[Point, ...]
    differences_mm: tuple[Point, ...]
    must: bool = True


@dataclass(frozen=True)
class Question:
    """Lay these pieces on these cloths.

    `spare_wish_mm` is the room the maker wants; below it the verdict is tight. `cloths_if_smaller` are the same cloths
    shrunk by their doubt, empty when nothing is in doubt: a layout lost there is tight as well. `steps` bounds the
    search, the same on every machine; `seconds` (None: no limit) only cuts short, and then the answer says so.
    """

    pieces: tuple[PieceAsked, ...]
    cloths: tuple[ClothAsked, ...]
    gap_mm: float = 0.0
    locks: tuple[Lock, ...] = ()
    links: tuple[Link, ...] = ()
    spare_wish_mm: float = 6.0
    cloths_if_smaller: tuple[ClothAsked, ...] = ()
    objective: Literal["room", "least length", "largest leftover"] = "room"
    steps: int = 200_000
    seconds: float | None = None
    number: int = 0


@dataclass(frozen=True)
class AnotherAsked:
    """Lay the pieces of the question again, but unlike every layout in `seen`."""

    question: Question
    seen: tuple[tuple[Placed, ...], ...]


@dataclass(frozen=True)
class CutAsked:
    """A cut with the question it poses: width across and length along in mm, the price where it is known.

    `of` is the width of cloth it is cut from, as written; a print is sold on one width, so only cuts of one width, and
    those of none, are bought together.
    """

    name: str
    width_mm: float
    length_mm: float
    price: float | None
    question: Question
    of: str = ""


def with_room(question: Question, room_mm: float) -> Question:
    """The question for layouts with so much room between pieces and to the usable outline.

    It asks for that much as gap and takes it off every ground; drawn flaws are not part of it, and no doubt is looked
    at.
    """
    cloths = (
        replace(cloth, grounds=tuple(replace(one, usable=one.usable.inset(room_mm, "round")) for one in cloth.grounds))
        for cloth in question.cloths
    )
    gap_mm = max(question.gap_mm, room_mm)
    return replace(question, gap_mm=gap_mm, cloths=tuple(cloths), cloths_if_smaller=())


Watch = Callable[[float], bool]
"""Called now and then during a search with the share done (0 to 1); answers True to stop."""


def never(share_done: float) -> bool:
    """The watch that never stops a search."""
    del share_done
    return False


def unseen() -> None:
    """Looks at no clock and no watch: for work that is short, or that nobody waits for."""
