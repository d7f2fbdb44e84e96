"""From the flags of the book to a set of books."""

from __future__ import annotations

import re
from typing import Any, get_args

from coverlayout.app.booking.figures import figures_of, label_of, sewing_of
from coverlayout.app.booking.guilty_flags import blamed
from coverlayout.app.booking.paper_flags import PAPER_FLAGS, paper_of
from coverlayout.app.booking.structure_flags import SEWING_FLAGS, STRUCTURE_FLAGS, STRUCTURES, check_flags_for
from coverlayout.app.flags import Flag, Given, as_number, one_length, one_word
from coverlayout.book.book import Book, Liner, Structure, TurnIns, Turns, Volume
from coverlayout.book.checks import MOST_COPIES
from coverlayout.book.materials.plan import plan
from coverlayout.errors import BadInput
from coverlayout.units import parse_length, parse_lengths, parse_size, split_list, split_parts

__all__ = ["BOOK_FLAGS", "COVER_FLAGS", "book_of"]

_OF_EVERY_BOOK = (
    Flag("--structure", f"how the book is bound: {', '.join(STRUCTURES)}", "separate-boards"),
    Flag(
        "--page", "the page, width x height (one of --page, --block, --board-size; none where --paper tells)", "4.5x6in"
    ),
    Flag("--block", "the block: page width x height x thickness, of an exposed-spine-wrap with its boards", "6x9x1in"),
    Flag("--board-size", "the board, width x height", "4.5x6in"),
    Flag("--board-thickness", "thickness of a board (2mm)", "2mm"),
    Flag("--turn-in", "turn-in (15mm), or four: head x tail x spine x fore-edge", "15mm"),
    Flag("--liner-inset", "how far a liner stays within the board (3mm)", "3mm"),
    Flag("--liners", "cloth, paper or none (cloth)", "cloth"),
    Flag("--opens", "left or right (left)", "left"),
    Flag("--books", "how many equal books (1)", "2"),
    Flag("--volumes", "thickness of each volume instead of --books", "12mm 18mm 25mm"),
    Flag("--cover-turns", "turns the covers may take: none, half or quarter", "none"),
    Flag("--liner-turns", "turns the liners may take: none, half or quarter", "quarter"),
)
COVER_FLAGS = (*_OF_EVERY_BOOK, *STRUCTURE_FLAGS)
BOOK_FLAGS = (*PAPER_FLAGS, *COVER_FLAGS, *SEWING_FLAGS)
_SIZES = ("--page", "--block", "--board-size")
_COVER_TURNS: tuple[Turns, ...] = ("none", "half", "quarter")


def book_of(given: Given) -> Book | None:
    """The set of books the flags make; None when they speak of none.

    BadInput naming the flag that is wrong, disagrees with another, or does not go with the structure.
    """
    if not given.has("--structure"):
        if (flag := given.first_of([flag.name for flag in BOOK_FLAGS])) is not None:
            raise BadInput("flag-without", flag=flag, other="--structure separate-boards")
        return None
    structure = one_word(given, "--structure", STRUCTURES, "separate-boards")
    check_flags_for(given, structure)
    size = _size(given)
    page_mm = size.get("page_mm") or size.get("block_mm", (0.0, 0.0, 0.0))[:2]
    paper = paper_of(given, page_mm if page_mm[0] else None, structure)
    if not size and paper is None:
        raise _without_size(structure)
    book = Book(
        id="book-1",
        name="Book",
        structure=structure,
        board_thickness_mm=one_length(given, "--board-thickness", 2.0, "above 0"),
        turn_ins=_turn_ins(given.one("--turn-in")),
        liners=one_word(given, "--liners", get_args(Liner), "cloth"),
        liner_inset_mm=one_length(given, "--liner-inset", 3.0),
        opens=one_word(given, "--opens", ("left", "right"), "left"),
        cover_turns=_turns(given, "--cover-turns"),
        liner_turns=_turns(given, "--liner-turns"),
        side_turns=_turns(given, "--side-turns"),
        volumes=_volumes(given),
        paper=paper,
        label=label_of(given),
        sewing=sewing_of(given),
        **figures_of(given),
        **size,
    )
    _check_together(book, given)
    try:
        plan(book)
    except BadInput as fault:
        raise blamed(fault, given, structure) from fault
    return book


def _without_size(structure: Structure) -> BadInput:
    if structure == "slipcase":
        return BadInput("flag-without", flag="--structure slipcase", other="--block 6x9x1in")
    return BadInput("book-size-needed")


def _check_together(book: Book, given: Given) -> None:
    """BadInput where of two flags one says that the other counts for nothing."""
    pairs = [(f"--liners {book.liners}", "--liner-turns", book.liners != "cloth")]
    pairs += [(f"--liners {book.liners}", "--liner-inset", book.liners == "none" and book.structure != "slipcase")]
    pairs += [(f"--sides {book.sides}", "--side-turns", book.sides != "cloth")]
    pairs += [("--spine-width", flag, given.has("--spine-width")) for flag in ("--spine-allowance", "--spine-rise")]
    pairs += [("--stations", "--station-end", book.sewing.rule == "own")]
    for first, second, holds in pairs:
        if holds and given.has(second):
            raise BadInput("flags-disagree", first=first, second=second)


def _size(given: Given) -> dict[str, Any]:
    """The one size that says how large the book is, as the field it fills; none where the paper says it."""
    found = [flag for flag in _SIZES if given.has(flag)]
    if not found:
        return {}
    if len(found) > 1:
        raise BadInput("flags-disagree", first=found[0], second=found[1])
    text = given.one(found[0]) or ""
    if found[0] == "--block":
        parts = split_parts(text, 3, where="--block", like="6x9x1in")
        return {"block_mm": parse_lengths(parts, where="--block", like="6x9x1in", least="above 0")}
    size_mm = parse_size(text, where=found[0])
    return {"page_mm" if found[0] == "--page" else "board_mm": size_mm}


def _turn_ins(text: str | None) -> TurnIns:
    """One turn-in all round, or four: head x tail x spine x fore-edge."""
    if text is None:
        return TurnIns()
    if not re.search(r"[x×]", text.lower()):
        return TurnIns.all_round(parse_length(text, where="--turn-in", like="15mm", least="0"))
    like = "15x15x20x15mm"
    return TurnIns(*parse_lengths(split_parts(text, 4, where="--turn-in", like=like), where="--turn-in", like=like))


def _turns(given: Given, flag: str) -> Turns | None:
    return one_word(given, flag, _COVER_TURNS, "none") if given.has(flag) else None


def _volumes(given: Given) -> tuple[Volume, ...]:
    """So many equal books, or one volume for each thickness, numbered from 1."""
    text, books = given.one("--volumes"), given.one("--books")
    if text is not None and books is not None:
        raise BadInput("flags-disagree", first="--books", second="--volumes")
    if text is None:
        count = 1 if books is None else int(as_number(books, flag="--books", like="2", most=MOST_COPIES, whole=True))
        return tuple(Volume(number) for number in range(1, count + 1))
    thick = parse_lengths(split_list(text), where="--volumes", like="12mm 18mm", least="above 0")
    if not 1 <= len(thick) <= MOST_COPIES:
        raise BadInput(
            "number-wrong", where="--volumes", found=str(len(thick)), like="12mm 18mm", most=str(MOST_COPIES)
        )
    return tuple(Volume(number, thickness_mm) for number, thickness_mm in enumerate(thick, 1))
