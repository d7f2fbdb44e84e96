"""From the flags of the pieces and the rules to the maker's own pieces and the rules of the job."""

from __future__ import annotations

import re
from typing import get_args

from coverlayout.app.flags import Flag, Given, as_number, one_length, one_word
from coverlayout.book.book import OwnPiece, Turns
from coverlayout.book.checks import MOST_COPIES
from coverlayout.document.project import JobRules
from coverlayout.errors import BadInput
from coverlayout.units import parse_size

__all__ = ["PIECE_FLAGS", "WISH_FLAGS", "own_pieces_of", "rules_of"]

PIECE_FLAGS = (
    Flag("--piece", "a piece of your own", "name=pocket size=60x90mm count=2 turns=quarter", repeats=True),
    Flag("--gap", "least distance between two pieces (0)", "0mm"),
    Flag("--spare", "the room to spare you wish for (6mm)", "6mm"),
)
WISH_FLAGS = (Flag("--wish", "how pieces lie on the print", "back the same as front", repeats=True),)


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
