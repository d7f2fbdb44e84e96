"""The main window: the work order at the left, the cloth in the middle, the verdict at the bottom."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent, QKeyEvent, QPaintEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from coverlayout.document.edits.job import change_preferences
from coverlayout.document.project import Project
from coverlayout.document.recovery import Keeper
from coverlayout.document.session import Session
from coverlayout.errors import BadInput, sentence
from coverlayout.layout.answer import Answer
from coverlayout.layout.rules import Live
from coverlayout.ui.canvas.canvas import Canvas
from coverlayout.ui.canvas.strip import Strip
from coverlayout.ui.dialogs.asides import Asides
from coverlayout.ui.dialogs.banner import Banner
from coverlayout.ui.fields.steps import Steps
from coverlayout.ui.files.dropping import dropped_path, holds_files
from coverlayout.ui.files.keeping import Keeping
from coverlayout.ui.files.remembered import Remembered
from coverlayout.ui.files.start_card import StartCard
from coverlayout.ui.header import Header, LayButton
from coverlayout.ui.layouts.around import Around
from coverlayout.ui.look import Choice, Look
from coverlayout.ui.menus import Menus
from coverlayout.ui.panels.book_panel import BookPanel
from coverlayout.ui.panels.cloth_panel import ClothPanel
from coverlayout.ui.panels.cutting_panel import CuttingPanel
from coverlayout.ui.panels.panel import Panel
from coverlayout.ui.panels.placement_panel import PlacementPanel
from coverlayout.ui.panels.print_edits import PICTURE_ENDINGS
from coverlayout.ui.panels.print_panel import PrintPanel
from coverlayout.ui.port import Port
from coverlayout.ui.proposing.proposing import Proposing
from coverlayout.ui.proposing.questions import Questions
from coverlayout.ui.proposing.strip import ProposalStrip
from coverlayout.ui.seeing.base_lines import paint_base_lines
from coverlayout.ui.seeing.loupe import Loupe
from coverlayout.ui.seeing.true_size import TrueSize
from coverlayout.ui.stock.asking import StockAsking
from coverlayout.ui.theme import Theme
from coverlayout.ui.verdict.asking import Asking
from coverlayout.ui.verdict.bar import VerdictBar
from coverlayout.ui.verdict.judged import Judged
from coverlayout.ui.verdict.speaker import Speaker

__all__ = ["Panels", "Window"]

_LOOKS: tuple[Choice, ...] = ("system", "light", "dark")


@dataclass(frozen=True)
class Panels:
    """The five panels, in the order the work goes."""

    prints: PrintPanel
    cloth: ClothPanel
    book: BookPanel
    placement: PlacementPanel
    cutting: CuttingPanel

    def __iter__(self) -> Iterator[Panel]:
        """Step by step."""
        return iter((self.prints, self.cloth, self.book, self.placement, self.cutting))

    def begin_anew(self) -> None:
        """Another project: every step forgets what was half typed."""
        for panel in self:
            panel.begin_anew()


class Window(QWidget):
    """One open project. `painted` tells once that the first picture of the window is on the screen."""

    painted = Signal()

    def __init__(
        self,
        session: Session,
        port: Port,
        look: Look,
        *,
        keeper: Keeper | None = None,
        remembered: Remembered | None = None,
    ) -> None:
        super().__init__()
        self._remembered = remembered or Remembered()
        self.session = session
        self.look = look
        self._painted = False
        self.setAcceptDrops(True)
        self.setMinimumSize(960, 600)
        self._bench = _Bench()
        self.banner = Banner(look.theme, self._bench)
        self.keeping = Keeping(session, self.banner, self, keeper)
        self.canvas = Canvas(session, look.theme)
        self.asking = Asking(session, port, self.say, self)
        self.proposing = Proposing(session, self.asking, self.canvas, self.say)
        self.questions = Questions(session, self.asking, self.proposing, self)
        self.stock = StockAsking(session, self.asking, self)
        self.judged = Judged()
        self.bar = VerdictBar(look.theme)
        self.speaker = Speaker(session, self.asking, self.bar, self.judged)
        self.panels = self._made_panels(look.theme)
        self.steps = Steps()
        for panel, tip in zip(self.panels, _STEP_TIPS, strict=True):
            self.steps.add(panel.title, panel, tip=tip)
        self.true_size = TrueSize(self.canvas, self._remembered, self)
        self.asides = Asides(session, self.canvas, self.speaker, self.panels.cloth, true_size=self.true_size)
        self.opened = self.asides.make_opened(look.theme, self.questions, self)
        self.loupe = Loupe(self.canvas)
        self.strip = Strip(self.canvas, look.theme, self._bench)
        self.proposal_strip = ProposalStrip(session, self.proposing, self.canvas, look.theme, self._bench)
        self.start = StartCard(
            session, self.keeping, self.panels.prints.ask_for_picture, theme=look.theme, parent=self._bench
        )
        self.around = Around(session, self.canvas, self._bench, look.theme, self.say)
        self.menus = Menus(self)
        self.lay_button = LayButton(self.proposing.lay_out, self.cancel_search)
        self.header = Header(
            self.menus,
            self._show_side,
            lambda: self.menus.do("true-size"),
            (self.menus.undo, self.menus.redo),
            self.lay_button,
        )
        self._arrange()
        self._connect()
        self._changed(session.project, session.project)
        self.steps.open(self._first_step())

    def _made_panels(self, theme: Theme) -> Panels:
        session, say = self.session, self.say
        return Panels(
            PrintPanel(session, say),
            ClothPanel(session, say),
            BookPanel(session, say),
            PlacementPanel(session, say, theme, self.judged),
            CuttingPanel(session, say, self.keeping.beside),
        )

    def _arrange(self) -> None:
        self._bench.hold(self.canvas, self.start, self.strip, self.proposal_strip, self.banner)
        row = QHBoxLayout()
        row.setSpacing(0)
        row.addWidget(self.steps)
        row.addWidget(_line(upright=True))
        row.addWidget(self.around, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.header)
        column.addWidget(_line())
        column.addLayout(row, 1)
        column.addWidget(_line())
        column.addWidget(self.bar)

    def _connect(self) -> None:
        canvas, placement = self.canvas, self.panels.placement
        self.keeping.replaced.connect(self.panels.begin_anew)
        self.keeping.replaced.connect(lambda: self.steps.open(self._first_step()))
        self.keeping.replaced.connect(self.proposing.leave)
        canvas.live.connect(self._follow_drag)
        canvas.chosen_changed.connect(self._show_chosen)
        canvas.hint.connect(lambda words: self.say(words, False))
        canvas.zoomed.connect(self.header.show_zoom)
        self.true_size.changed.connect(lambda: self.header.show_matched(self.true_size.matched))
        canvas.menu_asked.connect(self.menus.pop_up_pieces)
        placement.chosen.connect(canvas.choose)
        placement.lay_chosen.connect(canvas.keys.lay_on)
        placement.lay_out.connect(self.proposing.lay_out)
        placement.act_asked.connect(self.menus.do)
        self.panels.book.act_asked.connect(self.menus.do)
        placement.pieces.menu_asked.connect(self.menus.pop_up_pieces)
        self.bar.spoken.offer.clicked.connect(lambda: self.menus.do("lay-rest"))
        canvas.chosen_changed.connect(lambda: self.panels.cutting.show_chosen(canvas.chosen))
        self.panels.cutting.chosen.connect(canvas.choose)
        self.panels.cutting.asks.connect(lambda words, answers: self.banner.say(words, "question", answers))
        self.panels.prints.drag_print.connect(canvas.set_moving_print)
        self.panels.cloth.task_asked.connect(lambda make: canvas.work.begin(make(canvas)))
        canvas.layers.lines.append(paint_base_lines)
        self.asking.changed.connect(self._show_progress)
        self.proposing.nothing_found.connect(self._nothing_to_lay)
        self.bar.ladder_asked.connect(self.asides.show_ladder)
        self.bar.spoken.asked.connect(self.opened.toggle)
        self.bar.least.asked.connect(self.asides.show_ladder)
        self.bar.room.asked.connect(self.asides.explain)
        self.proposing.changed.connect(self._clear_the_cloth)
        self.bar.left.asked.connect(self.around.toggle_list)
        self.around.leftovers.changed.connect(lambda: self.around.show_figure(self.bar.left))
        self.keeping.kept.connect(self._show_names)
        self.look.changed.connect(self._dress)
        self.steps.opened.connect(self._show_open_step)
        self._stop_listening = self.session.listen(self._changed)

    # Following the session

    def _changed(self, old: Project, new: Project) -> None:
        if old is not new:
            self.banner.outdate()
        for panel, head in zip(self.panels, self.steps.heads, strict=True):
            head.set_summary(panel.summary(new))
        self._show_open_step(self.steps.open_step)
        self.asking.look_at(new)
        self.proposing.look_at(old, new)
        self.speaker.look_at(old, new)
        self.around.look_at(old, new)
        self.keeping.look_at()
        self.lay_button.setEnabled(self.panels.placement.can_lay(new))

    def _show_open_step(self, step: int) -> None:
        """Only the open step shows the project; a closed one catches up when it is opened."""
        for at, panel in enumerate(self.panels):
            if at == step:
                panel.show_project(self.session.project)
        if step != 0:
            self.panels.prints.place.drag.setChecked(False)

    def _show_names(self) -> None:
        self.start.look()
        self.header.show_session(self.session)
        self.header.show_zoom(self.canvas.sight.percent_of_true_size)
        self.menus.show_session()
        mark = " (not saved)" if self.session.unsaved else ""
        self.setWindowTitle(f"{self.session.project.name}{mark} – Coverlayout")

    def _show_chosen(self) -> None:
        self.banner.outdate()
        self.panels.placement.show_chosen(self.canvas.chosen)

    def _follow_drag(self, live: Live | None) -> None:
        self.speaker.follow(live, self.canvas.chosen)

    def _show_progress(self) -> None:
        self.lay_button.show_progress(self.asking.share if self.asking.laying else None)

    def _clear_the_cloth(self) -> None:
        """What is proposed should be seen: the opened bar does not lie over it."""
        if self.proposing.under_way:
            self.opened.hide()

    def _first_step(self) -> int:
        """The first step with something left to say, the placement when all is said."""
        project = self.session.project
        if not project.prints and not project.cloths:
            return 0
        if not project.cloths:
            return 1
        return 2 if not project.books and not project.own_pieces else 3

    # What the window says

    def say(self, words: str, trouble: bool) -> None:
        """One sentence at the foot of the canvas."""
        self.banner.say(words, "trouble" if trouble else "remark")

    def _nothing_to_lay(self, answer: Answer) -> None:
        code = "nothing-laid" if answer.verdict == "does not fit" else "nothing-laid-not-found"
        ways = (
            ("How do you know?", self.asides.explain),
            ("All cuts", self.asides.show_ladder),
            ("Close", lambda: None),
        )
        self.banner.say(sentence(code, {}), "trouble", ways)

    # What the maker does with the window

    def cancel_search(self) -> None:
        """Give up what is searched; nothing changes."""
        if self.proposing.search:
            self.proposing.escape()
        else:
            self.asking.cancel()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape that nobody else wanted gives up a search or a proposal."""
        if event.key() == Qt.Key.Key_Escape and (self.proposing.under_way or self.opened.isVisible()):
            (self.proposing.escape if self.proposing.under_way else self.opened.shut)()
            return
        super().keyPressEvent(event)

    def _show_side(self, side: str) -> None:
        if side != self.session.project.preferences.side:
            self.session.do(change_preferences(side=side))

    def turn_over(self) -> None:
        """Show the other side."""
        self._show_side("back" if self.session.project.preferences.side == "print" else "print")

    def open_step(self, step: int) -> None:
        """Open a step of the work order, counted from 0, and put the keys into its first field."""
        self.steps.open(step)
        self.steps.enter(step, tuple(self.panels)[step].first)

    @property
    def look_chosen(self) -> int:
        """0 as the system, 1 light, 2 dark."""
        return _LOOKS.index(self.look.choice)

    def choose_look(self, at: int) -> None:
        """As the system, light, or dark."""
        self.look.choose(_LOOKS[at])
        self._remembered.remember_look(_LOOKS[at])

    def _dress(self, theme: Theme) -> None:
        self.canvas.set_theme(theme)
        self.start.dress(theme)
        self.strip.dress(theme)
        self.proposal_strip.dress(theme)
        self.bar.dress(theme)
        self.opened.dress(theme)
        self.around.dress(theme)
        self.banner.dress(theme)
        self.panels.placement.dress(theme)

    def open_path(self, path: Path) -> None:
        """Open a project, or a picture as the print."""
        if path.suffix.lower() in PICTURE_ENDINGS:
            self.steps.open(0)
            self.panels.prints.open_path(path)
        else:
            self.keeping.open_path(path)

    # Qt's own

    def showEvent(self, event: QShowEvent) -> None:
        """True size as the card showed it on this screen; where nothing lies yet, ways to begin."""
        super().showEvent(event)
        self.start.look()
        self.true_size.follow()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """What is opened above the bar stays above it."""
        super().resizeEvent(event)
        self.opened.fit()

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Pictures and projects are welcome; what else comes is told what is."""
        if holds_files(event.mimeData()):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Open what was dropped, once the drop is over."""
        event.acceptProposedAction()
        try:
            path = dropped_path(event.mimeData())
        except BadInput as fault:
            self.say(str(fault), True)
            return
        QTimer.singleShot(0, self, lambda: self.open_path(path))

    def closeEvent(self, event: QCloseEvent) -> None:
        """Ask once about unsaved work; then leave nothing running."""
        if not self.keeping.may_leave():
            event.ignore()
            return
        self.keeping.leave()
        self.asking.end()
        self.proposing.end()
        self._stop_listening()
        event.accept()

    def paintEvent(self, event: QPaintEvent) -> None:
        """The first picture is on its way: what can wait begins after it."""
        super().paintEvent(event)
        if not self._painted:
            self._painted = True
            QTimer.singleShot(0, self, self.painted.emit)


class _Bench(QWidget):
    """The canvas; over its top what is being done, over its foot what the program says: neither moves the cloth."""

    def hold(self, canvas: Canvas, start: StartCard, strip: Strip, proposal: ProposalStrip, banner: Banner) -> None:
        """Take them in."""
        self._start, self._strip, self._proposal, self._banner = start, strip, proposal, banner
        start.came.connect(canvas.leave_empty)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(canvas)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """What is said stays as wide as the canvas."""
        super().resizeEvent(event)
        self._start.fit()
        self._strip.fit()
        self._proposal.fit()
        self._banner.fit()


_STEP_TIPS = (
    "The picture of your repeat, how large it prints, and where it lies on the cloth.",
    "The cloth in your hand, or the cut you would buy.",
    "From the page to the pieces: covers, liners, and whatever else is cut.",
    "Where each piece lies. Drag on the cloth, type numbers, or have everything laid.",
    "The numbers to mark, as a table and a drawing for the bench.",
)


def _line(*, upright: bool = False) -> QWidget:
    line = QWidget()
    line.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
    line.setProperty("role", "line")
    if upright:
        line.setFixedWidth(1)
    else:
        line.setFixedHeight(1)
    return line
