"""Takes the pictures of the README from the real window: `python tests/journeys/take_screens.py [FOLDER]` on a display.

It opens the demo and tables made from its prints, works on them with mouse and keys, and keeps what the window shows in
`resources/screens`, or in FOLDER. With `QT_SCALE_FACTOR=2` everything is twice as large.
"""

from __future__ import annotations

import os
import shutil
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

# This is started by itself: what the tests share lies one folder up.
sys.path.append(str(Path(__file__).resolve().parents[1]))

from books_for_screens import bound, with_sheets
from hands_on_a_spoiled_cover import choose_pieces
from hands_on_the_cloths import keys, press, type_place
from hands_on_the_window import LEFT, choose, click, type_into
from pictures_of_every_structure import every_picture
from PIL import Image
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtGui import QPainter, QPixmap
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QDialog, QWidget
from seat import come_forward, until
from tables_for_screens import OWN_CUTS, leftover, matched, shop, swatch, yard

from coverlayout.app.wiring import Desktop
from coverlayout.book.picturing.cut_through import cut_through
from coverlayout.book.picturing.flat_plan import flat_plan
from coverlayout.document.file import load
from coverlayout.document.project import Project
from coverlayout.geometry.frames import Point
from coverlayout.ui.bookmaking.cut_list_view import CutListDialog
from coverlayout.ui.bookmaking.larger import LargerPictures
from coverlayout.ui.look import Choice
from coverlayout.ui.stock.dialog import StockDialog
from coverlayout.ui.window import Window

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "sample_prints" / "salt-works.coverlayout"
SIZE_PX = (1440, 900)
# So many colours a picture keeps, and rounds to mend them by: no shade is more than a hair off.
COLOURS, ROUNDS = 255, 2
MOST_S = 60.0
# What stands beside the pictures of all structures.
CUT_SAYS = (
    "The ten as the Book step draws them, for small blocks of plain figures; lengths in mm. The pictures follow every "
    "field as it is typed. The field one is in is picked out in the picture; a measure under the mouse tells what it "
    "is, what is usual, and where that comes from."
)
FLAT_SAYS = (
    "The same ten covers laid flat, seen from outside; lengths in mm. Long dashes are where to cut: cloth for a board "
    "is cut as a full rectangle, and the mitre at a corner is only a mark, cut after gluing. Small rings are the holes "
    "for the thread."
)


class Screens:
    """The window, and where its pictures go."""

    def __init__(self, desktop: Desktop, folder: Path) -> None:
        self.desktop, self.folder = desktop, folder
        self.window: Window = desktop.window

    def begin(self, project: Project | None, look: Choice) -> Window:
        """The demo as it lies in its file, or another project with its prints, in the given look."""
        read = load(DEMO)
        window = self.window
        window.canvas.work.leave()
        self.desktop.look.choose(look)
        window.session.replace_all(project or read.project, read.pictures, None)
        QTest.qWait(100)
        window.open_step(3)
        window.canvas.sight.fit()
        come_forward()
        window.canvas.setFocus()
        window.canvas.choose(())
        return window

    def answered(self) -> None:
        """Wait until nothing in the bar is old."""
        asking = self.window.asking
        until(lambda: not asking.laying, "the layout", MOST_S)
        until(lambda: asking.ladder is not None and not asking.ladder_old and not asking.answer_old, "cuts", MOST_S)
        until(lambda: not asking.searching and not self.window.around.leftovers.old, "every answer", MOST_S)
        QTest.qWait(300)

    def keep(self, name: str, over: QDialog | None = None, alone: QWidget | None = None) -> None:
        """Keep what the window shows, and what is open `over` it, or a widget `alone`.

        In few colours: a reader waits for every picture.
        """
        QTest.qWait(200)
        path = self.folder / f"{name}.png"
        seen_px = (alone or self.window).grab()
        if over is not None:
            _put_over(seen_px, over, over.pos() - self.window.pos())
        seen_px.save(str(path))
        with Image.open(path) as seen:
            few = seen.convert("RGB").quantize(COLOURS, Image.Quantize.MAXCOVERAGE, ROUNDS, dither=Image.Dither.NONE)
        few.save(path, optimize=True)


