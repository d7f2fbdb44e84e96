"""The warm worker with real processes: newest wins, cancel is quick, a crash is told and healed, nobody outlives us."""

from __future__ import annotations

import pickle
import signal
import subprocess
import sys
import textwrap
import threading
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from multiprocessing.context import SpawnProcess
from pathlib import Path

import pytest
from worker_answers import answer_as_told

from coverlayout.app.worker import Worker
from coverlayout.app.worker_process import answer_question
from coverlayout.book.book import OwnPiece
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.changing.change import FittingChange
from coverlayout.document.cutting.rest import StillHad, rest_asked
from coverlayout.document.project import Project
from coverlayout.document.questions import ladder_for, question_for
from coverlayout.errors import BadInput
from coverlayout.layout.answer import Answer
from coverlayout.layout.ladder import Ladder
from coverlayout.layout.question import AnotherAsked, never
from coverlayout.ui.port import Heard


class Listener:
    """Keeps what was heard and waits for more."""

    def __init__(self) -> None:
        self.all: list[Heard] = []
        self._changed = threading.Condition()

    def __call__(self, heard: Heard) -> None:
        with self._changed:
            self.all.append(heard)
            self._changed.notify_all()

    def wait(self, wanted: Callable[[Heard], bool], seconds: float = 20.0) -> Heard:
        with self._changed:
            assert self._changed.wait_for(lambda: any(map(wanted, self.all)), seconds), f"only heard {self.all}"
            return next(filter(wanted, self.all))


@pytest.fixture
def listener() -> Listener:
    return Listener()


@pytest.fixture
def worker(listener: Listener) -> Iterator[Worker]:
    worker = Worker(listener, answer_as_told)
    worker.start()
    wait_until(lambda: worker.warm == 2)
    yield worker
    pids = worker.pids
    worker.close()
    assert not any(map(alive, pids))


def wait_until(true: Callable[[], bool], seconds: float = 20.0) -> None:
    end = time.monotonic() + seconds
    while not true():
        assert time.monotonic() < end, "waited too long"
        time.sleep(0.002)


def alive(pid: int) -> bool:
    """False as well for a process that ended and was not yet collected by its parent."""
    try:
        status = Path(f"/proc/{pid}/stat").read_text(encoding="ascii")
    except (FileNotFoundError, ProcessLookupError):
        return False
    return status.rsplit(")", 1)[1].split()[0] != "Z"


def done(number: int) -> Callable[[Heard], bool]:
    return lambda heard: heard.number == number and heard.state in ("done", "trouble")


def test_two_processes_stand_warm_and_the_answer_comes_back(worker: Worker, listener: Listener) -> None:
    assert len(set(worker.pids)) == 2
    number = worker.ask("lay", ("echo", (1.5, "front-1")))
    assert listener.wait(done(number)).answer == (1.5, "front-1")


def test_a_question_asked_before_it_is_warm_is_answered(listener: Listener) -> None:
    worker = Worker(listener, answer_as_told)
    number = worker.ask("ladder", ("echo", "early"))
    heard = listener.wait(done(number))
    worker.close()
    assert (heard.answer, heard.kind) == ("early", "ladder")


def test_progress_and_better_answers_come_as_they_are_found(worker: Worker, listener: Listener) -> None:
    number = worker.ask("lay", ("improve", 3))
    listener.wait(done(number))
    of_it = [heard for heard in listener.all if heard.number == number]
    assert [heard.answer for heard in of_it if heard.state == "found"] == [0, 1, 2]
    shares = [heard.share for heard in of_it if heard.state == "progress"]
    assert shares == sorted(shares)
    assert len(shares) >= 2
    assert of_it[-1].state == "done"


def test_the_newest_question_wins_in_the_same_process(worker: Worker, listener: Listener) -> None:
    first = worker.ask("lay", ("search until told", None))
    listener.wait(lambda heard: heard.number == first)
    pids = worker.pids
    second = worker.ask("lay", ("echo", "new"))
    assert listener.wait(done(second)).answer == "new"
    assert worker.pids == pids
    assert not any(heard.number == first and heard.state == "done" for heard in listener.all)


def test_a_search_that_does_not_look_up_is_replaced(worker: Worker, listener: Listener) -> None:
    first = worker.ask("lay", ("search deaf", None))
    listener.wait(lambda heard: heard.number == first and heard.state == "found")
    deaf, standing_by = worker.pids
    second = worker.ask("lay", ("echo", "new"))
    assert listener.wait(done(second)).answer == "new"
    assert worker.pids[0] == standing_by
    wait_until(lambda: not alive(deaf))


