from __future__ import annotations

import pytest
from pdf_reader import page_sizes_mm, stroked_outlines_mm, text_of

from coverlayout.exporting.paper import PENS, Paper, printable


def test_places_count_from_the_top_left_in_mm():
    paper = Paper(100.0, 50.0, "t")
    paper.line(((10.0, 20.0), (40.0, 20.0)), PENS["cut"])
    pdf = paper.finished()
    assert stroked_outlines_mm(pdf) == [[pytest.approx((10.0, 20.0), abs=1e-3), pytest.approx((40.0, 20.0), abs=1e-3)]]
    # 100 mm is 283.4646 pt, 50 mm is 141.7323 pt: PDF default user space of 72 to the inch.
    assert page_sizes_mm(pdf) == [(pytest.approx(100.0, abs=1e-3), pytest.approx(50.0, abs=1e-3))]


def test_letters_the_font_lacks_are_replaced_not_boxed():
    assert printable("日誌 ok") == "?? ok"
    paper = Paper(100.0, 50.0, "日誌")
    paper.text((10.0, 10.0), "Größe 日", 8)
    assert "Größe ?" in text_of(paper.finished())


def test_a_paragraph_breaks_into_lines_and_says_where_the_next_goes():
    paper = Paper(100.0, 80.0, "t")
    assert paper.paragraph((10.0, 10.0), 30.0, "one two three four five six seven", 8) == pytest.approx(10.0 + 4.0 * 2)
    assert paper.paragraph((10.0, 10.0), 30.0, "", 8) == 10.0


def test_a_paragraph_is_measured_as_it_is_written():
    paper, text = Paper(100.0, 80.0, "t"), "one two three four five six seven"
    assert paper.paragraph_mm(30.0, text, 8) == pytest.approx(paper.paragraph((10.0, 10.0), 30.0, text, 8) - 10.0)
    assert paper.paragraph_mm(30.0, "", 8) == 0.0


def test_a_text_is_shortened_in_its_middle_and_only_where_it_must_be():
    paper = Paper(100.0, 80.0, "t")
    assert paper.shortened("front-1", 40.0, 8) == "front-1"
    short = paper.shortened("a very long name of a piece, number 12", 30.0, 8)
    assert (short[:6], short[-2:]) == ("a very", "12")
    assert "..." in short
    assert paper.text_width_mm(short, 8) <= 30.0


def test_text_may_read_upward_and_from_the_right():
    paper = Paper(100.0, 80.0, "t")
    paper.text((50.0, 40.0), "spine", 8, turned=True, align="middle")
    paper.text((90.0, 70.0), "edge", 8, align="right")
    assert {"spine", "edge"} <= set(text_of(paper.finished()).split())


def test_pages_follow_each_other():
    paper = Paper(100.0, 80.0, "t")
    paper.next_page()
    assert len(page_sizes_mm(paper.finished())) == 2