def _put_over(below: QPixmap, dialog: QDialog, at: QPoint) -> None:
    """A dialog as it stands over the window, with a line around it in place of the frame a desktop gives it."""
    with QPainter(below) as painter:
        painter.drawPixmap(at, dialog.grab())
        painter.setPen(dialog.palette().mid().color())
        painter.drawRect(QRect(at, dialog.size()).adjusted(-1, -1, 0, 0))


def spot(window: Window, place: Point, cloth: int = 0) -> QPoint:
    """The pixel of a place on a cloth."""
    canvas = window.canvas
    x, y = canvas.view.to_screen.at(canvas.bench.sheets[cloth].to_table.at(place))
    return QPoint(round(x), round(y))


def closer(window: Window, steps: int, place: Point) -> None:
    """So many steps nearer, with a place of the first cloth in the middle."""
    canvas = window.canvas
    for _ in range(steps):
        canvas.sight.zoom_in()
    at, middle = spot(window, place), canvas.rect().center()
    canvas.sight.pan_to(canvas.view.panned((middle.x() - at.x(), middle.y() - at.y())))


@contextmanager
def held(window: Window, piece: str, place: Point, cloth: int = 0) -> Iterator[None]:
    """Carry a piece by its middle to a place and hold it there; then let go as if it had never been taken."""
    canvas = window.canvas
    start = QPoint(*map(round, canvas.view.to_screen.at(canvas.bench.outlines[piece][1].middle)))
    end = spot(window, place, cloth)
    QTest.mousePress(canvas, LEFT, pos=start)
    for step in range(1, 11):
        QTest.mouseMove(canvas, start + (end - start) * step / 10)
        QTest.qWait(20)
    yield
    QTest.keyClick(canvas, Qt.Key.Key_Escape)
    QTest.mouseRelease(canvas, LEFT, pos=end)
    QApplication.processEvents()


def demo(screens: Screens) -> None:
    """The demo as it opens; from the back in the dark look, with the papers to be written."""
    window = screens.begin(None, "light")
    screens.answered()
    screens.keep("light")
    window = screens.begin(None, "dark")
    laid_out(window)
    window.turn_over()
    window.open_step(4)
    screens.answered()
    screens.keep("dark")


def laid_out(window: Window) -> None:
    """Everything laid as the program proposes it."""
    window.proposing.lay_out()
    taken(window)


def taken(window: Window) -> None:
    """The proposal, when it is there."""
    until(lambda: window.proposing.walk is not None and not window.proposing.search, "a proposal", MOST_S)
    window.proposing.take()


def proposed(screens: Screens) -> None:
    """The demo as the program would lay it, with others to walk to; nothing is taken yet."""
    window = screens.begin(None, "light")
    screens.answered()
    window.proposing.lay_out()
    until(lambda: window.proposing.walk is not None and not window.proposing.search, "a proposal", MOST_S)
    screens.keep("proposal")
    window.proposing.leave()


def refused(screens: Screens) -> None:
    """Too little cloth for two covers alike: the reason, what would make it fit, and the questions."""
    window = screens.begin(matched(load(DEMO).project), "light")
    screens.answered()
    until(lambda: window.asking.fitting is not None and not window.asking.searching, "what would make it fit", MOST_S)
    window.asides.explain()
    screens.keep("no")
    window.opened.shut()


def bought(screens: Screens) -> None:
    """The cuts of one shop as bars with their prices, and the cheapest together."""
    own = Path(os.environ["XDG_CONFIG_HOME"]) / "coverlayout" / "cuts.toml"
    own.parent.mkdir(parents=True, exist_ok=True)
    own.write_text(OWN_CUTS, encoding="utf-8")
    window = screens.begin(shop(load(DEMO).project), "light")
    screens.answered()
    window.opened.known.head.setChecked(False)
    window.asides.show_ladder()
    cuts = window.opened.ladder.bars
    cuts.choose(cuts.bars[0].name)
    screens.keep("cuts")
    window.opened.shut()
    own.unlink()


