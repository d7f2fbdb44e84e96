"""Words on the canvas: chips, the name of a piece, and what is wrong with where it lies."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter

from coverlayout.errors import sentence
from coverlayout.layout.answer import Breach, Rule
from coverlayout.ui.table.bench import Bench, Lying
from coverlayout.ui.theme import CORNER_PX, SIZES_PX, text_font
from coverlayout.units import LengthStyle

__all__ = [
    "BREACH",
    "CHOSEN",
    "FITS",
    "INK",
    "PROPOSED_GROUND",
    "Label",
    "PieceLook",
    "Seen",
    "labels_of",
    "looks_of",
    "paint_chip",
    "paint_label",
]

# Pieces lie on a print, under light halos, in both looks: their colours are those of the light look.
INK = QColor("#22252B")
CHOSEN = QColor("#1F4E79")
BREACH = QColor("#A6301D")
FITS = QColor("#0B6B4D")
PROPOSED_GROUND = QColor(255, 255, 255, 225)
_ON_INK = QColor("#FFFFFF")
_WORDED = ("overlap", "outside", "flaw", "gap", "zone", "turn", "lock", "link")
# Nothing is written on a board smaller than this.
_LEAST_NAME_PX = 44.0
_SMALL_BOARD_PX = 120.0
# A name hides no more than this part of the board (or of a piece without one), and is not cut shorter than so many
# letters.
_MOST_HIDDEN, _LEAST_LETTERS = 0.4, 8
_ANY_ROOM_PX = 100_000.0


@dataclass(frozen=True)
class PieceLook:
    """How a piece is shown now: chosen or not, and what is wrong with where it lies (the rule and its words).

    Without words it is told on another piece. `proposed`: it would lie there, and does not yet.
    """

    chosen: bool = False
    breaches: tuple[tuple[Rule, str], ...] = ()
    proposed: bool = False

    @property
    def warnings(self) -> tuple[str, ...]:
        """What is written on it of what is wrong."""
        return tuple(words for _, words in self.breaches if words)

    @property
    def rules(self) -> frozenset[Rule]:
        """The rules it breaks."""
        return frozenset(rule for rule, _ in self.breaches)


def looks_of(
    bench: Bench, breaches: tuple[Breach, ...], chosen: tuple[str, ...], style: LengthStyle
) -> dict[str, PieceLook]:
    """How every piece on the bench is shown."""
    wrong: dict[str, list[tuple[Rule, str]]] = {}
    for breach in breaches:
        tells = _telling(breach, chosen)
        for piece_id in breach.pieces:
            words = _words(breach, piece_id, bench, style) if piece_id in tells else ""
            wrong.setdefault(piece_id, []).append((breach.rule, words))
    plain, marked = PieceLook(), PieceLook(chosen=True)
    looks = {lying.piece.id: plain for lying in bench.lying}
    looks |= dict.fromkeys(chosen, marked)
    looks |= {each: PieceLook(each in chosen, tuple(found)) for each, found in wrong.items()}
    return looks


def _telling(breach: Breach, chosen: tuple[str, ...]) -> tuple[str, ...]:
    """The pieces it is written on: all, but what is said of two that go together once, on the chosen one if any is."""
    if breach.rule != "link":
        return breach.pieces
    return next(((each,) for each in breach.pieces if each in chosen), breach.pieces[:1])


def _words(breach: Breach, piece_id: str, bench: Bench, style: LengthStyle) -> str:
    """What is wrong, in a few words to be written on the piece of that id."""
    others = [bench.name(other) for other in breach.pieces if other != piece_id and bench.find(other)]
    code = f"canvas-{breach.rule}" if breach.rule in _WORDED else "canvas-other-rule"
    code = "canvas-no-ground" if breach.no_ground else code
    figures: dict[str, str | int | float] = {
        "other": others[0] if others else breach.against,
        "amount_mm": breach.amount_mm,
        "amount": round(breach.amount_mm),
    }
    return sentence(code, figures, lambda length_mm: style.show(length_mm, "up"))


def _name_font(board: QRectF) -> QFont:
    """On a small board the name is written small and plain, so that it hides less of the print."""
    if board.width() < _SMALL_BOARD_PX:
        return text_font(SIZES_PX.small - 1)
    return text_font(SIZES_PX.small, bold=True)


def _name_of(lying: Lying) -> str:
    """Its name, with the word for what keeps it where it lies."""
    if lying.state == "cut":
        return sentence("canvas-name-cut", {"piece": lying.label})
    return sentence("canvas-name-pinned", {"piece": lying.label}) if lying.pinned else lying.label


def _ground_of(seen: Seen) -> QColor:
    """The block behind a name: light for a piece that is only proposed."""
    if seen.look.proposed:
        return PROPOSED_GROUND
    return CHOSEN if seen.look.chosen else FITS if seen.lying.state == "cut" else INK


def _has_room(board: QRectF) -> bool:
    return board.width() >= _LEAST_NAME_PX and board.height() >= 24


@dataclass(frozen=True)
class Seen:
    """A piece as it is seen now: its board, its outline (boxes on the screen) and its look."""

    lying: Lying
    board: QRectF
    outline: QRectF
    look: PieceLook


@dataclass(frozen=True)
class Label:
    """Words on a coloured block; `warns`: they say what is wrong."""

    box: QRectF
    words: str
    ground: QColor
    font: QFont
    warns: bool = False


_WRAP = Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignLeft


def labels_of(pieces: Sequence[Seen], tags: Sequence[QRectF] = ()) -> list[Label]:
    """The names of pieces and, below each, what is wrong with it; the topmost piece comes first and has first choice.

    No label lies on another, nor on the `tags` where there is other room. Those of a piece farther down keep off the
    pieces above it as long as it has another place for them. A label that finds no room is left out.
    """
    labels: list[Label] = []
    above: list[QRectF] = []
    for seen in pieces:
        if _has_room(seen.board):
            taken = [label.box for label in labels]
            over = [box for box in above if box.intersects(seen.outline)]
            own = _own_labels(seen, [*taken, *tags], over)
            if len(own) <= len(seen.look.warnings):
                # A flaw's name gives way, whole, before a piece goes without its own name or a warning.
                own = max(own, _own_labels(seen, taken, over), key=len)
            labels += own
        above.append(seen.outline)
    return labels


def _own_labels(seen: Seen, taken: Sequence[QRectF], above: Sequence[QRectF]) -> list[Label]:
    font = _name_font(seen.board)
    metrics, name = QFontMetricsF(font), _name_of(seen.lying)
    color = _ground_of(seen)
    corner = _corner(seen.board, metrics.horizontalAdvance(name))
    found: list[Label] = []
    name = _short_enough(name, seen, corner.x(), metrics)
    for words, ground in [*([(name, color)] if name else []), *((words, BREACH) for words in seen.look.warnings)]:
        blocked = [*taken, *(label.box for label in found)]
        boxes = (_free_box(words, corner, seen.outline, metrics, each) for each in ([*blocked, *above], blocked))
        if (box := next((each for each in boxes if each is not None), None)) is not None:
            found.append(Label(box, words, ground, font, ground is BREACH))
            corner = QPointF(box.left(), box.bottom() + 3)
    return found


def _short_enough(name: str, seen: Seen, left_px: float, metrics: QFontMetricsF) -> str:
    """As much of a name as leaves the piece to be seen: whole, else in one line cut short, else nothing."""
    room = max(seen.outline.right() - left_px - 14, 40.0)
    size = _wrapped(name, metrics, room)
    most = _MOST_HIDDEN * seen.board.width() * seen.board.height()
    if (size.width() + 13) * (size.height() + 4) <= most:
        return name
    line = metrics.elidedText(name, Qt.TextElideMode.ElideRight, min(room, most / (metrics.height() + 4) - 13))
    return line if len(line) > _LEAST_LETTERS else ""


def _corner(board: QRectF, name_px: float) -> QPointF:
    """Where the words begin: the top left of the board, below the head's wedge and word when they would reach them."""
    if board.width() < _SMALL_BOARD_PX:
        return board.topLeft() + QPointF(6, 18)
    left, top = board.left() + 12, board.top() + 12
    reaches = left + name_px + 12 > board.center().x() - 18
    return QPointF(left, top + 22 if reaches else top)


