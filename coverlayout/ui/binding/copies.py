"""Several copies of a book, or volumes of different thickness."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from coverlayout.ui.binding.part import Part
from coverlayout.ui.fields.entry import label
from coverlayout.ui.fields.figures import exact_length
from coverlayout.ui.ruled.entries import Ruled
from coverlayout.ui.ruled.owner import BookOwner
from coverlayout.ui.ruled.shown import Shown, worded
from coverlayout.units import LengthStyle, parse_lengths, split_list

__all__ = ["CopiesPart", "lengths_text", "read_lengths", "volume_choices"]

_TITLE = "Thickness of each volume"


def read_lengths(text: str, style: LengthStyle, where: str, like: str) -> tuple[float, ...]:
    """Lengths with commas or spaces between them; one unit at the end counts for all that have none.

    >>> read_lengths("12 18 25 mm", LengthStyle(), "Thickness", "12 18 25 mm")
    (12.0, 18.0, 25.0)
    >>> read_lengths("1/2, 1 1/4 in", LengthStyle(), "Thickness", "12 18 25 mm")
    (12.7, 31.75)
    """
    return parse_lengths(split_list(text), style.unit, where=where, like=like)


def lengths_text(lengths_mm: Sequence[float], style: LengthStyle) -> str:
    """The figures with spaces between, or commas where there are fractions: 1 1/4 is one length.

    >>> lengths_text((12.0, 18.5), LengthStyle()), lengths_text((12.7, 31.75), LengthStyle("in", inch_parts=16))
    ('12 18.5', '1/2, 1 1/4')
    """
    figures = [exact_length(length, style) for length in lengths_mm]
    return (", " if any("/" in figure for figure in figures) else " ").join(figures)


def volume_choices(shown: Shown) -> tuple[tuple[int, str], ...]:
    """The number of every volume, with its thickness where it has one of its own."""
    return tuple(
        (volume.number, _volume_words(volume.number, volume.thickness_mm, shown.style)) for volume in shown.book.volumes
    )


def _volume_words(number: int, thickness_mm: float | None, style: LengthStyle) -> str:
    if thickness_mm is None:
        return str(number)
    return worded("volume-and-thickness", style, number=number, thickness=style.show_exactly(thickness_mm))


class CopiesPart(Part):
    """The thickness of each volume, in their order."""

    def __init__(self, owner: BookOwner, give: Callable[[tuple[float, ...]], None]) -> None:
        self._give = give
        super().__init__(
            owner, "Copies and volumes", tip="A set whose volumes are not equally thick, one figure for each."
        )

    def make(self) -> None:
        """One line for all of them."""
        owner = self.owner
        self.thicknesses = Ruled(
            _TITLE,
            lambda text: read_lengths(text, owner.style_of_lengths, _TITLE, "12 18 25 mm") if text.strip() else (),
            lambda lengths: lengths_text(lengths, owner.style_of_lengths),
            self._give,
            tip="A figure for each volume, the thickness of its block: 12 18 25 mm. The set then has so many volumes.",
            unit=owner.style_of_lengths.unit,
        )
        self.numbers = label(role="muted")
        self.body.addWidget(self.thicknesses)
        self.body.addWidget(self.numbers)

    def summed_up(self, shown: Shown) -> str:
        """How many, and whether they differ."""
        volumes = shown.book.volumes
        if len({volume.thickness_mm for volume in volumes}) > 1:
            return f"{len(volumes)} that differ"
        return "1" if len(volumes) == 1 else f"{len(volumes)}, all alike"

    def show_book(self, shown: Shown) -> None:
        """Show the thicknesses that were given."""
        volumes = shown.book.volumes
        figures = [volume.thickness_mm for volume in volumes]
        given = tuple(figure for figure in figures if figure is not None)
        self.thicknesses.show_value(given if len(given) == len(figures) else None, shown.style.unit)
        numbers = [str(volume.number) for volume in volumes]
        several = f"{numbers[0]} to {numbers[-1]}" if len(numbers) > 1 else numbers[0]
        self.numbers.setText(worded("volumes-numbered", shown.style, numbers=several))
