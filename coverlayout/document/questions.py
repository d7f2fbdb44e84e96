"""From the project to questions for the layout: which pieces are still to cut, what ground there is, what must hold.

Everything derived here is remembered for the last projects seen, whatever their layouts, prices and preferences, so
that a drag asks again and again without working anything out anew.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import replace
from functools import lru_cache

from coverlayout.book.book import Book, OwnPiece, Turns
from coverlayout.book.parts import pieces_of_own
from coverlayout.book.pieces import Piece
from coverlayout.book.structures import pieces
from coverlayout.cloth.cloth import Cloth
from coverlayout.cloth.cuts import Cut, ladder_in_use
from coverlayout.cloth.usable import shrunk
from coverlayout.document.asking.grounds import cloth_asked, prints_for
from coverlayout.document.asking.purchases import purchases
from coverlayout.document.asking.wishes import link_asked, lock_asked
from coverlayout.document.project import Preferences, Project
from coverlayout.errors import BadInput
from coverlayout.layout.question import ClothAsked, CutAsked, PieceAsked, Placed, Question
from coverlayout.layout.rules import Judge
from coverlayout.motif.repeat import turns_for_up

__all__ = [
    "USUAL_STEPS",
    "asked_piece",
    "judge_for",
    "ladder_for",
    "placed_now",
    "planned_pieces",
    "question_for",
    "turns_of",
]

USUAL_STEPS = 200_000

_TURNS_DEG: dict[Turns, tuple[float, ...] | None] = {
    "none": (0.0,),
    "half": (0.0, 180.0),
    "quarter": (0.0, 90.0, 180.0, 270.0),
    "free": None,
}
# From the strictest on, to find what several prints all allow.
_STRICTEST_FIRST: tuple[Turns, ...] = ("none", "half", "quarter", "free")
_REMEMBERED = 64


def planned_pieces(project: Project) -> tuple[Piece, ...]:
    """The pieces still to cut: those of all books, then the maker's own; spoiled ones are planned again, cut ones not.

    Raises BadInput when a book cannot be made, or when two pieces would have the same name.
    """
    return _planned(_essence(project))


def asked_piece(project: Project, piece: Piece) -> PieceAsked:
    """One piece as the layout asks for it: its turns as numbers, and the print, cloth or zone it must come from."""
    return PieceAsked(
        id=piece.id,
        outline_mm=piece.outline_mm,
        anchor_mm=piece.anchor_mm,
        turns_deg=_TURNS_DEG[turns_of(project, piece)],
        print_id=piece.source.print_id,
        cloth_ids=(piece.source.cloth_id,) if piece.source.cloth_id is not None else (),
        ground_ids=(piece.source.zone_id,) if piece.source.zone_id is not None else (),
        seen_mm=piece.seen_mm,
    )


def turns_of(project: Project, piece: Piece) -> Turns:
    """The turns a piece may take: its own word, else what every print it may come from allows, else half turns.

    A piece whose source is left open may come from any print that lies on a cloth, so the strictest of them counts.
    """
    if piece.turns is not None:
        return piece.turns
    ups = {project.print_of(print_id).up for print_id in prints_for(project, piece.source)}
    return min((turns_for_up(up) for up in ups), key=_STRICTEST_FIRST.index, default="half")


def placed_now(project: Project) -> tuple[Placed, ...]:
    """Where planned pieces lie in the layout being worked on; places of pieces or cloths that are gone are left out."""
    planned = {piece.id for piece in planned_pieces(project)}
    cloths = {cloth.id for cloth in project.cloths}
    return tuple(placed for placed in project.layout.placements if placed.piece in planned and placed.cloth in cloths)


def question_for(
    project: Project,
    *,
    pieces: Iterable[str] | None = None,
    staying: Iterable[str] = (),
    steps: int = USUAL_STEPS,
    seconds: float | None = None,
    number: int = 0,
) -> Question:
    """The question that asks to lay the planned pieces (or only those named) on all cloths of the project.

    Pieces named in `staying` that lie in the layout being worked on are not asked for: they stay where they lie, like
    those already cut. Locks of pieces not asked for are left out; links reach those asked for, those that stay and
    those already cut. Raises BadInput as `planned_pieces` does, or when a link does not give one difference for each
    further piece.
    """
    stay = frozenset(staying)
    lying = tuple(placed for placed in placed_now(project) if placed.piece in stay) if stay else ()
    wanted = None if pieces is None else frozenset(pieces) - {placed.piece for placed in lying}
    return replace(_question(_essence(project), wanted, lying), steps=steps, seconds=seconds, number=number)


def judge_for(project: Project) -> Judge:
    """The judge of everything planned in the project; remembered, so that it is made ready once a job and not a frame.

    Raises BadInput as `question_for` does.
    """
    return _judge(_essence(project))


@lru_cache(maxsize=_REMEMBERED)
def _judge(project: Project) -> Judge:
    return Judge(_question(project, None, ()))


def ladder_for(
    project: Project,
    cuts: Iterable[Cut] | None = None,
    *,
    steps: int = USUAL_STEPS,
    seconds: float | None = None,
) -> tuple[CutAsked, ...]:
    """The same job on each cut in place of the project's cloths; `cuts` None means the ladder in use.

    What a cut takes over from the cloth there is, and where one cut of each print is needed: see asking.purchases. The
    price is that of all cuts together. Empty when nothing is left to cut. Raises BadInput as `question_for` does, or
    when the maker's own table cannot be read.
    """
    planned = planned_pieces(project)
    if not planned:
        return ()
    bought = purchases(project, planned, ladder_in_use() if cuts is None else cuts)
    if not bought:
        return ()
    # All the same but for the cloths, so that the pieces are worked out once.
    like = question_for(bought[0].project, steps=steps, seconds=seconds)
    return tuple(
        CutAsked(
            name=purchase.name,
            width_mm=purchase.cut.width_mm,
            length_mm=purchase.cut.length_mm,
            price=purchase.price,
            question=_on_cloths_of(purchase.project, like),
            of=purchase.cut.of,
        )
        for purchase in bought
    )


def _on_cloths_of(project: Project, question: Question) -> Question:
    """The question on the cloths of a project that is the same otherwise and has nothing cut."""
    smaller = _cloths_asked(project, _if_smaller(project), ())
    return replace(question, cloths=_cloths_asked(project, project.cloths, ()), cloths_if_smaller=smaller)


def _essence(project: Project) -> Project:
    """The project without what no question depends on, so that a moved piece or a changed unit finds it remembered."""
    plain = Project()
    return replace(
        project,
        name=plain.name,
        layouts=plain.layouts,
        layout_id=plain.layout_id,
        marks=(),
        prices=(),
        stocks=(),
        preferences=Preferences(),
        next_number=1,
        next_volume_number=1,
        unknown=(),
    )


@lru_cache(maxsize=_REMEMBERED)
def _made(books: tuple[Book, ...], own_pieces: tuple[OwnPiece, ...]) -> tuple[Piece, ...]:
    """All pieces, cut or not: the same for every cloth that is tried for them."""
    made = [piece for book in books for piece in pieces(book)]
    made += [piece for own in own_pieces for piece in pieces_of_own(own)]
    for piece_id, count in Counter(piece.id for piece in made).items():
        if count > 1:
            raise BadInput("piece-id-twice", piece=piece_id)
    return tuple(made)


@lru_cache(maxsize=_REMEMBERED)
def _planned(project: Project) -> tuple[Piece, ...]:
    made = _made(project.books, project.own_pieces)
    cut = {fact.piece for fact in project.cut_pieces if fact.state == "cut"}
    return tuple(piece for piece in made if piece.id not in cut)


@lru_cache(maxsize=_REMEMBERED)
def _question(project: Project, wanted: frozenset[str] | None, lying: tuple[Placed, ...]) -> Question:
    stay = {placed.piece for placed in lying}
    planned = _planned(project)
    asked = [piece for piece in planned if piece.id not in stay and (wanted is None or piece.id in wanted)]
    here = {cloth.id for cloth in project.cloths}
    cut = [fact for fact in project.cut_pieces if fact.state == "cut" and fact.place.cloth in here]
    anchors = {fact.piece: fact.anchor_mm for fact in cut}
    there = stay | {piece.id for piece in asked}
    anchors |= {piece.id: piece.anchor_mm for piece in planned if piece.id in there}
    staying = _staying(project, lying)
    own = {piece.id: piece for piece in asked}
    return Question(
        pieces=tuple(asked_piece(project, piece) for piece in asked),
        cloths=_cloths_asked(project, project.cloths, staying),
        gap_mm=project.rules.gap_mm,
        locks=tuple(lock_asked(wish, own[wish.piece]) for wish in project.locks if wish.piece in own),
        links=tuple(link for wish in project.links if (link := link_asked(wish, anchors)) is not None),
        spare_wish_mm=project.rules.spare_wish_mm,
        cloths_if_smaller=_cloths_asked(project, _if_smaller(project), staying),
        objective=project.rules.objective,
    )


def _staying(project: Project, lying: tuple[Placed, ...]) -> tuple[tuple[PieceAsked, Placed], ...]:
    """The planned pieces that stay where they lie; like cut ones they ask nothing more, so any turn will do."""
    planned = {piece.id: piece for piece in _planned(project)}
    return tuple((replace(asked_piece(project, planned[one.piece]), turns_deg=None), one) for one in lying)


def _cloths_asked(
    project: Project, cloths: Iterable[Cloth], staying: tuple[tuple[PieceAsked, Placed], ...]
) -> tuple[ClothAsked, ...]:
    asked = (cloth_asked(cloth, project.prints, project.cut_pieces) for cloth in cloths)
    if not staying:
        return tuple(asked)
    return tuple(
        replace(cloth, fixed=(*cloth.fixed, *(each for each in staying if each[1].cloth == cloth.id)))
        for cloth in asked
    )


def _if_smaller(project: Project) -> tuple[Cloth, ...]:
    """All cloths, each smaller by its doubt; none when no cloth is in doubt."""
    if not any(cloth.doubt for cloth in project.cloths):
        return ()
    return tuple(shrunk(cloth, cloth.doubt) if cloth.doubt else cloth for cloth in project.cloths)
