"""The flags that only some structures have, and the refusal of those that do not go with the one chosen."""

from __future__ import annotations

from typing import get_args

from coverlayout.app.booking.paper_flags import PAPER_FLAGS
from coverlayout.app.flags import Flag, Given
from coverlayout.book.book import Structure
from coverlayout.book.measures import CASES
from coverlayout.errors import BadInput

__all__ = ["STRUCTURES", "STRUCTURE_FLAGS", "check_flags_for"]

STRUCTURES: tuple[Structure, ...] = tuple(word for word in get_args(Structure) if word != "parts")
_PARTLY = ("quarter-case", "half-case")
_ROUND_SPINE = (*CASES, "exposed-spine-wrap", "limp-wrap")
_SEWN = tuple(word for word in STRUCTURES if word not in ("accordion", "slipcase"))
_COVERED_FRONT = tuple(word for word in STRUCTURES if word not in ("slipcase", "limp-wrap"))
_OF_PAPER = tuple(word for word in STRUCTURES if word != "slipcase")
_SQUARED = tuple(word for word in STRUCTURES if word not in ("slipcase",))

# Each flag with the structures it goes with.
_GOES_WITH: dict[Flag, tuple[str, ...]] = {
    Flag("--board-setback", "what a board is narrower than the page", "3.5mm"): tuple(
        word for word in _COVERED_FRONT if word != "accordion"
    ),
    Flag("--square", "how far a board stands out beyond the page", "3mm"): _SQUARED,
    Flag("--tail-square", "the square at the tail where it differs", "0mm"): _SQUARED,
    Flag("--joint", "width of the joint", "7mm"): (*CASES, "side-sewn"),
    Flag("--spine-piece", "board, strip or none", "board"): CASES,
    Flag("--spine-width", "width of the spine piece; the spine as measured, over the round", "13.5mm"): _ROUND_SPINE,
    Flag("--spine-allowance", "what the spine piece is wider than block and boards", "-0.5mm"): _ROUND_SPINE,
    Flag("--spine-rise", "how far a round spine stands out (a third of a circle)", "8mm"): ("rounded-case",),
    Flag("--spine-lining", "none, strip or tube", "strip"): CASES,
    Flag("--spine-on-board", "cloth of the spine on each board", "35mm"): _PARTLY,
    Flag("--side-lap", "how far the sides lie over that cloth", "3mm"): _PARTLY,
    Flag("--sides", "cloth or paper (cloth)", "paper"): _PARTLY,
    Flag("--side-turns", "turns the sides may take: none, half or quarter", "half"): _PARTLY,
    Flag("--corner-leg", "how far a corner reaches along each edge of the board", "35mm"): ("half-case",),
    Flag("--hinge", "width of the strip of board at the spine", "15mm"): ("side-sewn",),
    Flag("--flap", "a flap over the fore-edge, so wide on the front (none)", "50mm"): ("limp-wrap",),
    Flag("--turned-in-flap", "cloth turned in at each fore-edge instead of a turn-in", "40mm"): ("limp-wrap",),
    Flag("--slipcase-of", "boards or scored: five boards, or one scored (boards)", "boards"): ("slipcase",),
    Flag("--clearance", "room on each side of the book in its slipcase", "1.5mm"): ("slipcase",),
    Flag("--endpapers", "paper or none", "paper"): _SEWN,
    Flag("--label", "a label on the front board", "size=60x25mm kind=window"): _COVERED_FRONT,
    Flag("--stations", "how many, or pairs 6, ends, or their places from the head", "20 60 110mm"): _SEWN,
    Flag("--station-end", "the first and last station from head and tail", "19mm"): _SEWN,
    Flag("--hole-distance", "how far a board's holes lie from its spine edge", "6.5mm"): _SEWN,
    Flag("--thread", "colours with the sections sewn with each", "red=4 black=4"): _SEWN,
}
STRUCTURE_FLAGS = tuple(_GOES_WITH)
_NOT_FOR = {
    "slipcase": (
        *("--page", "--board-size", "--liners", "--liner-inset", "--liner-turns"),
        *(flag.name for flag in PAPER_FLAGS),
    ),
    "limp-wrap": ("--board-thickness", "--board-size"),
}


def check_flags_for(given: Given, structure: Structure) -> None:
    """Nothing, or BadInput for the first flag that means nothing for this structure."""
    wrong = [flag.name for flag, structures in _GOES_WITH.items() if structure not in structures]
    if (flag := given.first_of([*wrong, *_NOT_FOR.get(structure, ())])) is not None:
        raise BadInput("flag-not-for-structure", flag=flag, structure=structure)
