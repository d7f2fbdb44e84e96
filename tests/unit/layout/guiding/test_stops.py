"""Stops along one direction: the nearest that serves and is allowed, named and drawn."""

from __future__ import annotations

import math
import random

import pytest

from coverlayout.layout.guiding.stops import Catch, Extent, Part, Stop, Stops, lines_of, named


def anywhere(_: float) -> bool:
    return True


def extent(low: float, high: float, other: tuple[float, float] = (0.0, 10.0)) -> Extent:
    return Extent({"low": low, "high": high, "middle": (low + high) / 2}, *other)


def stop(at: float, kind: str = "level", low: float = 0.0, high: float = 10.0, **more: object) -> Stop:
    return Stop(at, kind, low, high, **more)  # type: ignore[arg-type]  # the kinds and figures are those of Stop


def test_the_nearest_wins_whichever_part_it_catches() -> None:
    stops = Stops([("low", stop(12.0)), ("high", stop(28.5)), ("middle", stop(22.0)), ("anchor", stop(10.1))])
    assert stops.nearest(extent(10.0, 30.0), 3.0, anywhere) == Catch(-1.5, "high", stop(28.5))
    assert stops.nearest(extent(10.0, 30.0), 1.4, anywhere) is None
    assert Stops([]).nearest(extent(10.0, 30.0), 3.0, anywhere) is None


def test_a_stop_at_the_very_reach_still_catches() -> None:
    assert Stops([("low", stop(13.0))]).nearest(extent(10.0, 30.0), 3.0, anywhere) is not None
    assert Stops([("low", stop(13.001))]).nearest(extent(10.0, 30.0), 3.0, anywhere) is None


def test_what_counts_only_beside_itself() -> None:
    beside = Stops([("low", stop(11.0, "touch", 40.0, 60.0, beside=True)), ("low", stop(12.0, "level", 40.0, 60.0))])
    near = beside.nearest(extent(10.0, 30.0, (55.0, 75.0)), 3.0, anywhere)
    assert near is not None
    assert near.stop.kind == "touch"
    for other in ((60.0, 80.0), (20.0, 40.0), (59.995, 80.0)):
        past = beside.nearest(extent(10.0, 30.0, other), 3.0, anywhere)
        assert past is not None
        assert past.stop.kind == "level"


def test_what_is_too_long_does_not_stop_between() -> None:
    between = Stops([("middle", stop(20.0, "between", beside=True, most_mm=20.0))])
    assert between.nearest(extent(11.0, 31.0), 3.0, anywhere) is not None
    assert between.nearest(extent(10.5, 31.0), 3.0, anywhere) is None


def test_of_one_place_the_first_by_rank_then_the_nearest() -> None:
    far, near = stop(11.0, "level", 200.0, 220.0, names=("Far",)), stop(11.0, "level", 30.0, 50.0, names=("Near",))
    touch = stop(31.0, "touch", 0.0, 5.0, beside=True)
    assert _name(Stops([("low", far), ("low", near)])) == ("Near",)
    assert _name(Stops([("low", near), ("low", far)])) == ("Near",)
    caught = Stops([("low", near), ("low", far), ("high", touch)]).nearest(extent(10.0, 30.0), 3.0, anywhere)
    assert caught is not None
    assert caught.stop == touch


def _name(stops: Stops) -> tuple[str, ...]:
    caught = stops.nearest(extent(10.0, 30.0), 3.0, anywhere)
    assert caught is not None
    return caught.stop.names


def test_the_next_is_taken_where_the_nearest_is_not_allowed() -> None:
    stops = Stops([("low", stop(11.0)), ("low", stop(8.0)), ("high", stop(32.5))])
    caught = stops.nearest(extent(10.0, 30.0), 3.0, lambda by_mm: by_mm > 1.0)
    assert caught is not None
    assert caught.by_mm == 2.5


def test_it_finds_what_looking_at_every_stop_finds() -> None:
    chance = random.Random(7)
    parts: tuple[Part, ...] = ("low", "high", "middle")
    for _ in range(200):
        made = [(chance.choice(parts), stop(chance.uniform(0.0, 200.0))) for _ in range(20)]
        low = chance.uniform(0.0, 150.0)
        here, reach = extent(low, low + chance.uniform(5.0, 50.0)), chance.uniform(0.5, 20.0)
        away = min((abs(each.at_mm - here.parts[part]) for part, each in made), default=math.inf)
        caught = Stops(made).nearest(here, reach, anywhere)
        assert (caught is None) == (away > reach)
        if caught is not None:
            assert abs(caught.by_mm) == away


def test_a_common_line_runs_over_both() -> None:
    here = Catch(0.0, "low", stop(11.0, "level", 40.0, 60.0))
    assert lines_of(here, extent(11.0, 31.0, (5.0, 9.0))) == (((11.0, 5.0), (11.0, 60.0)),)


def test_a_gap_is_drawn_by_its_two_edges() -> None:
    after = Catch(0.0, "low", stop(16.0, "gap", 0.0, 10.0, names=("Label",), length_mm=6.0))
    assert [start[0] for start, _ in lines_of(after, extent(16.0, 36.0))] == [16.0, 10.0]
    before = Catch(0.0, "high", stop(36.0, "room", 0.0, 10.0, names=("Label",), length_mm=6.0))
    assert [start[0] for start, _ in lines_of(before, extent(16.0, 36.0))] == [36.0, 42.0]
    assert named(before, extent(16.0, 36.0)).text() == "6 mm room to Label"


def test_equal_gaps_are_drawn_by_a_stroke_in_each() -> None:
    between = stop(50.0, "between", 0.0, 20.0, beside=True, most_mm=40.0, pair_mm=(30.0, 70.0))
    middle = Catch(0.0, "middle", between)
    here = extent(40.0, 60.0, (10.0, 40.0))
    # Beside both from 10 to 20 across: the strokes lie at 15.
    assert lines_of(middle, here) == (((30.0, 15.0), (40.0, 15.0)), ((60.0, 15.0), (70.0, 15.0)))
    assert named(middle, here).figures[-1] == ("length_mm", 10.0)
    like = stop(95.0, "like", 0.0, 20.0, length_mm=15.0, beside=True, pair_mm=(30.0, 45.0))
    strokes = lines_of(Catch(0.0, "low", like), extent(95.0, 120.0, (0.0, 20.0)))
    assert strokes == (((30.0, 10.0), (45.0, 10.0)), ((80.0, 10.0), (95.0, 10.0)))
    before = lines_of(Catch(0.0, "high", like._replace(at_mm=5.0)), extent(-20.0, 5.0, (0.0, 20.0)))
    assert before[1] == ((5.0, 10.0), (20.0, 10.0))


@pytest.mark.parametrize(("other", "away"), [((-30.0, -5.0), 5.0), ((-5.0, 3.0), 0.0), ((25.0, 40.0), 15.0)])
def test_how_far_off_a_stop_is(other: tuple[float, float], away: float) -> None:
    assert stop(0.0).away_mm(extent(0.0, 1.0, other)) == away