def dragging(screens: Screens) -> None:
    """The fifth ledger's front held where it caught: at the gap the maker set, level with its neighbours."""
    window = screens.begin(None, "light")
    screens.answered()
    closer(window, 3, (980.0, 335.0))
    with held(window, "front-5", (842.0, 129.0)):
        screens.keep("dragging")


def divided(screens: Screens) -> None:
    """A yard with six areas: divided, each given its print, covers from one and liners from another."""
    window = screens.begin(yard(load(DEMO).project), "light")
    panel, session = window.panels.cloth, window.session
    window.menus.do("divide-cloth")
    type_into(panel.zones.columns, "3")
    type_into(panel.zones.lines, "2")
    click(panel.zones.divide)
    until(lambda: len(session.project.cloths[0].zones) == 6, "six zones")
    names = ("Wader", "Tide line", "Grains", "Rake", "Wind pump", "Grains")
    for zone, name in zip(session.project.cloths[0].zones, names, strict=True):
        row = panel.zones.rows.row(zone.id)
        if row.print_choice.box.currentText() != name:
            choose(row.print_choice, name)
    laid_out(window)
    until(lambda: len(session.project.layout.placements) == 4, "everything laid", MOST_S)
    screens.answered()
    screens.keep("yard")


def crooked(screens: Screens) -> None:
    """A crooked stained leftover: its outline traced, a crease drawn, and a stain being drawn."""
    window = screens.begin(leftover(load(DEMO).project), "dark")
    session = window.session
    window.open_step(1)
    window.menus.do("trace-outline")
    for place in ("10, 15", "470, 5", "478, 432", "300, 424", "18, 440"):
        type_place(window, place)
    keys(window, Qt.Key.Key_Return)
    window.menus.do("draw-crease")
    type_place(window, "-5, 405")
    type_place(window, "300, 416")
    keys(window, Qt.Key.Key_Return)
    until(lambda: len(session.project.cloths[0].flaws) == 1, "the crease")
    laid_out(window)
    screens.answered()
    window.menus.do("draw-stain")
    press(window, (196.0, 198.0), (242.0, 192.0), (262.0, 214.0))
    x, y = window.canvas.view.to_screen.at((236.0, 240.0))
    QTest.mouseMove(window.canvas, QPoint(round(x), round(y)))
    screens.keep("leftover")


def spoiled(screens: Screens) -> None:
    """A cover spoiled at the knife, planned again and laid on what is left."""
    window = screens.begin(swatch(load(DEMO).project), "light")
    laid_out(window)
    until(lambda: len(window.session.project.layout.placements) == 4, "everything laid", MOST_S)
    screens.answered()
    choose_pieces(window, "front-1", "back-1")
    window.menus.do("mark-cut")
    choose_pieces(window, "front-1")
    window.menus.do("mark-spoiled")
    screens.answered()
    click(window.bar.spoken.offer)
    taken(window)
    until(lambda: window.session.project.layout.placements, "laid again", MOST_S)
    screens.answered()
    window.canvas.sight.fit()
    screens.keep("spoiled")


def left(screens: Screens) -> None:
    """What is left of the cloths, listed and drawn."""
    window = screens.begin(None, "light")
    screens.answered()
    window.menus.do("what-is-left")
    window.menus.do("draw-left")
    until(lambda: window.around.leftovers.chosen == 0, "the largest chosen")
    screens.answered()
    screens.keep("left")
    window.menus.do("draw-left")
    window.menus.do("what-is-left")


def compared(screens: Screens) -> None:
    """The layout of the demo beside the one the program finds."""
    window = screens.begin(None, "dark")
    screens.answered()
    window.menus.do("copy-layout")
    laid_out(window)
    screens.answered()
    window.menus.do("compare-layouts")
    screens.answered()
    screens.keep("compared")
    window.menus.do("compare-layouts")


