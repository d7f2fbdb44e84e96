"""From the flags of the book, the pieces and the rules to a set of books, own pieces and job rules."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any, get_args

from coverlayout.app.flags import Flag, Given, as_number, one_length, one_word
from coverlayout.book.book import Book, Liner, OwnPiece, Structure, TurnIns, Turns, Volume
from coverlayout.book.checks import MOST_COPIES
from coverlayout.book.structures import BUILT_STRUCTURES, pieces
from coverlayout.document.project import JobRules
from coverlayout.errors import BadInput
from coverlayout.units import parse_length, parse_size, split_parts

__all__ = ["BOOK_FLAGS", "PIECE_FLAGS", "WISH_FLAGS", "book_of", "own_pieces_of", "rules_of"]

BOOK_FLAGS = (
    Flag("--structure", "how the book is bound, like separate-boards", "separate-boards"),
    Flag("--page", "the page, width x height", "4.5x6in"),
    Flag("--block", "the block: page width x height x thickness", "6x9x1in"),
    Flag("--board-size", "the board, width x height", "4.5x6in"),
    Flag("--board-thickness", "thickness of a board (2mm)", "2mm"),
    Flag("--board-setback", "how far a board is set back from the spine", "3.5mm"),
    Flag("--square", "how far a board stands out beyond the page (0)", "3mm"),
    Flag("--joint", "width of the joint", "7mm"),
    Flag("--spine-piece", "board, strip or none", "board"),
    Flag("--spine-width", "width of the spine piece", "13.5mm"),
    Flag("--spine-allowance", "what the spine piece is wider than block and boards", "-0.5mm"),
    Flag("--turn-in", "turn-in (15mm), or four: head x tail x spine x fore-edge", "15mm"),
    Flag("--liner-inset", "how far a liner stays within the board (3mm)", "3mm"),
    Flag("--liners", "cloth, paper or none (cloth)", "cloth"),
    Flag("--opens", "left or right (left)", "left"),
    Flag("--books", "how many equal books (1)", "2"),
    Flag("--volumes", "thickness of each volume instead of --books", "12mm 18mm 25mm"),
    Flag("--cover-turns", "turns the covers may take: none, half or quarter", "none"),
    Flag("--liner-turns", "turns the liners may take: none, half or quarter", "quarter"),
)
PIECE_FLAGS = (
    Flag("--piece", "a piece of your own", "name=pocket size=60x90mm count=2 turns=quarter", repeats=True),
    Flag("--gap", "least distance between two pieces (0)", "0mm"),
    Flag("--spare", "the room to spare you wish for (6mm)", "6mm"),
)
WISH_FLAGS = (Flag("--wish", "how pieces lie on the print", "back the same as front", repeats=True),)
_SIZES = ("--page", "--block", "--board-size")
# Flags that only mean something where there is a spine or a joint.
_NOT_FOR_SEPARATE_BOARDS = ("--joint", "--spine-piece", "--spine-width", "--spine-allowance")
# Faults of the whole book that one flag mends.
_GUILTY = {"liner-nothing-left": "--liner-inset", "copies-count": "--books"}
_COVER_TURNS: tuple[Turns, ...] = ("none", "half", "quarter")
_STRUCTURES = tuple(word for word in get_args(Structure) if word != "parts")


def book_of(given: Given) -> Book | None:
    """The set of books the flags make; None when they speak of none.

    BadInput naming the flag that is wrong, disagrees with another, or does not go with the structure.
    """
    if not given.has("--structure"):
        if (flag := given.first_of([flag.name for flag in BOOK_FLAGS])) is not None:
            raise BadInput("flag-without", flag=flag, other="--structure separate-boards")
        return None
    structure = one_word(given, "--structure", _STRUCTURES, "separate-boards")
    if structure not in BUILT_STRUCTURES:
        raise BadInput("structure-later", found=structure, words=", ".join(set(BUILT_STRUCTURES) - {"parts"}))
    if (flag := given.first_of(_NOT_FOR_SEPARATE_BOARDS)) is not None:
        raise BadInput("flag-not-for-structure", flag=flag, structure=structure)
    volumes = _volumes(given)
    book = Book(
        id="book-1",
        name="Book",
        structure=structure,
        board_thickness_mm=one_length(given, "--board-thickness", 2.0, "above 0"),
        board_setback_mm=one_length(given, "--board-setback", 0.0) if given.has("--board-setback") else None,
        square_mm=one_length(given, "--square", 0.0),
        turn_ins=_turn_ins(given.one("--turn-in")),
        liners=one_word(given, "--liners", get_args(Liner), "cloth"),
        liner_inset_mm=one_length(given, "--liner-inset", 3.0),
        opens=one_word(given, "--opens", ("left", "right"), "left"),
        cover_turns=_turns(given, "--cover-turns"),
        liner_turns=_turns(given, "--liner-turns"),
        volumes=volumes,
        **_size(given),
    )
    if book.liners != "cloth" and given.has("--liner-turns"):
        raise BadInput("flags-disagree", first=f"--liners {book.liners}", second="--liner-turns")
    try:
        pieces(book)
    except BadInput as fault:
        raise BadInput("flag-why", flag=_GUILTY.get(fault.code, "--structure"), why=str(fault)) from fault
    return book


def _size(given: Given) -> dict[str, Any]:
    """The one size that says how large the book is, as the field it fills."""
    found = [flag for flag in _SIZES if given.has(flag)]
    if not found:
        raise BadInput("book-size-needed")
    if len(found) > 1:
        raise BadInput("flags-disagree", first=found[0], second=found[1])
    text = given.one(found[0]) or ""
    if found[0] == "--block":
        return {"block_mm": _block(text)}
    size_mm = parse_size(text, where=found[0])
    return {"page_mm" if found[0] == "--page" else "board_mm": size_mm}


def _block(text: str) -> tuple[float, ...]:
    return _lengths(split_parts(text, 3, where="--block", like="6x9x1in"), "--block", "6x9x1in", above_0=True)


def _lengths(parts: Sequence[str], flag: str, like: str, *, above_0: bool) -> tuple[float, ...]:
    """Lengths that share the unit of the last one where they have none of their own."""
    unit = re.search(r"[^\d\s./½¼¾⅛⅜⅝⅞⅓⅔]+$", parts[-1])
    shared = [part if unit is None or re.search(r"[^\d\s./½¼¾⅛⅜⅝⅞⅓⅔+−-]", part) else part + unit[0] for part in parts]
    return tuple(parse_length(part, where=flag, like=like, least="above 0" if above_0 else "0") for part in shared)


def _turn_ins(text: str | None) -> TurnIns:
    """One turn-in all round, or four: head x tail x spine x fore-edge."""
    if text is None:
        return TurnIns()
    if not re.search(r"[x×]", text.lower()):
        return TurnIns.all_round(parse_length(text, where="--turn-in", like="15mm", least="0"))
    like = "15x15x20x15mm"
    return TurnIns(*_lengths(split_parts(text, 4, where="--turn-in", like=like), "--turn-in", like, above_0=False))


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
    thick = [
        parse_length(part, where="--volumes", like="12mm 18mm", least="above 0")
        for part in re.split(r"\s+(?!\d+/)", text.strip())
    ]
    if not 1 <= len(thick) <= MOST_COPIES:
        raise BadInput(
            "number-wrong", where="--volumes", found=str(len(thick)), like="12mm 18mm", most=str(MOST_COPIES)
        )
    return tuple(Volume(number, thickness_mm) for number, thickness_mm in enumerate(thick, 1))


def own_pieces_of(given: Given) -> tuple[OwnPiece, ...]:
    """The maker's own pieces; BadInput for what cannot be read, or a name that stands twice."""
    made = tuple(_own(text, number) for number, text in enumerate(given.all("--piece"), 1))
    names = [own.name for own in made]
    for own in made:
        if names.count(own.name) > 1:
            raise BadInput("piece-name-twice", name=own.name)
    return made


