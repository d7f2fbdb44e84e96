"""Locks and links as the layout asks for them."""

from dataclasses import replace

import pytest
from samples import L_SHAPE

from coverlayout.book.pieces import Piece
from coverlayout.document.asking.wishes import link_asked, lock_asked
from coverlayout.document.project import LinkWish, LockWish
from coverlayout.errors import BadInput
from coverlayout.layout.question import Link, Lock

PIECE = Piece("pocket-1", "pocket", "own", L_SHAPE, (30.0, 50.0))
ANCHORS = {"a": (1.0, 2.0), "b": (3.0, 4.0), "c": (5.0, 6.0)}


def test_a_lock_holds_the_anchor_unless_a_point_is_given() -> None:
    wish = LockWish("lock-1", "pocket-1", (7.0, 8.0), must=False)
    assert lock_asked(wish, PIECE) == Lock("pocket-1", (30.0, 50.0), (7.0, 8.0), must=False)
    assert lock_asked(replace(wish, point_mm=(0.0, 9.0)), PIECE).point_mm == (0.0, 9.0)


def test_a_link_without_differences_wants_the_same_place() -> None:
    assert link_asked(LinkWish("link-1", ("a", "c")), ANCHORS) == Link(
        ("a", "c"), ((1.0, 2.0), (5.0, 6.0)), ((0.0, 0.0),)
    )


def test_a_link_counts_from_the_first_piece_that_is_there() -> None:
    wish = LinkWish("link-1", ("gone", "b", "lost", "a", "c"), ((10.0, 1.0), (20.0, 2.0), (35.0, 3.0), (47.0, 5.0)))
    assert link_asked(wish, ANCHORS) == Link(
        ("b", "a", "c"), ((3.0, 4.0), (1.0, 2.0), (5.0, 6.0)), ((25.0, 2.0), (37.0, 4.0))
    )


def test_a_link_of_fewer_than_two_is_none() -> None:
    assert link_asked(LinkWish("link-1", ("a", "gone")), ANCHORS) is None
    assert link_asked(LinkWish("link-1", ("a",)), ANCHORS) is None


def test_differences_must_match_the_pieces() -> None:
    with pytest.raises(BadInput, match="one difference for each after the first; 1 are given"):
        link_asked(LinkWish("link-1", ("a", "b", "c"), ((1.0, 1.0),)), ANCHORS)
