"""Faults and remarks: a code with its figures; the sentence is made at the rim from one table of words."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

__all__ = ["BadInput", "CoverlayoutError", "FileTrouble", "Remark", "sentence"]

Figure = str | int | float
ShowLength = Callable[[float], str]


@cache
def _words() -> Mapping[str, str]:
    """Every sentence of the program by its code, read once from the table of the language."""
    text = files("coverlayout.resources").joinpath("sentences/english.toml").read_text(encoding="utf-8")
    return {code: words for area in tomllib.loads(text).values() for code, words in area.items()}


def _plain_mm(length_mm: float) -> str:
    """A length in mm with at most two decimals, for logs and for places without a chosen unit."""
    return f"{length_mm:.2f}".rstrip("0").rstrip(".") + " mm"


def sentence(code: str, figures: Mapping[str, Figure], show_length: ShowLength = _plain_mm) -> str:
    """The sentence for a code, its figures filled in; figures named `..._mm` are written by `show_length`.

    >>> sentence("length-too-small", {"where": "--turn-in", "found": "-1mm", "like": "15mm"})
    '--turn-in -1mm: the length must be above 0, like 15mm'

    A code that is not in the table is a fault of the program: KeyError.
    """
    shown = {
        name: show_length(value) if name.endswith("_mm") and isinstance(value, (int, float)) else value
        for name, value in figures.items()
    }
    return _words()[code].format(**shown)


@dataclass(frozen=True)
class Remark:
    """Something worth saying that is no fault (a note, a reason, a warning): a code and its figures.

    >>> Remark.of("cloth-turned", name="fat quarter").figures
    (('name', 'fat quarter'),)
    """

    code: str
    figures: tuple[tuple[str, Figure], ...] = ()

    @classmethod
    def of(cls, code: str, **figures: Figure) -> Remark:
        """A remark with its figures given by name."""
        return cls(code, tuple(figures.items()))

    def text(self, show_length: ShowLength = _plain_mm) -> str:
        """The sentence, lengths written by `show_length`."""
        return sentence(self.code, dict(self.figures), show_length)


class CoverlayoutError(Exception):
    """Root of everything that can go wrong in a way the maker should read about: one plain sentence."""

    def __init__(self, code: str, **figures: Figure) -> None:
        """Keep the code and its figures; nothing is worded yet."""
        super().__init__(code, figures)
        self.code = code
        self.figures = figures

    def __str__(self) -> str:
        """The sentence in the language of the table."""
        return sentence(self.code, self.figures)

    @property
    def remark(self) -> Remark:
        """What is wrong as a remark, for a place that shows lengths in the maker's unit."""
        return Remark.of(self.code, **self.figures)

    def __reduce__(self) -> tuple[object, ...]:
        """Travel between processes with the figures kept."""
        return _rebuilt, (type(self), self.code, self.figures)


def _rebuilt(kind: type[CoverlayoutError], code: str, figures: dict[str, Figure]) -> CoverlayoutError:
    return kind(code, **figures)


class BadInput(CoverlayoutError):
    """A flag, a field or a file that cannot be used as it is; says what is wrong and what would be right."""


class FileTrouble(CoverlayoutError):
    """The disk refused (no room, no permission, gone); nothing half-written is left."""
