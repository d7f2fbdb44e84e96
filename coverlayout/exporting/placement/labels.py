"""Words on a piece of the drawing: its name and measures where there is room, and which part of the book lies where."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import hypot

from coverlayout.errors import Remark, sentence
from coverlayout.exporting.measures import Measure
from coverlayout.exporting.measuring.shape import FaceSeen, shape_of
from coverlayout.exporting.paper import MUTED, Paper
from coverlayout.geometry.frames import Affine, Point, Ring
from coverlayout.geometry.shapes import Box, area_mm2, bounds
from coverlayout.units import LengthStyle, turn_words

__all__ = ["draw_face_words", "draw_label", "is_crowded", "is_upright"]

_WHITE = (1.0, 1.0, 1.0)
_SMALLEST_TEXT_PT, _LARGEST_TEXT_PT = 4.5, 8.0
_ROW_MM_PER_PT = 0.45
# What a word along an edge takes of the piece's middle, on the page, and how far it reaches from the edge's middle.
_WORD_MM = {"head": 6.5, "spine edge": 3.5}
_WORD_REACH_MM = 4.0
# Pieces smaller than this on the page have an arrow at their head, and no word that would lie under their number.
_CROWDED_MM, _CROWDED_TRIANGLE_MM, _ARROW_MM = 12.0, 40.0, 2.8
_FACE_PT, _FACE_OFF_MM = 5.5, 1.5
# The parts of a book that are named on the cloth that covers several of them; others (narrow rims) are not.
_NAMED = ("front", "spine", "back", "fore-edge", "flap", "hinge", "head", "closed side", "tail")


@dataclass(frozen=True)
class _FaceWord:
    """A word on the page, upright or not, and the box it takes."""

    text: str
    box: Box
    upright: bool


def draw_face_words(paper: Paper, measure: Measure, to_page: Affine) -> None:
    """Front, spine, back and the like, each near the tail of its part, on a piece that covers several of them."""
    for word in _face_words(paper, measure, to_page):
        paper.fill(word.box.ring(), _WHITE, 0.82)
        x, y = word.box.middle
        at = (x + 0.7, y) if word.upright else (x, y + 0.7)
        paper.text(at, word.text, _FACE_PT, align="middle", colour=MUTED, turned=word.upright)


def _face_words(paper: Paper, measure: Measure, to_page: Affine) -> list[_FaceWord]:
    named = [(name, face) for face in measure.faces if (name := _face_name(face.name)) in _NAMED]
    if len(named) < 2:
        return []
    words = (Remark.of(f"paper-face-{name.replace(' ', '-')}").text() for name, _ in named)
    found = (_face_word(paper, word, face, to_page) for word, (_, face) in zip(words, named, strict=True))
    return [word for word in found if word is not None]


def _face_name(name: str) -> str:
    """What a face is called on its piece: inside or out, front or back, a hinge is a hinge."""
    return "hinge" if name.endswith(" hinge") else name.removeprefix("inside ")


def _face_word(paper: Paper, word: str, face: FaceSeen, to_page: Affine) -> _FaceWord | None:
    """Where the word of a part stands; None in one that is too small for it."""
    room, (head, tail) = bounds(to_page.ring(face.outline_mm)), to_page.ring((face.head_mm, face.tail_mm))
    long_mm, high_mm = paper.text_width_mm(word, _FACE_PT) + 0.8, 0.4 * _FACE_PT
    along = (head[0] - tail[0], head[1] - tail[1])
    ends_below = abs(along[1]) >= abs(along[0])
    upright = room.width_mm < long_mm
    wide, high = (high_mm, long_mm) if upright else (long_mm, high_mm)
    deep_mm = hypot(*along)
    off_mm = (high if ends_below else wide) / 2 + _FACE_OFF_MM
    if deep_mm < off_mm or room.width_mm < wide or room.height_mm < high:
        return None
    share = min(off_mm / deep_mm, 0.5)
    x, y = tail[0] + share * along[0], tail[1] + share * along[1]
    return _FaceWord(word, Box(x - wide / 2, y - high / 2, wide, high), upright)


def draw_label(paper: Paper, measure: Measure, to_page: Affine, style: LengthStyle, number: int) -> None:
    """Name and measures in the middle of the piece, as large as it allows; fewer words where it is small.

    `number` is the piece's row in the table; it stands for the name where there is no room for that.
    """
    lines, space, size_pt = _chosen(paper, measure, to_page, style, number)
    (x, y), row_mm = space.middle, size_pt * _ROW_MM_PER_PT
    high = len(lines) * row_mm
    wide = max(paper.text_width_mm(line, size_pt, bold=row == 0) for row, line in enumerate(lines)) + 1.5
    paper.fill(Box(x - wide / 2, y - high / 2 - 0.6, wide, high + 1.2).ring(), _WHITE, 0.82)
    for row, line in enumerate(lines):
        paper.text((x, y - high / 2 + (row + 0.75) * row_mm), line, size_pt, bold=row == 0, align="middle")


def _chosen(
    paper: Paper, measure: Measure, to_page: Affine, style: LengthStyle, number: int
) -> tuple[list[str], Box, float]:
    """The most words that can be read, with the space they stand in and their size."""
    words = [word.box for word in _face_words(paper, measure, to_page)]
    spaces = [space for room in _rooms(measure, to_page) for space in _spaces(measure, to_page, room, words)]
    size_words = _size_words(measure, style)
    tries = [(lines, space) for space in spaces for lines in (size_words + _place_words(measure, style), size_words)]
    # A corner's long name rarely fits, and the number in the table tells it as well: its legs are worth more.
    fewer = [[str(number), *size_words[1:]]] if measure.shape == "right triangle" else []
    tries += [(lines, space) for lines in (*fewer, size_words[:1], [str(number)]) for space in spaces]
    for lines, space in tries:
        size_pt = _fitting_pt(paper, lines, space.width_mm - 2.5, space.height_mm - 2.0)
        if size_pt >= _SMALLEST_TEXT_PT:
            return lines, space, size_pt
    return [str(number)], spaces[-1], _SMALLEST_TEXT_PT


def _rooms(measure: Measure, to_page: Affine) -> Iterator[Box]:
    """Where words may stand: the largest board, all boards and what is between them; of a piece without, all of it."""
    boards = [to_page.ring(mark.points_mm) for mark in measure.marks if mark.kind == "board" and mark.closed]
    if not boards:
        yield _room_in(to_page.ring(measure.outline_mm))
        return
    yield _room_in(max(boards, key=area_mm2))
    if len(boards) > 1:
        yield bounds([point for ring in boards for point in ring])


def _room_in(ring: Ring) -> Box:
    """The box of an outline; of a triangle with a right angle the largest box within it, at that angle."""
    box = bounds(ring)
    if shape_of(ring) != "right triangle":
        return box
    # The right angle lies opposite the one corner of the box that no corner of the triangle reaches.
    missing = max(box.ring(), key=lambda corner: min(_apart(corner, point) for point in ring))
    left_mm = box.left_mm + (box.width_mm / 2 if missing[0] <= box.middle[0] else 0.0)
    top_mm = box.top_mm + (box.height_mm / 2 if missing[1] <= box.middle[1] else 0.0)
    return Box(left_mm, top_mm, box.width_mm / 2, box.height_mm / 2)


def _apart(one: Point, other: Point) -> float:
    return abs(one[0] - other[0]) + abs(one[1] - other[1])


def _spaces(measure: Measure, to_page: Affine, room: Box, words: list[Box]) -> Iterator[Box]:
    """Spaces in a room, the best first: clear of all other words, then below the word along the spine, then all."""
    yield _clear_of(_between_words(measure, to_page, room), words)
    spine = next((mark for mark in measure.marks if mark.kind == "spine edge"), None)
    if spine is not None and is_upright(to_page.ring(spine.points_mm)):
        top_mm = bounds(to_page.ring(spine.points_mm)).middle[1] + _WORD_REACH_MM
        if top_mm < room.bottom_mm:
            yield _clear_of(Box(room.left_mm, top_mm, room.width_mm, room.bottom_mm - top_mm), words)
    yield room


def _clear_of(space: Box, words: list[Box]) -> Box:
    """What is left of a space above and below the words that stand in it; nothing where they take all of it."""
    top_mm, bottom_mm, middle_mm = space.top_mm, space.bottom_mm, space.middle[1]
    for word in words:
        beside = word.right_mm <= space.left_mm or word.left_mm >= space.right_mm
        if beside or word.bottom_mm <= space.top_mm or word.top_mm >= space.bottom_mm:
            continue
        if word.middle[1] >= middle_mm:
            bottom_mm = min(bottom_mm, word.top_mm)
        else:
            top_mm = max(top_mm, word.bottom_mm)
    return Box(space.left_mm, top_mm, space.width_mm, max(bottom_mm - top_mm, 0.0))


def _size_words(measure: Measure, style: LengthStyle) -> list[str]:
    """Name and size, and how it is turned where the size is its own and not as it lies."""
    width_mm, height_mm = measure.size_shown_mm
    size = {"width": style.number(width_mm, "up"), "height": style.show(height_mm, "up")}
    legs = measure.shape == "right triangle"
    lines = [measure.name, sentence("paper-legs" if legs else "paper-size", size)]
    turned = turn_words(measure.shown_turn_deg)
    if (measure.askew or measure.from_line is not None) and turned != turn_words(0.0):
        lines.append(sentence("paper-turned", {"turn": turned}))
    return lines


def _place_words(measure: Measure, style: LengthStyle) -> list[str]:
    """Where the piece lies, from the edges or along and across the base line, and whether it is cut already."""
    if measure.from_line is None:
        left, top = style.show(measure.box.left_mm), style.show(measure.box.top_mm)
        lines = [sentence("paper-place", {"left": left, "top": top})]
    else:
        along_mm, across_mm = measure.from_line.left_mm
        ways = ("right-of", "left-of") if measure.from_line.lengthwise else ("below", "above")
        across = sentence(f"paper-place-{ways[across_mm < 0]}-line", {"across": style.show(abs(across_mm))})
        lines = [sentence("paper-place-along", {"along": style.show(along_mm)}), across]
    if measure.state != "planned":
        lines.append(Remark.of("paper-piece-cut" if measure.state == "cut" else "paper-piece-spoiled").text())
    return lines


def _between_words(measure: Measure, to_page: Affine, room: Box) -> Box:
    """What the words along the edges leave of the room."""
    left, top, right, bottom = room.left_mm, room.top_mm, room.right_mm, room.bottom_mm
    crowded = is_crowded(measure, to_page)
    for mark in measure.marks:
        if mark.kind not in _WORD_MM:
            continue
        taken_mm, edge = _WORD_MM[mark.kind], to_page.ring(mark.points_mm)
        if crowded:
            taken_mm = _ARROW_MM if mark.kind == "head" else 0.0
        (x, y), (middle_x, middle_y) = bounds(edge).middle, room.middle
        if is_upright(edge):
            left, right = (max(left, x + taken_mm), right) if x < middle_x else (left, min(right, x - taken_mm))
        else:
            top, bottom = (max(top, y + taken_mm), bottom) if y < middle_y else (top, min(bottom, y - taken_mm))
    return Box(left, top, right - left, bottom - top)


def _fitting_pt(paper: Paper, lines: list[str], width_mm: float, height_mm: float) -> float:
    """The largest size at which the lines fit; below the smallest that can be read, they do not."""
    widest = max(paper.text_width_mm(line, _LARGEST_TEXT_PT, bold=row == 0) for row, line in enumerate(lines))
    by_width = _LARGEST_TEXT_PT * width_mm / max(widest, 0.1)
    return min(_LARGEST_TEXT_PT, by_width, height_mm / (len(lines) * _ROW_MM_PER_PT))


def is_crowded(measure: Measure, to_page: Affine) -> bool:
    """True where a piece is too small on the page for words along its edges beside its own name or number."""
    box = bounds(to_page.ring(measure.outline_mm))
    least_mm = _CROWDED_TRIANGLE_MM if measure.shape == "right triangle" else _CROWDED_MM
    return min(box.width_mm, box.height_mm) < least_mm


def is_upright(edge: Ring) -> bool:
    """True when a line runs rather up and down than across."""
    box = bounds(edge)
    return box.height_mm > box.width_mm
