"""Which figures a structure has, and what becomes of a book's figures when it is bound another way."""

from __future__ import annotations

from dataclasses import MISSING, fields, replace
from typing import Any

from coverlayout.book.book import Book, SpinePiece, Structure, TurnIns
from coverlayout.book.rules.table import Rule, rule
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.units import Unit

__all__ = [
    "CASES",
    "RULED",
    "SEWN_BY_RULE",
    "WRAPPED",
    "belongs",
    "loosened",
    "new_book",
    "rule_of",
    "spine_piece_of",
    "suited",
    "with_nice_figures",
]

CASES: tuple[Structure, ...] = ("flat-case", "rounded-case", "quarter-case", "half-case")
# One cloth goes round the spine of these.
WRAPPED: tuple[Structure, ...] = (*CASES, "exposed-spine-wrap", "limp-wrap")
_WITH_BOARDS = (*CASES, "separate-boards", "exposed-spine-wrap", "side-sewn", "accordion")
_BOUND = (*_WITH_BOARDS, "limp-wrap")
_SEWN = tuple(name for name in _BOUND if name != "accordion")

# The structures that have a figure; what is not named here belongs to all.
_ONLY_OF: dict[str, tuple[str, ...]] = {
    "square_mm": _BOUND,
    "tail_square_mm": _BOUND,
    "board_setback_mm": (*CASES, "separate-boards", "exposed-spine-wrap", "side-sewn"),
    "joint_mm": (*CASES, "side-sewn"),
    "spine_piece": CASES,
    "spine_width_mm": WRAPPED,
    "spine_allowance_mm": WRAPPED,
    "spine_rise_mm": ("rounded-case",),
    "spine_lining": CASES,
    "spine_on_board_mm": ("quarter-case", "half-case"),
    "side_lap_mm": ("quarter-case", "half-case"),
    "sides": ("quarter-case", "half-case", "slipcase"),
    "side_turns": ("quarter-case", "half-case", "slipcase"),
    "side_source": ("quarter-case", "half-case", "slipcase"),
    "corner_leg_mm": ("half-case",),
    "hinge_mm": ("side-sewn",),
    "fore_edge_flap_mm": ("limp-wrap",),
    "turned_in_flap_mm": ("limp-wrap",),
    "slipcase_of": ("slipcase",),
    "slipcase_clearance_mm": ("slipcase",),
    "mitre_distance_mm": _BOUND,
    "board_thickness_mm": (*_WITH_BOARDS, "slipcase", "parts"),
    "endpapers": _SEWN,
    "liners": (*_BOUND, "parts"),
    "liner_inset_mm": (*_BOUND, "slipcase", "parts"),
    "label": _WITH_BOARDS,
    "sewing": _SEWN,
    "paper": _BOUND,
    "parts": ("parts",),
    "board_ratio": ("parts",),
}

# The rule that a figure follows while it is not given.
RULED: dict[str, str] = {
    "square_mm": "square",
    "board_setback_mm": "board setback",
    "joint_mm": "joint",
    "spine_allowance_mm": "spine allowance",
    "spine_on_board_mm": "spine on board",
    "corner_leg_mm": "corner leg",
    "side_lap_mm": "side lap",
    "hinge_mm": "hinge",
    "slipcase_clearance_mm": "slipcase clearance",
    "mitre_distance_mm": "mitre distance",
}


# The same for the figures of its sewing.
SEWN_BY_RULE: dict[str, str] = {
    "end_mm": "station end",
    "pair_mm": "station pair",
    "hole_from_spine_mm": "hole from spine",
    "tail_mm": "thread tail",
}


def belongs(field: str, structure: Structure) -> bool:
    """True when a book of that structure has the figure.

    >>> belongs("joint_mm", "flat-case"), belongs("joint_mm", "accordion"), belongs("turn_ins", "accordion")
    (True, False, True)
    """
    return structure in _ONLY_OF.get(field, (structure,))


def spine_piece_of(book: Book) -> SpinePiece:
    """What stiffens the spine: as given, else of board in a case, a strip in a round one, nothing in all others."""
    if not belongs("spine_piece", book.structure):
        return "none"
    return book.spine_piece or ("strip" if book.structure == "rounded-case" else "board")