def _free_box(
    words: str, corner: QPointF, outline: QRectF, metrics: QFontMetricsF, blocked: Sequence[QRectF]
) -> QRectF | None:
    """The block of words at the corner, else below or beside what is in its way; None when the outline has no room."""
    # Of the words of a whole table only those around this outline can be in the way, or leave a place below or beside.
    rights, bottoms = {box.right() for box in blocked}, {box.bottom() for box in blocked}
    last_left, last_top = outline.right() - 13, outline.bottom() - 4
    lefts = [corner.x(), *sorted(right + 4 for right in rights if corner.x() < right <= last_left - 4)]
    tops = [corner.y(), *sorted(bottom + 3 for bottom in bottoms if corner.y() < bottom <= last_top - 3)]
    blocked = [box for box in blocked if box.bottom() > corner.y() and box.top() < outline.bottom()]
    in_a_line = _wrapped(words, metrics, _ANY_ROOM_PX)
    for left in lefts:
        room = max(outline.right() - left - 14, 40.0)
        size = in_a_line if in_a_line.width() <= room else _wrapped(words, metrics, room)
        if left > corner.x() and left + size.width() + 13 > outline.right():
            continue
        for top in tops:
            box = QRectF(left, top, size.width() + 13, size.height() + 4)
            if box.bottom() <= outline.bottom() and not any(box.intersects(each) for each in blocked):
                return box
    return None


def _wrapped(words: str, metrics: QFontMetricsF, room_px: float) -> QSizeF:
    """How large words are in lines no longer than the room."""
    return metrics.boundingRect(QRectF(0, 0, room_px, 1000), _WRAP, words).size()


def paint_label(painter: QPainter, label: Label) -> None:
    """Words on their rounded block."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(label.ground)
    painter.drawRoundedRect(label.box, CORNER_PX, CORNER_PX)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setFont(label.font)
    painter.setPen(INK if label.ground is PROPOSED_GROUND else _ON_INK)
    painter.drawText(label.box.adjusted(6, 2, -6, -2), _WRAP, label.words)


def paint_chip(
    painter: QPainter,
    middle: QPointF,
    text: str,
    ground: QColor,
    ink: QColor,
    *,
    bold: bool = True,
    size_px: int = SIZES_PX.small,
) -> None:
    """A word or figure on a small rounded ground about `middle`; a bold one has more room around it."""
    font = text_font(size_px, bold=bold)
    metrics = QFontMetricsF(font)
    width = metrics.horizontalAdvance(text) + (12 if bold else 6)
    height = metrics.height() + (4 if bold else 0)
    box = QRectF(middle.x() - width / 2, middle.y() - height / 2, width, height)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(ground)
    painter.drawRoundedRect(box, CORNER_PX, CORNER_PX)
    painter.setFont(font)
    painter.setPen(ink)
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)
    painter.setBrush(Qt.BrushStyle.NoBrush)
