"""Wishes as a maker says them: a sentence read into links between the pieces of the books that are there."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace

from coverlayout.book.pieces import Piece
from coverlayout.document.asking.grounds import prints_for
from coverlayout.document.checks.whole import pieces_made
from coverlayout.document.project import LinkWish, Project
from coverlayout.errors import BadInput

__all__ = ["with_wishes_said"]

_SAME = re.compile(r"(?:the )?(?P<one>[\w -]+?)(?: is)? (?:the )?same as (?:the )?(?P<other>[\w -]+)")
_ALIKE = re.compile(r"all (?:the )?(?:volumes|books)(?: are)? alike")
_MATCHING = re.compile(r"(?:all )?(?:the )?matching pieces(?: are)? alike")
_IF_POSSIBLE = re.compile(r",? if possible$")
_LONGEST_SHOWN = 60
# What stands before "front" in the name of a side, and of a slipcase's wall; names without it count most.
_BEFORE = ("wall-", "side-", "")
_SEEN_OUTSIDE = ("cover", "spine piece", "side", "corner")


def with_wishes_said(project: Project, sentences: Iterable[str], *, where: str = "--wish") -> Project:
    """The project with the links that the sentences ask for, in their order, each under an id of its own.

    "back the same as front": in every book both show the same place of the repeat; so with any two of its pieces.
    "matching pieces alike": in every book the covers, the sides and the corners. "all volumes alike": each cover in all
    volumes. A sentence that ends in "if possible" is no must. A link that is
    there already is not made again. BadInput, `where` naming the flag: a sentence that is not understood, or
    one that speaks of pieces, volumes or a print that are not there.
    """
    for sentence in sentences:
        for link in _links(project, " ".join(sentence.split()), where):
            if all((link.pieces, link.must) != (there.pieces, there.must) for there in project.links):
                new_id, project = project.named_anew("wish")
                project = replace(project, links=(*project.links, replace(link, id=new_id)))
    return project


def _links(project: Project, said: str, where: str) -> list[LinkWish]:
    plain = said.lower().rstrip(".!")
    wanted = _IF_POSSIBLE.sub("", plain)
    if _ALIKE.fullmatch(wanted):
        groups = _volumes_alike(project, said, where)
    elif _MATCHING.fullmatch(wanted):
        groups = _matching(project, said, where)
    elif (same := _SAME.fullmatch(wanted)) is not None:
        groups = _same_in_every_book(project, said, where, _word(same["other"]), _word(same["one"]))
    else:
        raise BadInput("wish-not-understood", where=where, found=said[:_LONGEST_SHOWN])
    for pieces in groups:
        if not all(prints_for(project, piece.source) for piece in pieces):
            raise BadInput("wish-without-print", where=where, found=said[:_LONGEST_SHOWN])
    must = wanted == plain
    return [LinkWish("", tuple(piece.id for piece in pieces), must=must, sentence=said) for pieces in groups]


def _word(name: str) -> str:
    """A piece's name as its id has it: `liner front` is `liner-front`."""
    return name.replace(" ", "-")


def _same_in_every_book(project: Project, said: str, where: str, first: str, other: str) -> list[tuple[Piece, ...]]:
    """For every volume that has both pieces, those two; front and back are its covers, else its sides or walls."""
    made = [(book.id, piece) for book in project.books for piece in pieces_made(book)]
    named = {
        (book_id, piece.volume, name): piece
        for before in _BEFORE
        for book_id, piece in made
        if (stem := _stem(piece)).startswith(before)
        for name in (stem, stem.removeprefix(before))
    }
    volumes = dict.fromkeys((book_id, piece.volume) for book_id, piece in made)
    pairs = [(named.get((*volume, first)), named.get((*volume, other))) for volume in volumes]
    found: list[tuple[Piece, ...]] = [(one, two) for one, two in pairs if one is not None and two is not None]
    if not found or first == other:
        if not made:
            raise BadInput("flag-without", flag=where, other="--structure separate-boards")
        names = ", ".join(dict.fromkeys(_stem(piece) for _, piece in made))
        raise BadInput("wish-pieces-unknown", where=where, found=said[:_LONGEST_SHOWN], names=names)
    return found


def _matching(project: Project, said: str, where: str) -> list[tuple[Piece, ...]]:
    """In every volume the pieces seen outside that a maker expects to be alike."""
    made = [piece for book in project.books for piece in pieces_made(book)]
    named = {piece.id: piece for piece in made}
    groups = dict.fromkeys(
        tuple(sorted((piece.id, *piece.matches), key=list(named).index))
        for piece in made
        if piece.matches and piece.kind in _SEEN_OUTSIDE
    )
    if not groups:
        raise BadInput("wish-nothing-matches", where=where, found=said[:_LONGEST_SHOWN])
    return [tuple(named[piece] for piece in group) for group in groups]


def _volumes_alike(project: Project, said: str, where: str) -> list[tuple[Piece, ...]]:
    """Each piece seen outside on the books with the same piece of all volumes, across all books."""
    covers: dict[str, list[Piece]] = {}
    for book in project.books:
        for piece in pieces_made(book):
            if piece.kind in _SEEN_OUTSIDE:
                covers.setdefault(_stem(piece), []).append(piece)
    groups = [tuple(same) for same in covers.values() if len(same) > 1]
    if not groups:
        raise BadInput("wish-one-volume", where=where, found=said[:_LONGEST_SHOWN])
    return groups


def _stem(piece: Piece) -> str:
    """The piece's id without the number of its volume: `front-2` is `front`, and `cover-2-1` of a list is `cover-1`."""
    return re.sub(rf"-{piece.volume}(?=(?:-\d+)?$)", "", piece.id, count=1)