def rule_of(book: Book, field: str) -> Rule:
    """The rule that a figure of this book follows. KeyError: no rule for it."""
    name = RULED[field]
    if field == "slipcase_clearance_mm" and book.slipcase_of != "five boards":
        name = "scored slipcase room"
    if field == "spine_on_board_mm" and book.structure == "half-case":
        name = "half share"
    return rule(name, book.structure, spine_piece_of(book))


def suited(book: Book, structure: Structure) -> Book:
    """The book bound that way: what also belongs to it is kept, what does not is as in a new book.

    >>> case = Book("b", "Ledger", "flat-case", block_mm=(148.0, 210.0, 10.0), joint_mm=8.0, liner_inset_mm=4.0)
    >>> apart = suited(case, "separate-boards")
    >>> apart.joint_mm, apart.liner_inset_mm, apart.block_mm
    (None, 4.0, (148.0, 210.0, 10.0))
    """
    if structure == book.structure:
        return book
    gone = {each.name: _new(each) for each in fields(Book) if not belongs(each.name, structure)}
    return replace(book, structure=structure, **gone)


def _new(field: Any) -> Any:
    if field.default is not MISSING:
        return field.default
    return field.default_factory()


def with_nice_figures(book: Book, unit: Unit) -> Book:
    """The book with a figure of its own wherever the rule has a nicer number in that unit; nothing changes in mm.

    >>> case = with_nice_figures(Book("b", "Ledger", "flat-case", block_mm=(152.4, 228.6, 25.4)), "in")
    >>> case.square_mm, case.joint_mm, case.board_setback_mm
    (3.175, 9.525, 3.175)
    >>> with_nice_figures(case, "mm") == case
    True
    """
    nice: dict[str, Any] = {
        field: rule_of(book, field).nice_mm(unit)
        for field in RULED
        if getattr(book, field) is None and _is_nicer(book, field, unit)
    }
    sewing: dict[str, Any] = {
        field: rule(name, book.structure).nice_mm(unit)
        for field, name in SEWN_BY_RULE.items()
        if getattr(book.sewing, field) is None and unit == "in" and belongs("sewing", book.structure)
    }
    return replace(book, sewing=replace(book.sewing, **sewing), **nice)


def loosened(book: Book, unit: Unit) -> Book:
    """The book with every figure that is the rule's own, or its nice number in that unit, left to the rule again."""
    free: dict[str, Any] = {
        field: None
        for field in RULED
        if belongs(field, book.structure) and _is_rules_own(book, field, getattr(book, field), unit)
    }
    sewing: dict[str, Any] = {
        field: None
        for field, name in SEWN_BY_RULE.items()
        if _is_nice(getattr(book.sewing, field), rule(name, book.structure), unit)
    }
    return replace(book, sewing=replace(book.sewing, **sewing), **free)


def _is_nicer(book: Book, field: str, unit: Unit) -> bool:
    if not belongs(field, book.structure) or (field == "spine_allowance_mm" and book.spine_width_mm is not None):
        return False
    found = rule_of(book, field)
    return found.times is None and abs(found.nice_mm(unit) - found.value) > SAME_LENGTH_MM


def _is_rules_own(book: Book, field: str, figure_mm: float | None, unit: Unit) -> bool:
    return _is_nice(figure_mm, rule_of(book, field), unit)


def _is_nice(figure_mm: float | None, found: Rule, unit: Unit) -> bool:
    return figure_mm is not None and found.times is None and abs(figure_mm - found.nice_mm(unit)) <= SAME_LENGTH_MM


def new_book(name: str, structure: Structure, unit: Unit) -> Book:
    """A book with no size yet, its first figures nice numbers in the unit: turn-ins of 15 mm, or of 5/8 in.

    >>> new_book("Ledger", "separate-boards", "in").turn_ins.head_mm, new_book("L", "flat-case", "mm").liner_inset_mm
    (15.875, 3.0)
    """
    made = Book(
        "",
        name,
        structure,
        board_thickness_mm=rule("board thickness", structure).nice_mm(unit),
        turn_ins=TurnIns.all_round(rule("turn-in", structure).nice_mm(unit)),
        liner_inset_mm=rule("liner inset", structure).nice_mm(unit),
    )
    return with_nice_figures(made, unit)
