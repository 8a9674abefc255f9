from __future__ import annotations

import threading
from typing import TYPE_CHECKING

from flueleaf.desktop.worker import Worker

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot


def test_the_result_comes_back_on_the_windows_thread(qtbot: QtBot) -> None:
    worker, threads = Worker(), []
    worker.done.connect(lambda _: threads.append(threading.current_thread()))
    with qtbot.waitSignal(worker.done) as done:
        assert worker.start(threading.current_thread)
    assert done.args is not None
    assert done.args[0] is not threading.main_thread()
    assert threads == [threading.main_thread()]
    assert not worker.busy


def test_what_fails_is_handed_over(qtbot: QtBot) -> None:
    worker = Worker()

    def fail() -> None:
        raise ValueError("no paper")

    with qtbot.waitSignal(worker.failed) as failed, qtbot.assertNotEmitted(worker.done):
        worker.start(fail)
    assert failed.args is not None
    assert str(failed.args[0]) == "no paper"


def test_one_work_at_a_time(qtbot: QtBot) -> None:
    worker, gate = Worker(), threading.Event()
    with qtbot.waitSignal(worker.done):
        assert worker.start(lambda: gate.wait(10))
        assert worker.busy
        assert not worker.start(lambda: "second")
        gate.set()
    worker.wait()
