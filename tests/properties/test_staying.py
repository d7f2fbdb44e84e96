"""Whatever stays where it lies: what is laid beside it passes the judge, and no room is promised that is not there."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from coverlayout.book.book import OwnPiece
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.cutting.marking import mark_cut, mark_spoiled
from coverlayout.document.cutting.rest import rest_asked, staying_in, with_staying
from coverlayout.document.cutting.still_had import still_had
from coverlayout.document.edits.placements import accept, place
from coverlayout.document.project import JobRules, Project
from coverlayout.document.questions import judge_for, placed_now, question_for
from coverlayout.errors import BadInput
from coverlayout.layout.lay import lay
from coverlayout.layout.question import Placed

L_SHAPE = ((0.0, 0.0), (20.0, 0.0), (20.0, 75.0), (60.0, 75.0), (60.0, 100.0), (0.0, 100.0))
sizes = st.floats(15.0, 90.0)
places = st.tuples(st.floats(0.0, 200.0), st.floats(0.0, 150.0), st.sampled_from([0.0, 90.0, 180.0, 7.5]))


@st.composite
def benches(draw: st.DrawFn) -> Project:
    """Own pieces of which some lie (well or not), some are cut and some spoiled."""
    own = [OwnPiece(f"own-{k}", f"piece{k}", draw(sizes), draw(sizes), turns="quarter") for k in range(4)]
    own[0] = replace(own[0], outline_mm=draw(st.sampled_from([None, L_SHAPE])), turns="free")
    rules = JobRules(gap_mm=draw(st.sampled_from([0.0, 2.0])))
    project = Project(cloths=(Cloth("cloth-1", "Swatch", 200.0, 150.0),), own_pieces=tuple(own), rules=rules)
    for k in range(3):
        what = draw(st.sampled_from(["waits", "lies", "cut", "spoiled"]))
        if what == "waits":
            continue
        x, y, turn_deg = draw(places)
        project = place((Placed(f"piece{k}-1", "cloth-1", x, y, turn_deg),)).change(project)
        if what != "lies":
            mark = mark_cut if what == "cut" else mark_spoiled
            try:
                project = mark((f"piece{k}-1",)).change(project)
            except BadInput as fault:
                assert fault.code == "cut-over-cut"  # noqa: PT017  # most are not refused
    return project


@settings(max_examples=20)
@given(benches())
def test_the_rest_is_laid_rightly_beside_what_stays(project: Project) -> None:
    before = judge_for(project).report(placed_now(project))
    had = still_had(rest_asked(project, steps=2000))
    after = accept(had.answer.placed).change(project)
    report = judge_for(after).report(placed_now(after))
    # Only what lay in breach before still does.
    assert set(report.breaches) == set(before.breaches)
    assert set(report.waiting) == set(had.missing)


@settings(max_examples=20)
@given(benches())
def test_no_more_room_is_promised_than_the_layout_has(project: Project) -> None:
    stay = frozenset(placed.piece for placed in placed_now(project))
    answer = lay(question_for(project, staying=stay, steps=2000))
    if not answer.placed:
        return
    staying = staying_in(project, stay)
    told = with_staying(answer, staying, 6.0)
    if staying.broken:
        assert told.verdict == "not found"
        return
    after = accept(answer.placed).change(project)
    report = judge_for(after).report(placed_now(after))
    assert report.clearance_mm is not None
    assert told.clearance_mm is not None
    assert abs(told.clearance_mm - report.clearance_mm) <= 0.01
    assert told.spare_mm is not None
    assert told.spare_mm >= report.clearance_mm - 0.01