def looked_through(screens: Screens) -> None:
    """A template the size of the board over the print, and the loupe at its pointer."""
    window = screens.begin(None, "dark")
    screens.answered()
    canvas, place = window.canvas, (748.0, 560.0)
    closer(window, 5, place)
    canvas.choose(("front-5",))
    window.menus.do("window-template")
    at = spot(window, place)
    QTest.mouseMove(canvas, at)
    QTest.mouseClick(canvas, LEFT, pos=at)
    window.menus.do("loupe")
    QTest.mouseMove(canvas, spot(window, (750.0, 484.0)))
    screens.keep("template")
    window.menus.do("loupe")


def structures(screens: Screens) -> None:
    """Every structure cut through, and its cover laid flat."""
    screens.begin(None, "light")
    for name, draw, says in (("structures-cut", cut_through, CUT_SAYS), ("structures-flat", flat_plan, FLAT_SAYS)):
        sheet = every_picture(draw, says, SIZE_PX)
        sheet.show()
        screens.keep(name, alone=sheet)
        sheet.close()


def book(screens: Screens) -> None:
    """Half cases from the paper in the drawer: picture and answers, the pieces laid; both pictures larger."""
    window = screens.begin(bound(load(DEMO).project), "light")
    laid_out(window)
    window.open_step(2)
    screens.answered()
    window.panels.book.paper.open()
    screens.answered()
    window.steps.verticalScrollBar().setValue(window.steps.heads[2].pos().y())
    screens.keep("book")
    window.panels.book.drawing.open_larger()
    larger = window.findChild(LargerPictures)
    QTest.qWait(300)
    screens.keep("larger", over=larger)
    larger.close()
    window.panels.book.cut_list.open()
    window.panels.book.cut_list.larger.click()
    listed = window.findChild(CutListDialog)
    QTest.qWait(300)
    screens.keep("cutlist", over=listed)
    listed.close()


def stocked(screens: Screens) -> None:
    """How many sheets of board and paper the books take, each sheet drawn."""
    window = screens.begin(with_sheets(load(DEMO).project), "light")
    laid_out(window)
    window.canvas.sight.fit()
    screens.answered()
    window.menus.do("stock")
    dialog = window.findChild(StockDialog)
    until(lambda: window.stock.is_known, "the sheets", MOST_S)
    QTest.qWait(500)
    screens.keep("stock", over=dialog)
    dialog.close()


SCENES = (
    demo,
    proposed,
    refused,
    bought,
    dragging,
    divided,
    crooked,
    spoiled,
    left,
    compared,
    looked_through,
    structures,
    book,
    stocked,
)


def main() -> int:
    """Every picture, or those whose scene is named after the folder."""
    folder = Path(sys.argv[1]) if len(sys.argv) > 1 else ROOT / "resources" / "screens"
    folder.mkdir(parents=True, exist_ok=True)
    wanted = sys.argv[2:]
    application = QApplication(sys.argv[:1])
    with tempfile.TemporaryDirectory() as own:
        # Nothing of the person's own settings is seen, and nothing is left in them.
        os.environ |= {"XDG_CONFIG_HOME": own, "XDG_STATE_HOME": own, "XDG_DATA_HOME": own, "XDG_CACHE_HOME": own}
        desktop = Desktop(application)
        desktop.show(Path(shutil.copy(DEMO, own)))
        desktop.window.resize(*SIZE_PX)
        QTest.qWaitForWindowExposed(desktop.window)
        desktop.begin()
        screens = Screens(desktop, folder)
        for scene in SCENES:
            if not wanted or scene.__name__ in wanted:
                scene(screens)
        desktop.session.mark_saved(Path(own) / DEMO.name)
        desktop.window.close()
        desktop.close()
    return 0


if __name__ == "__main__":
    sys.exit(main())
