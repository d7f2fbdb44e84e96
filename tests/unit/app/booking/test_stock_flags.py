"""Sheets, rolls and the backing by their flags."""

from __future__ import annotations

import pytest

from coverlayout.app.booking.stock_flags import backing_of_flags, stocks_of
from coverlayout.app.flags import Given
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.project import Stock
from coverlayout.errors import BadInput

CLOTH = Cloth("cloth-1", "Cloth", 300.0, 300.0)


def given(**values: str) -> Given:
    return Given("a", {"--" + name.replace("_", "-"): (text,) for name, text in values.items()})


def test_sheets_and_rolls() -> None:
    assert stocks_of(given()) == ()
    assert stocks_of(given(web_sheet="17in", board_sheet="70x100cm")) == (
        Stock("stock-1", "board", "board", 700.0, 1000.0),
        Stock("stock-2", "web", "web", 431.8, None),
    )


@pytest.mark.parametrize(
    ("flag", "text"),
    [
        ("board_sheet", "700mm"),
        ("card_sheet", "1m"),
        ("web_sheet", "0mm"),
        ("tissue_sheet", "a"),
        ("paper_sheet", "0x9"),
    ],
)
def test_a_sheet_without_its_size_is_refused(flag: str, text: str) -> None:
    with pytest.raises(BadInput) as told:
        stocks_of(given(**{flag: text}))
    assert str(told.value).startswith("--" + flag.replace("_", "-"))


def test_the_backing_of_a_cloth() -> None:
    assert backing_of_flags(given(), CLOTH) is None
    assert backing_of_flags(given(backing="Web-and-tissue"), CLOTH) == "web and tissue"
    assert backing_of_flags(given(backing="none"), CLOTH) == "none"
    with pytest.raises(BadInput, match="--backing needs --cloth"):
        backing_of_flags(given(backing="web"), None)
    with pytest.raises(BadInput, match="--backing glue: give one of"):
        backing_of_flags(given(backing="glue"), CLOTH)
