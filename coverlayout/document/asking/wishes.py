"""The maker's locks and links as the layout asks for them, when the pieces they speak of are there."""

from __future__ import annotations

from collections.abc import Mapping

from coverlayout.book.pieces import Piece
from coverlayout.document.project import LinkWish, LockWish
from coverlayout.errors import BadInput
from coverlayout.geometry.frames import Point
from coverlayout.layout.question import Link, Lock

__all__ = ["link_asked", "lock_asked"]


def lock_asked(wish: LockWish, piece: Piece) -> Lock:
    """The lock of a piece: at the point given, else at its anchor.

    >>> piece = Piece("front-1", "front cover", "cover", ((0.0, 0.0), (9.0, 0.0), (9.0, 6.0)), (4.5, 3.0))
    >>> lock_asked(LockWish("lock-1", "front-1", place_mm=(12.0, 20.0)), piece)
    Lock(piece='front-1', point_mm=(4.5, 3.0), place_mm=(12.0, 20.0), must=True)
    """
    point_mm = piece.anchor_mm if wish.point_mm is None else wish.point_mm
    return Lock(piece.id, point_mm, wish.place_mm, wish.must)


def link_asked(wish: LinkWish, anchors: Mapping[str, Point]) -> Link | None:
    """The link between those of its pieces that have an anchor, counted from the first; None for fewer than two.

    BadInput when differences are given, but not one for each further piece.

    >>> wish = LinkWish("link-1", ("gone", "a", "b"), ((10.0, 0.0), (35.0, 0.0)))
    >>> link_asked(wish, {"a": (1.0, 1.0), "b": (2.0, 2.0)})
    Link(pieces=('a', 'b'), points_mm=((1.0, 1.0), (2.0, 2.0)), differences_mm=((25.0, 0.0),), must=True)
    """
    steps = wish.differences_mm or ((0.0, 0.0),) * (len(wish.pieces) - 1)
    if len(steps) != len(wish.pieces) - 1:
        raise BadInput("link-differences-count", wish=wish.id, pieces=len(wish.pieces), differences=len(steps))
    there = [(piece, step) for piece, step in zip(wish.pieces, ((0.0, 0.0), *steps), strict=True) if piece in anchors]
    if len(there) < 2:
        return None
    from_x, from_y = there[0][1]
    return Link(
        pieces=tuple(piece for piece, _ in there),
        points_mm=tuple(anchors[piece] for piece, _ in there),
        differences_mm=tuple((x - from_x, y - from_y) for _, (x, y) in there[1:]),
        must=wish.must,
    )
