"""A book as the maker describes it; pieces are worked out from it, never stored."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from coverlayout.geometry.frames import Point, Ring

__all__ = [
    "Book",
    "Grain",
    "Label",
    "LabelKind",
    "Liner",
    "OwnPiece",
    "Paper",
    "PartOfBook",
    "Sewing",
    "Slipcase",
    "Source",
    "SpineLining",
    "SpinePiece",
    "StationRule",
    "Structure",
    "ThreadColour",
    "ThreadRule",
    "TurnIns",
    "Turns",
    "Volume",
]

Turns = Literal["none", "half", "quarter", "free"]
Liner = Literal["cloth", "paper", "none"]
Grain = Literal["long", "short", "unknown"]
SpinePiece = Literal["board", "strip", "none"]
SpineLining = Literal["none", "strip", "hollow tube"]
Slipcase = Literal["five boards", "one scored board"]
LabelKind = Literal["window", "inset", "on top"]
StationRule = Literal["even", "pairs", "ends", "own"]
ThreadRule = Literal["sections and two", "sections and a tail", "six heights", "five heights", "three heights"]
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
class Paper:
    """The paper a block is folded from: the sheet as bought, what is in hand or wanted, how it is cut and folded.

    `cut` is (parts along the sheet's longer side, parts along its shorter); each fold halves the longer side of what is
    left, and the last fold is the spine. `grain` runs along the sheet's longer or shorter side. The thickness of a
    sheet is typed, or follows from `gsm` (g/m2) and `bulk` (cm3/g). One of `sheets` (in hand) and `pages` (wanted) is
    given. `spine_along` says that the spine runs along the longer or the shorter side of what is folded last (or of a
    single leaf); None: along the shorter of what is folded, the longer of a single leaf. `per_section` are the cut
    pieces folded into each other; None: by the rule. Trims are of the folded section. `swell_mm` is what the thread
    adds for each section at the spine; None: by the rule.
    """

    sheet_mm: Point
    sheet_name: str = ""
    grain: Grain = "unknown"
    thickness_mm: float | None = None
    gsm: float | None = None
    bulk: float | None = None
    sheets: int | None = None
    pages: int | None = None
    cut: tuple[int, int] = (1, 1)
    folds: int = 1
    spine_along: Literal["longer", "shorter"] | None = None
    per_section: int | None = None
    trim_head_mm: float = 0.0
    trim_tail_mm: float = 0.0
    trim_fore_edge_mm: float = 0.0
    swell_mm: float | None = None
    price: float | None = None
    unknown: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Label:
    """A piece for a title on the front board: behind a window in it, let into it, or on top of its cloth.

    `width_mm` x `height_mm` is what is seen of it. `from_head_mm` and `from_spine_mm` lie between the board's edges and
    the label's; None: in the middle. `margin_mm` is what the piece is larger than what is seen, on each side.
    """

    width_mm: float
    height_mm: float
    kind: LabelKind = "on top"
    material: Literal["cloth", "paper"] = "cloth"
    from_head_mm: float | None = None
    from_spine_mm: float | None = None
    margin_mm: float | None = None
    turns: Turns | None = None
    source: Source = Source()
    unknown: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class ThreadColour:
    """A colour of thread, and how many sections are sewn with it."""

    name: str
    sections: int
    price: float | None = None
    unknown: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Sewing:
    """Where the holes lie and how long the thread is; None: by the rule for the structure.

    `even`: `count` stations, the first and last `end_mm` from head and tail; `pairs`: `count` stations in twos,
    `pair_mm` apart; `ends`: two stations at each end, `pair_mm` apart; `own`: `own_mm` from the head of the page.
    `hole_from_spine_mm` lies between the spine edge of a board and its holes. `tail_mm` is the length added by the rule
    `sections and a tail`.
    """

    rule: StationRule = "even"
    count: int | None = None
    end_mm: float | None = None
    pair_mm: float | None = None
    own_mm: tuple[float, ...] = ()
    hole_from_spine_mm: float | None = None
    thread_rule: ThreadRule | None = None
    tail_mm: float | None = None
    colours: tuple[ThreadColour, ...] = ()
    unknown: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Book:
    """A set of equal books (or volumes of different thickness) in one structure.

    At most one of `page_mm`, `board_mm` (width, height) and `block_mm` (width, height, thickness) is given; a book that
    has `paper` needs none of them, and a given size must agree with the paper. For structure `parts`, `board_mm` or
    `board_ratio` goes with `parts`. For a slipcase the block is the finished book that goes in. A figure that is None
    follows the rules (book.rules): it is worked out in book.measures. Turns None: as the print's up allows.
    `square_mm` counts at head and tail, and at the fore-edge where no joint decides; `tail_square_mm` None: like the
    head's. `board_setback_mm` is what a board is narrower than the page. `spine_allowance_mm` is what the spine piece
    is wider than block and boards, `spine_width_mm` the spine as measured, over the round where it is round;
    `spine_rise_mm` how far a round spine stands out. `spine_on_board_mm` is the cloth of the spine on each board of a
    quarter or half case, `corner_leg_mm` a corner's along each edge, `side_lap_mm` what the sides lie over that cloth.
    `hinge_mm` is the strip of board that a side-sewn cover turns on. `fore_edge_flap_mm` closes a limp wrap over the
    fore-edge, `turned_in_flap_mm` is turned in at its fore-edges. `mitre_distance_mm` lies between a board's corner and
    the mitre's cut. `opens` tells to which side the front board turns: a book that opens left has its spine at the left
    of the front.
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
    square_mm: float | None = None
    tail_square_mm: float | None = None
    joint_mm: float | None = None
    spine_piece: SpinePiece | None = None
    spine_width_mm: float | None = None
    spine_allowance_mm: float | None = None
    spine_rise_mm: float | None = None
    spine_lining: SpineLining | None = None
    spine_on_board_mm: float | None = None
    corner_leg_mm: float | None = None
    side_lap_mm: float | None = None
    hinge_mm: float | None = None
    fore_edge_flap_mm: float = 0.0
    turned_in_flap_mm: float = 0.0
    slipcase_of: Slipcase = "five boards"
    slipcase_clearance_mm: float | None = None
    turn_ins: TurnIns = TurnIns()
    mitre_distance_mm: float | None = None
    liners: Liner = "cloth"
    liner_inset_mm: float = 3.0
    opens: Literal["left", "right"] = "left"
    cover_turns: Turns | None = None
    liner_turns: Turns | None = None
    cover_source: Source = Source()
    liner_source: Source = Source()
    sides: Literal["cloth", "paper"] = "cloth"
    side_turns: Turns | None = None
    side_source: Source = Source()
    endpapers: Literal["paper", "none"] | None = None
    label: Label | None = None
    paper: Paper | None = None
    sewing: Sewing = Sewing()
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
