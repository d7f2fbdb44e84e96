"""Everything the mouse does on the canvas, by keys; and what is said of it to those who do not see it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QKeyEvent

from coverlayout.document.edits.placements import take_off, turn_piece
from coverlayout.document.project import Project
from coverlayout.document.session import Session
from coverlayout.errors import sentence
from coverlayout.geometry.frames import Point
from coverlayout.layout.question import Placed
from coverlayout.ui.canvas.gestures import DragPiece, free_place, guides_for, placing
from coverlayout.ui.canvas.work import ARROWS, step_mm
from coverlayout.ui.table.bench import WAITING, Lying
from coverlayout.ui.table.neighbours import to_neighbour

if TYPE_CHECKING:
    from coverlayout.ui.canvas.canvas import Canvas

__all__ = ["Keys"]

# How far an arrow key looks on when it has no piece to move.
_LOOK_PX = 80.0


# Keys that change how pieces are dragged while they are held.
_HELD: dict[int, Qt.KeyboardModifier] = {
    Qt.Key.Key_Control: Qt.KeyboardModifier.ControlModifier,
    Qt.Key.Key_Shift: Qt.KeyboardModifier.ShiftModifier,
}


class Keys:
    """What keys do on one canvas. Most keys lead here through an act; held ones and the space bar come by `pressed`."""

    def __init__(self, canvas: Canvas, session: Session) -> None:
        self._canvas = canvas
        self._session = session
        self.space_held = False
        # The project as the last press of an arrow left it: a key held down goes on with that step.
        self._nudged: Project | None = None
        # What a held arrow has still to go, in table mm: many repeats that came in while one was shown are one move.
        self._ahead_mm: Point = (0.0, 0.0)
        # The arrow let go last, and when.
        self._released: tuple[int, int] | None = None
        self._tick = QTimer(canvas, singleShot=True, interval=0)
        self._tick.timeout.connect(self._catch_up)

    def pressed(self, event: QKeyEvent) -> bool:
        """Do what a key asks for; False when the canvas has no use for it."""
        key, modifiers = event.key(), event.modifiers()
        if key in ARROWS:
            self._arrow(ARROWS[key], step_mm(modifiers), held=self._is_held(event))
        elif key in _HELD and self._canvas.hand.held(_HELD[key], down=True):
            return True
        elif key == Qt.Key.Key_Space:
            self.space_held = True
        elif key == Qt.Key.Key_Escape and self._canvas.hand.holds:
            # Alone it comes by an act; with Ctrl or Shift held, as in a drag, it is no other key.
            self._canvas.leave_gesture()
        else:
            return False
        return True

    def released(self, event: QKeyEvent) -> None:
        """The space bar lets go of the table, an arrow of the pieces, the others of how pieces are dragged."""
        if event.key() in _HELD:
            self._canvas.hand.held(_HELD[event.key()], down=False)
        if event.key() == Qt.Key.Key_Space and not event.isAutoRepeat():
            self.space_held = False
        elif event.key() in ARROWS:
            self._released = event.key(), event.timestamp()

    def let_go(self) -> None:
        """No key is held any more."""
        self.space_held = False
        self._catch_up()

    def _is_held(self, event: QKeyEvent) -> bool:
        """True for a press that repeats itself.

        Some screens send a release and a press of the same moment and do not say that both are made up.
        """
        again = event.timestamp() > 0 and (event.key(), event.timestamp()) == self._released
        return event.isAutoRepeat() or again

    def _arrow(self, towards: Point, by_mm: float, *, held: bool) -> None:
        if not self._canvas.chosen:
            self.look(towards)
        elif held:
            self._ahead_mm = self._ahead_mm[0] + towards[0] * by_mm, self._ahead_mm[1] + towards[1] * by_mm
            self._tick.start()
        else:
            self._catch_up()
            self.nudge(towards, by_mm)

    def _catch_up(self) -> None:
        ahead_mm, self._ahead_mm = self._ahead_mm, (0.0, 0.0)
        self._tick.stop()
        if ahead_mm != (0.0, 0.0):
            self.nudge(ahead_mm, 1.0, held=True)

    def _chosen(self) -> list[Lying]:
        """The chosen pieces that may be moved; says so of those that are cut or pinned.

        Moving something puts a proposal away, and does no more: what is seen does not lie there yet.
        """
        if self._canvas.shown.proposal is not None:
            self._canvas.proposal_touched.emit()
            return []
        found = [lying for each in self._canvas.chosen if (lying := self._canvas.bench.find(each)) is not None]
        for lying in found:
            if not lying.moves:
                code = "canvas-cut" if lying.state == "cut" else "canvas-pinned"
                self._canvas.hint.emit(sentence(code, {"piece": lying.label}))
        return [lying for lying in found if lying.moves]

    def _on_cloth(self) -> list[Lying]:
        chosen = self._chosen()
        waiting = [lying for lying in chosen if lying.placed.cloth == WAITING]
        if waiting:
            self._canvas.hint.emit(sentence("canvas-turn-waiting", {"piece": waiting[0].label}))
        return [lying for lying in chosen if lying.placed.cloth != WAITING]

    def nudge(self, towards: Point, step_mm: float, *, held: bool = False) -> None:
        """Move the chosen pieces on their cloth, in directions as they are seen.

        Each press is one step of undo; a key that is `held` goes on with the step its press made.
        """
        bench, before = self._canvas.bench, self._session.project
        moved = []
        for lying in self._on_cloth():
            dx, dy = bench.sheet(lying.placed.cloth).from_table.vector((towards[0] * step_mm, towards[1] * step_mm))
            moved.append(replace(lying.placed, x_mm=lying.placed.x_mm + dx, y_mm=lying.placed.y_mm + dy))
        if moved:
            self._canvas.do(placing(bench, tuple(moved)), onto_last=held and before is self._nudged)
        after = self._session.project
        self._nudged = after if after is not before else None

    def to_guide(self, towards: Point) -> None:
        """Move the chosen pieces on to the next guide that way, as it is seen, and say which it is."""
        canvas = self._canvas
        lying = self._on_cloth()
        ids = tuple(each.piece.id for each in lying)
        guides = guides_for(canvas.bench, canvas.shown.judge, ids, ids[-1]) if ids else None
        if guides is None:
            return
        placed = tuple(each.placed for each in lying)
        caught = guides.onward(placed, canvas.bench.sheet(placed[-1].cloth).from_table.vector(towards))
        if not caught.guides:
            canvas.hint.emit(sentence("canvas-no-guide", {}))
            return
        dx, dy = caught.by_mm
        canvas.do(
            placing(canvas.bench, tuple(replace(each, x_mm=each.x_mm + dx, y_mm=each.y_mm + dy) for each in placed))
        )
        said = "; ".join(
            guide.says.text(self._session.project.preferences.length_style.show) for guide in caught.guides
        )
        canvas.hint.emit(sentence("canvas-at-guide", {"piece": lying[-1].label, "guide": said}))

    def look(self, towards: Point) -> None:
        """Look further that way over the table."""
        view = self._canvas.view.panned((-towards[0] * _LOOK_PX, -towards[1] * _LOOK_PX))
        self._canvas.sight.pan_to(view)

    def to_cloth(self, step: int) -> None:
        """Move the chosen pieces to the next cloth of the row (-1: to the one before)."""
        pieces = [lying.placed for lying in self._on_cloth()]
        moved = to_neighbour(self._canvas.bench, pieces, step, self._canvas.shown.judge)
        self._canvas.do(placing(self._canvas.bench, moved) if moved else None)

    def turn(self, *, clockwise: bool) -> None:
        """Turn the chosen pieces (or those being dragged) to the next turn they allow, about their anchors."""
        bench = self._canvas.bench
        as_printed = clockwise != (self._session.project.preferences.side == "back")
        dragged = self._canvas.gesture
        if isinstance(dragged, DragPiece):
            if dragged.turn(clockwise=as_printed):
                self._canvas.hand.show_drag(dragged)
            else:
                self._refuse_turn(dragged.shown[0])
            return
        turned: list[Placed] = []
        for lying in self._on_cloth():
            placed = bench.turned(lying.placed, clockwise=as_printed)
            if placed is None:
                self._refuse_turn(lying.placed)
                return
            turned.append(placed)
        if len(turned) == 1:
            self._canvas.do(turn_piece(turned[0].piece, turned[0].turn_deg, bench.name(turned[0].piece)))
        elif turned:
            self._canvas.do(placing(bench, tuple(turned)))

    def _refuse_turn(self, placed: Placed) -> None:
        lying = self._canvas.bench.find(placed.piece)
        if lying is not None:
            self._canvas.hint.emit(sentence("canvas-one-turn", {"piece": lying.label}))

    def put_aside(self) -> None:
        """Let the chosen pieces wait beside the cloth again."""
        ids = tuple(lying.piece.id for lying in self._chosen() if lying.placed.cloth != WAITING)
        if ids:
            self._canvas.do(take_off(ids, self._canvas.bench.name(ids[0])))

    def lay_on(self) -> None:
        """Lay the first chosen piece that waits on a free place of the cloth."""
        waiting = [lying for lying in self._chosen() if lying.placed.cloth == WAITING]
        judge = self._canvas.shown.judge
        if waiting and judge is not None:
            there = free_place(self._canvas.bench, waiting[0].piece.id, judge)
            if there is None:
                self._canvas.hint.emit(sentence("canvas-no-free-place", {"piece": waiting[0].label}))
            else:
                self._canvas.do(placing(self._canvas.bench, (there,)))

    def escape(self) -> None:
        """Give up what is under way; with nothing under way, choose nothing."""
        if self._canvas.gesture is not None:
            self._canvas.leave_gesture()
        else:
            self._canvas.choose(())

    def next_piece(self, *, forward: bool) -> bool:
        """Choose the next piece alone; False after the last one (or with none), so that the focus may go on."""
        ids = [lying.piece.id for lying in self._canvas.bench.lying]
        chosen = self._canvas.chosen
        at = ids.index(chosen[-1]) + (1 if forward else -1) if chosen else (0 if forward else len(ids) - 1)
        if not 0 <= at < len(ids):
            return False
        self._canvas.choose((ids[at],))
        return True

    def describe(self) -> None:
        """Say where the chosen pieces lie, for those who hear the canvas instead of seeing it."""
        said = [self._where(lying) for each in self._canvas.chosen if (lying := self._canvas.bench.find(each))]
        words = "; ".join(said) or sentence("canvas-none-chosen", {})
        self._canvas.setAccessibleDescription(f"{words}. {sentence('canvas-help', {})}")

    def _where(self, lying: Lying) -> str:
        if lying.placed.cloth == WAITING:
            return sentence("canvas-waits", {"piece": lying.label})
        bench = self._canvas.bench
        piece, cloth = bench.outlines[lying.piece.id][1], bench.sheet(lying.placed.cloth).box
        style = self._session.project.preferences.length_style
        figures: dict[str, str | int | float] = {
            "piece": lying.label,
            "left_mm": piece.left_mm - cloth.left_mm,
            "top_mm": piece.top_mm - cloth.top_mm,
        }
        return sentence("canvas-lies", figures, style.show)
