"""A book as the maker describes it; pieces are worked out from it, never stored."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from coverlayout.geometry.frames import Point, Ring

__all__ = ["Book", "Liner", "OwnPiece", "PartOfBook", "Source", "Structure", "TurnIns", "Turns", "Volume"]

Turns = Literal["none", "half", "quarter", "free"]
Liner = Literal["cloth", "paper", "none"]
Structure = Literal[
    "separate-boards",
    "exposed-spine-wrap",
    "flat-case",
    "rounded-case",
    "quarter-case",
    "half-case",
    "limp-wrap",
    "side-sewn",
    "accordion",
    "slipcase",
    "parts",
]


@dataclass(frozen=True)
class TurnIns:
    """Turn-ins in mm, measured on the cloth from the board's edge, so they include the board's thickness."""

    head_mm: float = 15.0
    tail_mm: float = 15.0
    spine_mm: float = 15.0
    fore_edge_mm: float = 15.0

    @classmethod
    def all_round(cls, turn_in_mm: float) -> TurnIns:
        """The same turn-in on all four edges."""
        return cls(turn_in_mm, turn_in_mm, turn_in_mm, turn_in_mm)


@dataclass(frozen=True)
class Source:
    """Where a kind of piece may come from; None leaves it open."""

    print_id: str | None = None
    cloth_id: str | None = None
    zone_id: str | None = None


@dataclass(frozen=True)
class Volume:
    """One copy or volume. Its number is given once and never shifts or returns when another is deleted."""

    number: int
    thickness_mm: float | None = None
    unknown: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class PartOfBook:
    """A part of a book given as a plain list: board + 2 x `grow_mm`, or a fixed width; `count` a book."""

    name: str
    count: int
    grow_mm: float
    turns: Turns
    width_mm: float | None = None
    unknown: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Book:
    """A set of equal books (or volumes of different thickness) in one structure.

    Exactly one of `page_mm`, `board_mm` (width, height) and `block_mm` (width, height, thickness) is given, except for
    structure `parts`, where `board_mm` or `board_ratio` goes with `parts`. Turns None: as the print's up allows.
    `mitre_distance_mm` lies between a board's corner and the mitre's cut; None: one and a half board thicknesses.
    `opens` tells to which side the front board turns: a book that opens left has its spine at the left of the front.
    """

    id: str
    name: str
    structure: Structure = "separate-boards"
    page_mm: Point | None = None
    board_mm: Point | None = None
    block_mm: tuple[float, float, float] | None = None
    board_ratio: Point | None = None
    board_thickness_mm: float = 2.0
    board_setback_mm: float | None = None
    square_mm: float = 0.0
    joint_mm: float | None = None
    spine_piece: Literal["board", "strip", "none"] | None = None
    spine_width_mm: float | None = None
    spine_allowance_mm: float | None = None
    turn_ins: TurnIns = TurnIns()
    mitre_distance_mm: float | None = None
    liners: Liner = "cloth"
    liner_inset_mm: float = 3.0
    opens: Literal["left", "right"] = "left"
    cover_turns: Turns | None = None
    liner_turns: Turns | None = None
    cover_source: Source = Source()
    liner_source: Source = Source()
    volumes: tuple[Volume, ...] = (Volume(1),)
    next_volume_number: int = 2
    parts: tuple[PartOfBook, ...] = ()
    unknown: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class OwnPiece:
    """A piece of the maker's own (a pocket, a label): `width_mm` x `height_mm` or an outline, `count` times.

    Ids are `NAME-K`, or the given `ids` (from a job file), one for each.
    """

    id: str
    name: str
    width_mm: float = 0.0
    height_mm: float = 0.0
    outline_mm: Ring | None = None
    count: int = 1
    turns: Turns | None = None
    source: Source = Source()
    reference_mm: Point | None = None
    seen_mm: Ring | None = None
    ids: tuple[str, ...] = ()
    unknown: tuple[tuple[str, str], ...] = ()

    @property
    def piece_ids(self) -> tuple[str, ...]:
        """The ids of its pieces: those given, else `NAME-K`.

        >>> OwnPiece("own-1", "pocket", 60.0, 90.0, count=2).piece_ids
        ('pocket-1', 'pocket-2')
        """
        return self.ids or tuple(f"{self.name}-{k}" for k in range(1, self.count + 1))
