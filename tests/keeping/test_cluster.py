"""Classes understood on a real Dask scheduler with two workers, one of which is ended in the middle."""

import gc
import json
import os
import signal
import subprocess
import sys
import time

import pytest

from parser.archive import Given, check, opened
from parser.errors import ArchiveError, UnreadableInput
from parser.keeping import files_in, keep

pytest.importorskip("distributed")
from parser.cluster import _result, on_cluster

FILES = 24


def _start(*command: str) -> subprocess.Popen:
    return subprocess.Popen([sys.executable, "-m", *command], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
                            env={**os.environ, "PYTHONPATH": os.getcwd()})


def _until(so, seconds: float = 60):
    end = time.monotonic() + seconds
    while not (found := so()):
        assert time.monotonic() < end, "the cluster did not start"
        time.sleep(0.05)
    return found


@pytest.fixture(autouse=True)
def _swept():
    """What a client leaves unfinished is told of here, and not in the middle of another test."""
    yield
    gc.collect()


@pytest.fixture
def scheduler(tmp_path):
    """Its address."""
    told = tmp_path / "scheduler.json"
    process = _start("distributed.cli.dask_scheduler", "--host", "127.0.0.1", "--port", "0", "--no-dashboard", "--scheduler-file", str(told))
    try:
        yield _until(lambda: told.exists() and told.stat().st_size and json.loads(told.read_text())["address"])
    finally:
        process.kill()
        process.wait()


@pytest.fixture
def cluster(scheduler):
    """The address of a scheduler, and two workers."""
    address, processes = scheduler, []
    try:
        for name in ("one", "two"):
            processes.append(_start("distributed.cli.dask_worker", address, "--no-nanny", "--nthreads", "1", "--no-dashboard", "--name", name))
        from distributed import Client

        with Client(address, set_as_default=False) as client:
            _until(lambda: len(client.nthreads()) == 2)
        yield address, processes
    finally:
        for process in reversed(processes):
            process.kill()
            process.wait()


def test_a_worker_that_is_ended_loses_nothing(cluster, folder, archive):
    address, workers = cluster
    talks, told = folder(FILES), []

    def tell(done) -> None:
        told.append(done)
        if len(told) == 3:
            workers[0].send_signal(signal.SIGKILL)

    with opened(archive, create=True) as kept:
        keep(kept, files_in([str(talks)]), on_cluster(None, address), given=Given(), tell=tell)
        assert workers[0].wait() == -signal.SIGKILL
        assert [done.complaint for done in told] == [None] * FILES and len(kept.shown()) == FILES
        assert all(k.plan.mains[0].movements[1].name == "half-kneeling press" for k in kept)
        assert check(kept).faults == ()


def test_no_worker_there(scheduler):
    with pytest.raises(ArchiveError, match="has no worker. Start one"):
        on_cluster(None, scheduler)


def test_what_a_worker_raises(cluster):
    """Workers of another edition, or without planaloud, are told of; one file that fails there is one file."""
    from distributed import Client

    address, _ = cluster
    with Client(address, set_as_default=False) as client:
        with pytest.raises(ArchiveError, match="Install planaloud, in this edition, where they run"):
            _result(client, address, client.submit(__import__, "no_such_module"), "a.md")
        made = _result(client, address, client.submit(int, "x"), "a.md")
    assert isinstance(made, UnreadableInput) and "a.md could not be understood on the cluster (ValueError" in str(made)


def test_no_scheduler_there(monkeypatch):
    monkeypatch.setattr("parser.cluster._PATIENCE_S", 1)
    with pytest.raises(ArchiveError, match="There is no Dask scheduler at tcp://127.0.0.1:9"):
        on_cluster(None, "tcp://127.0.0.1:9")
    with pytest.raises(ArchiveError, match="There is no Dask scheduler at here"):
        on_cluster(None, "here")


def test_the_last_worker_gone(cluster, folder, archive, monkeypatch):
    address, workers = cluster
    monkeypatch.setattr("parser.cluster._PATIENCE_S", 1)
    talks = folder(FILES)

    def tell(_) -> None:
        for worker in workers:
            worker.send_signal(signal.SIGKILL)

    with opened(archive, create=True) as kept, pytest.raises(ArchiveError, match="has no worker left"):
        keep(kept, files_in([str(talks)]), on_cluster(None, address), given=Given(), tell=tell)
    with opened(archive) as kept:
        assert len(kept.shown()) >= 1 and check(kept).faults == ()