def cancel_times_s(worker: Worker, listener: Listener) -> tuple[float, float]:
    """Cancel a search that never looks up: when the call came back, and when its process was gone."""
    first = worker.ask("lay", ("search deaf", None))
    listener.wait(lambda heard: heard.number == first and heard.state == "found")
    working, standing_by = worker.pids
    started_s = time.monotonic()
    worker.cancel()
    returned_s = time.monotonic() - started_s
    wait_until(lambda: not alive(working))
    gone_s = time.monotonic() - started_s
    number = worker.ask("lay", ("echo", "after"))
    assert listener.wait(done(number)).answer == "after"
    wait_until(lambda: worker.warm == 2)
    assert worker.pids[0] == standing_by
    assert working not in worker.pids
    return returned_s, gone_s


def test_a_cancelled_question_is_gone_within_100_ms(worker: Worker, listener: Listener) -> None:
    # One of a few tries must keep to it: a busy machine may let us wait for our turn, a slow cancel is slow each time.
    tries: list[tuple[float, float]] = []
    while len(tries) < 6 and not any(returned_s < 0.05 and gone_s < 0.1 for returned_s, gone_s in tries):
        tries.append(cancel_times_s(worker, listener))
    assert any(returned_s < 0.05 and gone_s < 0.1 for returned_s, gone_s in tries), tries


def test_cancel_with_nothing_asked_keeps_both_processes(worker: Worker) -> None:
    pids = worker.pids
    worker.cancel()
    assert worker.pids == pids


def test_a_crash_is_told_in_one_sentence_and_healed(worker: Worker, listener: Listener) -> None:
    number = worker.ask("lay", ("crash", None))
    heard = listener.wait(done(number))
    assert heard.trouble is not None
    assert "stopped" in heard.trouble.text()
    after = worker.ask("lay", ("echo", "well again"))
    assert listener.wait(done(after)).answer == "well again"
    wait_until(lambda: worker.warm == 2)


def test_a_fault_of_the_maker_comes_back_as_its_sentence(worker: Worker, listener: Listener) -> None:
    heard = listener.wait(done(worker.ask("lay", ("bad input", None))))
    assert heard.trouble is not None
    assert heard.trouble.text() == "gap -1mm: the length must be 0 or more, like 0mm"


def test_a_fault_of_the_program_is_told_and_the_process_lives(worker: Worker, listener: Listener) -> None:
    pids = worker.pids
    heard = listener.wait(done(worker.ask("lay", ("bug", "x"))))
    assert heard.trouble is not None
    assert "KeyError" in heard.trouble.text()
    assert worker.pids == pids


def test_the_process_never_loads_qt(worker: Worker, listener: Listener) -> None:
    names = listener.wait(done(worker.ask("lay", ("name modules", None)))).answer
    assert "coverlayout" in names
    assert "PySide6" not in names
    assert "shiboken6" not in names


def test_a_warm_process_has_everything_loaded_that_answers() -> None:
    asked = """
        import sys
        from coverlayout.app.worker_process import _ANSWERS, _warm
        _warm()
        before = set(sys.modules)
        for answer in _ANSWERS.values():
            for name in answer.__code__.co_names:
                if name.startswith("coverlayout."):
                    __import__(name)
        print(sorted(each for each in set(sys.modules) - before if each.startswith("coverlayout")))
    """
    told = subprocess.run([sys.executable, "-c", textwrap.dedent(asked)], capture_output=True, text=True, check=True)
    assert told.stdout.strip() == "[]"


