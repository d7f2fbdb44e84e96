"""Into which panels a cloth must be cut when its web, tissue or paper comes smaller than it, and where the pieces lie.

Every panel is asked for as a cloth of its own with its print in place, so that no piece crosses a panel's edge.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from coverlayout.cloth.cloth import Cloth
from coverlayout.cloth.usable import outline_region
from coverlayout.document.checks.whole import known
from coverlayout.document.paneling.cutting_apart import Panel, cut_apart, in_cloth_frame
from coverlayout.document.paneling.limits import (
    check_panels,
    is_too_large,
    largest_panels,
    lines_wished,
    need_no_cut,
    stocks_of,
)
from coverlayout.document.paneling.splits import splits
from coverlayout.document.project import Project, Stock
from coverlayout.document.questions import judge_for, placed_now, question_for
from coverlayout.document.stocking.backing import backing_items_of
from coverlayout.document.stocking.on_stock import OnStock
from coverlayout.document.stocking.sheets import laid_on_stock
from coverlayout.errors import BadInput, Remark
from coverlayout.geometry.frames import Point
from coverlayout.geometry.shapes import Box, bounds
from coverlayout.layout.answer import Answer, Verdict
from coverlayout.layout.lay import first_layout, lay
from coverlayout.layout.question import Placed, Question, Watch, never
from coverlayout.layout.verdicts import answer_of

__all__ = ["PanelsAsked", "PanelsFound", "panels_for"]

# Steps for each split, and for the room of one that fits; so many splits are tried, and so many that fit compared.
_STEPS, _ROOM_STEPS, _MOST_SPLITS, _COMPARED = 4_000, 20_000, 40, 3
# Steps for each number of sheets of the backing: of panels cut to its sheets more steps find no fewer.
_BACKING_STEPS = 20_000


@dataclass(frozen=True)
class PanelsAsked:
    """Which cloth is to be cut into panels; `stock_ids` name the stock of a material where there are several."""

    project: Project
    cloth_id: str
    stock_ids: tuple[str, ...] = ()
    steps: int = _STEPS


@dataclass(frozen=True)
class PanelsFound:
    """The panels (on the cloth as it now is; the whole cloth when it need not be cut) and the layout on them.

    "does not fit" only with proof: the job does not even fit on the uncut cloth, or a piece is larger than any panel.
    "not found": of the splits tried none holds the job. Then `panels` is the plainest split, and nothing is `placed`.
    `placed` is in the frame of the uncut cloth, as `cut_into_panels` takes it; `kept`: it is the layout there was.
    `backing` is the web, tissue or paper for the panels on its stock.
    """

    cloth_id: str
    panels: tuple[Box, ...]
    verdict: Verdict
    reason: Remark
    answer: Answer | None = None
    placed: tuple[Placed, ...] = ()
    kept: bool = False
    backing: tuple[OnStock, ...] = ()
    tried: int = 0
    cut_short: bool = False

    @property
    def said(self) -> tuple[Remark, ...]:
        """How many panels, whether the job fits on them, and what that takes of each backing."""
        count = len(self.panels)
        panels = (Remark.of("panels-count", count=count),) if count > 1 else ()
        return (*panels, self.reason, *(remark for one in self.backing for remark in one.said))


def panels_for(asked: PanelsAsked, watch: Watch = never) -> PanelsFound:
    """The fewest panels found on which every piece still to cut can be laid, straight lines between them.

    The layout there is stays where the lines can be drawn around it. `watch` may stop the search; the same question
    gives the same answer otherwise. BadInput: a cloth without backing, no stock of it, one that was cut from already,
    a strip that leaves nothing of a sheet, or more panels than a bench can handle.
    """
    cloth = known(asked.project.cloths, asked.cloth_id, "cloth")
    stocks = stocks_of(asked.project, cloth, asked.stock_ids)
    largest = largest_panels(cloth, stocks)
    check_panels(cloth, largest)
    if need_no_cut(cloth, largest):
        box = outline_region(cloth).bounds
        backing = _backing(asked.project, (cloth,), stocks, watch)
        return PanelsFound(cloth.id, (box,), "fits", Remark.of("panels-none", cloth=cloth.name), backing=backing)
    if any(fact.place.cloth == cloth.id for fact in asked.project.cut_pieces):
        raise BadInput("panels-cloth-cut", cloth=cloth.name)
    return _Search(asked, cloth, stocks, largest, watch).run()


def _backing(project: Project, panels: Iterable[Cloth], stocks: tuple[Stock, ...], watch: Watch) -> tuple[OnStock, ...]:
    """The backing of these cloths, each material on its stock."""
    items = [item for panel in panels for item in backing_items_of(panel)]
    return tuple(
        laid_on_stock(project, items, stock.material, stock_id=stock.id, watch=watch, steps=_BACKING_STEPS)
        for stock in stocks
        if any(item.material == stock.material for item in items)
    )


@dataclass(frozen=True)
class _Tried:
    """A split that holds the job."""

    boxes: tuple[Box, ...]
    project: Project
    panels: tuple[Panel, ...]
    answer: Answer
    kept: bool = False


class _Search:
    """One search through splits of a cloth, those with the fewest panels first."""

    def __init__(
        self, asked: PanelsAsked, cloth: Cloth, stocks: tuple[Stock, ...], largest: tuple[Point, ...], watch: Watch
    ) -> None:
        self._asked, self._cloth, self._stocks, self._largest, self._watch = asked, cloth, stocks, largest, watch
        self._question = question_for(asked.project, steps=_ROOM_STEPS)
        self._fitting: list[_Tried] = []
        self._tried = 0
        self._cut_short = False

    def run(self) -> PanelsFound:
        """A proof that no panels can do, else split after split."""
        box = outline_region(self._cloth).bounds
        plainest = next(splits(box, self._largest))
        refused = self._refused()
        if refused is not None:
            return self._none(plainest, "does not fit", refused)
        wishes = lines_wished(self._asked.project, self._question, self._cloth)
        for boxes in splits(box, self._largest, wishes, most=_MOST_SPLITS):
            if self._is_enough(len(boxes)) or self._stops(0.0):
                break
            self._try(boxes)
        if not self._fitting:
            return self._none(plainest, "not found", Remark.of("panels-not-found", tried=self._tried))
        return self._found(self._best())

    def _refused(self) -> Remark | None:
        """Why no panels can ever do: what does not lie on the uncut cloth, or in the largest panel, cannot be laid."""
        alone = len(self._question.cloths) == 1
        here = next(asked for asked in self._question.cloths if asked.id == self._cloth.id)
        for piece in self._question.pieces:
            only_here = alone or piece.cloth_ids == (self._cloth.id,)
            if only_here and is_too_large(here, piece, self._largest, self._cloth.web_short_mm):
                box = bounds(piece.outline_mm)
                figures = {"piece_width_mm": box.width_mm, "piece_height_mm": box.height_mm}
                return Remark.of("panels-piece-larger", piece=piece.id, **figures)
        answer = first_layout(self._question, self._stops)
        return answer.reason if answer.verdict == "does not fit" else None

    def _is_enough(self, count: int) -> bool:
        """True when what fits already is no worse than a split into so many panels could be."""
        if not self._fitting:
            return False
        first = self._fitting[0]
        return first.kept or len(self._fitting) >= _COMPARED or count > len(first.boxes)

    def _stops(self, share_done: float) -> bool:
        del share_done
        self._cut_short = self._cut_short or self._watch(min(self._tried / _MOST_SPLITS, 1.0))
        return self._cut_short

    def _try(self, boxes: tuple[Box, ...]) -> None:
        self._tried += 1
        project, panels = cut_apart(self._asked.project, self._cloth.id, boxes)
        question = question_for(project, steps=self._asked.steps)
        kept = _as_it_lies(project, question)
        answer = kept or first_layout(question, self._stops)
        if answer.placed or not question.pieces:
            tried = _Tried(boxes, project, panels, answer, kept is not None)
            self._fitting = [tried] if kept is not None else [*self._fitting, tried]

    def _best(self) -> _Tried:
        """The split with most room of those that fit with the fewest panels."""
        if self._fitting[0].kept or self._cut_short or not self._question.pieces:
            return self._fitting[0]
        fewest = len(self._fitting[0].boxes)
        roomy = [self._with_room(one) for one in self._fitting if len(one.boxes) == fewest]
        return max(roomy, key=lambda one: (one.answer.verdict == "fits", one.answer.spare_mm or 0.0))

    def _with_room(self, tried: _Tried) -> _Tried:
        """The same split with as much room between the pieces as is found."""
        answer = lay(question_for(tried.project, steps=_ROOM_STEPS), self._stops)
        return replace(tried, answer=answer) if answer.placed else tried

    def _found(self, tried: _Tried) -> PanelsFound:
        cloths = [tried.project.cloth(panel.cloth_id) for panel in tried.panels]
        return PanelsFound(
            cloth_id=self._cloth.id,
            panels=tried.boxes,
            verdict=tried.answer.verdict,
            reason=tried.answer.reason,
            answer=tried.answer,
            placed=in_cloth_frame(self._cloth.id, tried.panels, tried.answer.placed),
            kept=tried.kept,
            backing=_backing(self._asked.project, cloths, self._stocks, self._watch),
            tried=self._tried,
            cut_short=self._cut_short,
        )

    def _none(self, boxes: tuple[Box, ...], verdict: Verdict, reason: Remark) -> PanelsFound:
        return PanelsFound(self._cloth.id, boxes, verdict, reason, tried=self._tried, cut_short=self._cut_short)


def _as_it_lies(project: Project, question: Question) -> Answer | None:
    """The layout that was kept on the panels as an answer, None unless every piece lies there and nothing is wrong."""
    placed = placed_now(project)
    report = judge_for(project).report(placed)
    if not question.pieces or report.breaches or report.waiting:
        return None
    return answer_of(question, shown=(placed, report), spare_mm=report.clearance_mm, spare_proved=False, proof=None)
