"""The values of a cloth: doubt by state, changes that multiply, the outline as it now is."""

import pytest

from coverlayout.cloth.cloth import Change, Cloth, ClothState

WASHED = Change("washing", -10.0, -20.0)
BONDED = Change("bonding", -50.0, 0.0)


@pytest.mark.parametrize(
    ("state", "stated", "doubt"),
    [
        ("measured", None, 0.0),
        ("to-buy", None, 1.0),
        ("to-order", None, 1.0),
        ("measured", 2.0, 2.0),
        ("to-buy", 0.0, 0.0),
    ],
)
def test_doubt_is_by_state_unless_it_is_stated(state: ClothState, stated: float | None, doubt: float) -> None:
    assert Cloth("c", "cloth", 100.0, 100.0, state=state, doubt_percent=stated).doubt == doubt


def test_changes_multiply_each_way() -> None:
    cloth = Cloth("c", "cloth", 100.0, 100.0, changes=(WASHED, BONDED))
    assert cloth.change_after(0).at((100.0, 100.0)) == pytest.approx((100 * 0.9 * 0.5, 100 * 0.8))
    assert cloth.change_after(1).at((100.0, 100.0)) == pytest.approx((50.0, 100.0))
    assert cloth.change_after(2).at((100.0, 100.0)) == (100.0, 100.0)


def test_the_outline_takes_only_the_changes_it_does_not_contain() -> None:
    crooked = ((0.0, 0.0), (100.0, 10.0), (80.0, 100.0))
    cloth = Cloth("c", "leftover", 100.0, 100.0, outline_mm=crooked, outline_changes_in=1, changes=(WASHED, BONDED))
    assert cloth.outline_now_mm() == ((0.0, 0.0), (50.0, 10.0), (40.0, 100.0))


def test_without_an_outline_the_rectangle_counts() -> None:
    cloth = Cloth("c", "swatch", 200.0, 100.0, changes=(WASHED,))
    assert cloth.outline_now_mm() == ((0.0, 0.0), (180.0, 0.0), (180.0, 80.0), (0.0, 80.0))
