"""What holds for any cloth: strips only take away, changes multiply in any order, a smaller cloth offers less."""

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st
from samples import CROOKED, L_SHAPE

from coverlayout.cloth.cloth import Change, Cloth
from coverlayout.cloth.usable import outline_region, shrunk, size_now_mm, usable
from coverlayout.geometry.shapes import Region

STRIPS = st.floats(0.0, 40.0)
PERCENT = st.floats(-20.0, 20.0)
CHANGES = st.lists(st.builds(Change, st.just("change"), PERCENT, PERCENT), max_size=3).map(tuple)
CLOTHS = st.builds(
    Cloth,
    id=st.just("c"),
    name=st.just("cloth"),
    width_mm=st.just(330.0),
    length_mm=st.just(330.0),
    outline_mm=st.sampled_from([None, CROOKED, L_SHAPE]),
    trim_mm=STRIPS,
    web_short_mm=STRIPS,
    selvedge_left_mm=STRIPS,
    selvedge_right_mm=STRIPS,
    changes=CHANGES,
)
# Shapes are snapped to a millionth of a millimetre: areas may differ by that much along every edge.
SLACK_MM2 = 0.01


def inside(inner: Region, outer: Region) -> bool:
    return inner.minus(outer).area_mm2 <= SLACK_MM2


@given(CLOTHS)
def test_what_can_be_used_lies_on_the_cloth(cloth: Cloth) -> None:
    assert inside(usable(cloth), outline_region(cloth))


@given(CLOTHS, st.sampled_from(["trim_mm", "web_short_mm", "selvedge_left_mm", "selvedge_right_mm"]), STRIPS)
def test_a_wider_strip_never_leaves_more(cloth: Cloth, strip: str, more: float) -> None:
    wider = replace(cloth, **{strip: getattr(cloth, strip) + more})
    assert inside(usable(wider), usable(cloth))


@given(CLOTHS, st.floats(0.0, 10.0))
def test_a_swatch_in_doubt_offers_less(cloth: Cloth, percent: float) -> None:
    swatch = replace(cloth, outline_mm=None)
    assert inside(usable(shrunk(swatch, percent)), usable(swatch))


@given(CLOTHS, st.randoms(use_true_random=False))
def test_the_order_of_changes_is_no_matter(cloth: Cloth, random: object) -> None:
    changes = list(cloth.changes)
    random.shuffle(changes)  # type: ignore[attr-defined]  # a random.Random, which the strategy does not say
    width, length = size_now_mm(replace(cloth, changes=tuple(changes)))
    before = size_now_mm(cloth)
    assert abs(width - before[0]) < 1e-9
    assert abs(length - before[1]) < 1e-9
