"""The volumes of a set of books: each as a book of its own, and what is the same for all that are equally thick."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import TypeVar

from coverlayout.book.book import Book, Volume

__all__ = ["alone", "by_volume", "of_each_thickness"]

_Made = TypeVar("_Made")


def alone(book: Book, volume: Volume) -> Book:
    """A volume as a book of its own: its figures are the same, and hundreds of volumes do not weigh on each of them."""
    return replace(book, volumes=(volume,))


def of_each_thickness(book: Book) -> tuple[Book, ...]:
    """The first volume of every thickness as a book of its own: in nothing else do volumes differ but their numbers.

    >>> set_of_three = Book("b", "Ledger", volumes=(Volume(1, 12.0), Volume(2, 18.0), Volume(3, 12.0)))
    >>> [each.volumes[0].number for each in of_each_thickness(set_of_three)]
    [1, 2]
    """
    first: dict[float | None, Volume] = {}
    for volume in book.volumes:
        first.setdefault(volume.thickness_mm, volume)
    return tuple(alone(book, volume) for volume in first.values())


def by_volume(book: Book, make: Callable[[Book, Volume], _Made]) -> Iterator[tuple[Volume, _Made]]:
    """Every volume with what is made of it, which is made once for those equally thick and bears the first's number."""
    made = {each.volumes[0].thickness_mm: make(each, each.volumes[0]) for each in of_each_thickness(book)}
    return ((volume, made[volume.thickness_mm]) for volume in book.volumes)