def _own(text: str, number: int) -> OwnPiece:
    like = "name=pocket size=60x90mm count=2 turns=quarter"
    found = re.findall(r"(\w+)\s*=\s*(.*?)\s*(?=\w+\s*=|$)", text.strip())
    fields: dict[str, str] = dict(found)
    if (
        len(fields) != len(found)
        or set(fields) - {"name", "size", "count", "turns"}
        or not re.match(r"\w+\s*=", text.strip())
    ):
        raise BadInput("piece-unreadable", found=text.strip()[:60], like=like)
    if not fields.get("name") or not fields.get("size"):
        raise BadInput("piece-unreadable", found=text.strip()[:60], like=like)
    width_mm, height_mm = parse_size(fields["size"], where="--piece size", like="60x90mm")
    count = as_number(fields.get("count", "1"), flag="--piece count", like="2", most=MOST_COPIES, whole=True)
    turns = (
        one_word(Given("", {"--piece turns": (fields["turns"],)}), "--piece turns", get_args(Turns), "none")
        if "turns" in fields
        else None
    )
    return OwnPiece(f"own-{number}", fields["name"], width_mm, height_mm, count=int(count), turns=turns)


def rules_of(given: Given) -> JobRules:
    """The gap between pieces and the room wished for."""
    return JobRules(gap_mm=one_length(given, "--gap", 0.0), spare_wish_mm=one_length(given, "--spare", 6.0))
