"""The flags that only some structures have, and the refusal of those that do not go with the one chosen."""

from __future__ import annotations

from typing import get_args

from coverlayout.app.booking.paper_flags import PAPER_FLAGS
from coverlayout.app.flags import Flag, Given
from coverlayout.book.book import Structure
from coverlayout.book.rules.belonging import CASES, belongs
from coverlayout.errors import BadInput

__all__ = ["SEWING_FLAGS", "STRUCTURES", "STRUCTURE_FLAGS", "check_flags_for"]

STRUCTURES: tuple[Structure, ...] = tuple(word for word in get_args(Structure) if word != "parts")

# Each flag with the figure of the book it gives.
_GIVES: dict[Flag, str] = {
    Flag("--board-setback", "what a board is narrower than the page", "3.5mm"): "board_setback_mm",
    Flag("--square", "how far a board stands out beyond the page", "3mm"): "square_mm",
    Flag("--tail-square", "the square at the tail, where it differs", "0mm"): "tail_square_mm",
    Flag("--joint", "cases, side-sewn: the gap in which the cover turns", "7mm"): "joint_mm",
    Flag("--spine-piece", "cases: board, strip or none", "board"): "spine_piece",
    Flag(
        "--spine-width", "width of the spine piece; of a round spine, as measured over it", "13.5mm"
    ): "spine_width_mm",
    Flag("--spine-allowance", "or what it is wider than block and boards", "-0.5mm"): "spine_allowance_mm",
    Flag("--spine-rise", "rounded case: how far the spine stands out (a third of a circle)", "8mm"): "spine_rise_mm",
    Flag("--spine-lining", "cases: none, strip or tube", "strip"): "spine_lining",
    Flag("--spine-on-board", "quarter and half: cloth of the spine on each board", "35mm"): "spine_on_board_mm",
    Flag("--side-lap", "quarter and half: how far the sides lie over that cloth", "3mm"): "side_lap_mm",
    Flag("--sides", "quarter, half, slipcase: cloth or paper (cloth)", "paper"): "sides",
    Flag("--side-turns", "turns the sides may take: none, half or quarter", "half"): "side_turns",
    Flag("--corner-leg", "half: how far a corner reaches along each edge of the board", "35mm"): "corner_leg_mm",
    Flag("--hinge", "side-sewn: width of the strip of board at the spine", "15mm"): "hinge_mm",
    Flag("--flap", "limp wrap: a flap over the fore-edge, so wide on the front (none)", "50mm"): "fore_edge_flap_mm",
    Flag("--turned-in-flap", "limp wrap: so much turned in at each fore-edge", "40mm"): "turned_in_flap_mm",
    Flag("--slipcase-of", "slipcase: of five boards, or one scored one: boards or scored (boards)", "boards"): (
        "slipcase_of"
    ),
    Flag("--clearance", "slipcase: room on each side of the book", "1.5mm"): "slipcase_clearance_mm",
    Flag("--endpapers", "paper or none", "paper"): "endpapers",
    Flag("--label", "a label on the front board: kind=window, inset or top", "size=60x25mm kind=window"): "label",
}
_SEWING: dict[Flag, str] = {
    Flag("--stations", "how many, or pairs 6, or ends, or their places from the head", "20 60 110mm"): "sewing",
    Flag("--station-end", "the first and last station from head and tail", "19mm"): "sewing",
    Flag("--hole-distance", "how far the holes of a board lie from its spine edge", "6.5mm"): "sewing",
    Flag("--thread", "colours, with the sections sewn with each", "red=4 black=4"): "sewing",
}
STRUCTURE_FLAGS = tuple(_GIVES)
SEWING_FLAGS = tuple(_SEWING)
_OF_ALL: dict[str, str] = {
    "--board-thickness": "board_thickness_mm",
    "--liners": "liners",
    "--liner-inset": "liner_inset_mm",
    "--liner-turns": "liners",
    **{flag.name: "paper" for flag in PAPER_FLAGS},
}
# A slipcase is made for a block, a limp wrap has no boards, and the boards of cases are not sewn through.
_NOT_FOR: dict[str, tuple[str, ...]] = {
    **dict.fromkeys(CASES, ("--hole-distance",)),
    "slipcase": ("--page", "--board-size"),
    "limp-wrap": ("--board-size", "--hole-distance"),
}


def check_flags_for(given: Given, structure: Structure) -> None:
    """Nothing, or BadInput for the first flag that means nothing for this structure."""
    gives = {flag.name: field for flag, field in (*_GIVES.items(), *_SEWING.items())} | _OF_ALL
    wrong = [name for name, field in gives.items() if not belongs(field, structure)]
    if (flag := given.first_of([*wrong, *_NOT_FOR.get(structure, ())])) is not None:
        raise BadInput("flag-not-for-structure", flag=flag, structure=structure)
