"""`coverlayout check FILE`: judge what is placed. It never searches."""

from __future__ import annotations

from coverlayout.app.flags import JSON, Given, Verb
from coverlayout.app.verbs.telling import NO, YES, Opened, opened, print_json, print_lines
from coverlayout.document.questions import judge_for, placed_now, planned_pieces
from coverlayout.errors import BadInput, Remark
from coverlayout.layout.answer import Breach, Report

__all__ = ["VERB"]


def _run(given: Given) -> int:
    job = opened(given.operand)
    if not planned_pieces(job.project) and not job.project.cut_pieces:
        raise BadInput("nothing-to-check", file=given.operand)
    report = judge_for(job.project).report(placed_now(job.project))
    if given.has("--json"):
        print_json(_record(job, report))
    else:
        print_lines(_lines(job, report))
    return YES if report.verdict in ("valid", "valid, tight") else NO


def _record(job: Opened, report: Report) -> dict[str, object]:
    return {
        "verdict": report.verdict,
        "breaches": [
            {"rule": breach.rule, "pieces": list(breach.pieces), "amount_mm": breach.amount_mm}
            for breach in report.breaches
        ],
        "waiting": list(report.waiting),
        "used_percent": report.used_percent,
        "clearance_mm": report.clearance_mm,
        "pieces": [where.as_record() for where in job.where(placed_now(job.project))],
    }


def _lines(job: Opened, report: Report) -> list[str]:
    waiting = [Remark.of("check-waiting", pieces=", ".join(report.waiting))] if report.waiting else []
    remarks = [*(_said(breach) for breach in report.breaches), *waiting, *job.notes]
    return [
        f"{report.verdict}; used {report.used_percent:.1f} %; at the tightest place {job.room(report.clearance_mm)}",
        *job.texts(remarks),
        *job.where_lines(placed_now(job.project)),
    ]


def _said(breach: Breach) -> Remark:
    """The sentence of a broken rule; the same as the window says."""
    piece, other = breach.pieces[0], breach.against or breach.pieces[-1]
    rule = "no-ground" if breach.no_ground else breach.rule
    return Remark.of(f"breach-{rule.replace(' ', '-')}", piece=piece, other=other, amount_mm=breach.amount_mm)


VERB = Verb(
    "check",
    "FILE",
    "Judge what is placed; it never searches. Exit 0: valid, 3: not valid or incomplete.",
    (JSON,),
    _run,
)
