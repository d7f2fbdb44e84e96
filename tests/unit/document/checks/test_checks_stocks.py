"""What a stock needs by its material: sheets two sizes, rolls a width, thread neither."""

from __future__ import annotations

from typing import get_args

import pytest

from coverlayout.document.checks.stocks import check_stock
from coverlayout.document.checks.whole import checked
from coverlayout.document.project import Project, Stock, StockMaterial
from coverlayout.errors import BadInput


@pytest.mark.parametrize("material", get_args(StockMaterial))
def test_every_material_says_what_it_needs(material: StockMaterial) -> None:
    check_stock(Stock("s", "some", material, 400.0, 500.0))
    bare, roll = Stock("s", "some", material), Stock("s", "some", material, 400.0)
    if material == "thread":
        check_stock(bare)
        check_stock(roll)
        return
    with pytest.raises(BadInput, match="some"):
        check_stock(bare)
    if material in ("board", "card"):
        with pytest.raises(BadInput, match="sheets"):
            check_stock(roll)
    else:
        check_stock(roll)


def test_a_project_with_an_impossible_stock_is_refused_as_a_whole() -> None:
    with pytest.raises(BadInput, match="web"):
        checked(Project(stocks=(Stock("stock-1", "web", "web"),)))
    with pytest.raises(BadInput, match="stock"):
        checked(Project(stocks=(Stock("stock-1", "a", "web", 1.0), Stock("stock-1", "b", "web", 1.0))))
