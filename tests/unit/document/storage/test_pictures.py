"""Pictures by their hash."""

from __future__ import annotations

import pytest
from full_project import HASH, PICTURE, PICTURES

from coverlayout.document.storage.pictures import Pictures


def test_the_hash_is_the_published_one() -> None:
    """SHA-256 of "abc", from FIPS 180-4's example."""
    assert Pictures.hash_of(b"abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"


def test_a_picture_is_kept_byte_for_byte_and_once() -> None:
    assert PICTURES[HASH] == PICTURE
    assert PICTURES.with_picture(PICTURE) is PICTURES
    more = PICTURES.with_picture(b"ink")
    assert (len(more), len(PICTURES), next(iter(more))) == (2, 1, HASH)


def test_a_picture_that_is_not_there_is_a_key_error() -> None:
    with pytest.raises(KeyError):
        _ = PICTURES["ab"]


def test_the_same_pictures_are_equal() -> None:
    assert Pictures({HASH: PICTURE}) == PICTURES
    assert Pictures() != PICTURES