def test_no_process_to_be_had_is_told_in_one_sentence(listener: Listener, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(process: object) -> None:
        raise OSError("no more processes")

    monkeypatch.setattr(SpawnProcess, "start", refuse)
    worker = Worker(listener, answer_as_told)
    worker.ask("lay", "anything")
    heard = listener.wait(lambda heard: heard.state == "trouble")
    assert heard.trouble is not None
    assert heard.trouble.code in ("search-crashed", "search-unavailable")
    wait_until(lambda: worker.pids == () and not worker._hands)
    worker.ask("lay", "again")
    listener.wait(lambda heard: heard.trouble is not None and heard.trouble.code == "search-unavailable")
    worker.close()


def test_processes_that_die_before_they_are_warm_are_not_tried_for_ever(listener: Listener) -> None:
    # A function that the process cannot load: it dies while it starts, each time.
    def not_to_be_found(*_: object) -> object: ...

    not_to_be_found.__module__, not_to_be_found.__qualname__ = "worker_answers", "gone"
    sys.modules["worker_answers"].gone = not_to_be_found  # type: ignore[attr-defined]  # only here, not in the process
    worker = Worker(listener, not_to_be_found)
    try:
        number = worker.ask("lay", ("echo", 1))
        heard = listener.wait(done(number), 40.0)
        assert heard.trouble is not None
        wait_until(lambda: worker.pids == (), 40.0)
        later = worker.ask("lay", ("echo", 2))
        unavailable = listener.wait(done(later)).trouble
        assert unavailable is not None
        assert unavailable.code == "search-unavailable"
    finally:
        del sys.modules["worker_answers"].gone  # type: ignore[attr-defined]  # as above
        worker.close()


@pytest.mark.parametrize("deed", ["echo", "search deaf", "search until told"])
def test_the_processes_die_with_a_killed_parent(deed: str) -> None:
    parent = textwrap.dedent(
        f"""
        import sys, time
        sys.path[:0] = {sys.path!r}
        from coverlayout.app.worker import Worker
        from worker_answers import answer_as_told
        if __name__ == "__main__":
            worker = Worker(lambda heard: None, answer_as_told)
            worker.start()
            while worker.warm < 2:
                time.sleep(0.01)
            worker.ask("lay", ({deed!r}, None))
            time.sleep(0.1)
            print(*worker.pids, flush=True)
            time.sleep(60)
        """
    )
    with subprocess.Popen([sys.executable, "-c", parent], stdout=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        pids = [int(word) for word in process.stdout.readline().split()]
        assert len(pids) == 2
        process.send_signal(signal.SIGKILL)
    wait_until(lambda: not any(map(alive, pids)), 5.0)


def test_the_process_answers_every_kind_of_question() -> None:
    job = Project(cloths=(Cloth("cloth-1", "Swatch", 300.0, 200.0),), own_pieces=(OwnPiece("own-1", "a", 60.0, 90.0),))
    whole = answer_question("lay", question_for(job), never, lambda answer: None)
    assert isinstance(whole, Answer)
    rest = answer_question("rest", rest_asked(job), never, lambda answer: None)
    assert isinstance(rest, StillHad)
    assert [placed.piece for placed in rest.answer.placed] == ["a-1"]
    assert isinstance(answer_question("ladder", ladder_for(job)[:1], never, lambda answer: None), Ladder)


def test_what_is_found_on_the_way_to_the_rest_is_told() -> None:
    job = Project(cloths=(Cloth("cloth-1", "Swatch", 300.0, 200.0),), own_pieces=(OwnPiece("own-1", "a", 60.0, 90.0),))
    heard: list[Answer] = []
    rest = answer_question("rest", rest_asked(job), never, heard.append)
    assert heard
    assert [placed.piece for placed in heard[-1].placed] == ["a-1"]
    rooms = [answer.clearance_mm or 0.0 for answer in heard]
    assert rooms == sorted(rooms)
    assert rest.answer.spare_mm >= rooms[-1]


def test_another_layout_is_unlike_those_seen() -> None:
    job = Project(cloths=(Cloth("cloth-1", "Swatch", 300.0, 200.0),), own_pieces=(OwnPiece("own-1", "a", 60.0, 90.0),))
    question = question_for(job)
    first = answer_question("lay", question, never, lambda answer: None)
    other = answer_question("another", AnotherAsked(question, (first.placed,)), never, lambda answer: None)
    assert [placed.piece for placed in other.placed] == ["a-1"]
    assert other.placed != first.placed


def test_questions_of_size_are_asked_of_a_project() -> None:
    """Labels of 100 x 60 on 300 x 200 of cloth: three across, three along, nine sets of one."""
    label = OwnPiece("own-1", "label", 100.0, 60.0, turns="none")
    job = Project(cloths=(Cloth("cloth-1", "Swatch", 300.0, 200.0),), own_pieces=(label,))
    counted = answer_question("count", job, never, lambda answer: None)
    assert (counted.books, counted.counted, counted.proved_most) == (9, "sets of pieces", True)
    length = answer_question("length", job, never, lambda answer: None)
    assert length.length_mm == pytest.approx(60.0)
    for kind, code in (("largest", "largest-book-needed"), ("scale", "scale-nothing")):
        with pytest.raises(BadInput) as refused:
            answer_question(kind, job, never, lambda answer: None)
        assert refused.value.code == code


def test_the_process_tells_each_change_that_would_fit_as_it_comes() -> None:
    labels = OwnPiece("own-1", "label", 70.0, 40.0, count=2, turns="none")
    project = Project(cloths=(Cloth("cloth-1", "Strip", 150.0, 50.0),), own_pieces=(labels,))
    # Two labels on 150 leave 10 between them at most.
    wide = replace(project, rules=replace(project.rules, gap_mm=12.0))
    heard: list[tuple[FittingChange, ...]] = []
    changes = answer_question("changes", wide, never, heard.append)
    assert (changes[0].kind, changes[0].amount_mm) == ("gap", 10.0)
    assert heard[0] == changes[:1]
    assert heard[-1] == changes
    assert pickle.loads(pickle.dumps(changes)) == changes, "they travel between processes"
