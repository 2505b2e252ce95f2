"""Understanding files on the workers of a Dask cluster. Only with ``--cluster``: nothing else ever leaves the machine."""

from __future__ import annotations

from collections.abc import Callable, Generator, Iterable
from functools import partial
from itertools import islice
from typing import TYPE_CHECKING, Any, TypeVar

from .errors import ArchiveError, UnreadableInput
from .keeping import AHEAD, Item, Made, Maker, understood

if TYPE_CHECKING:
    from distributed import Client, Future

T = TypeVar("T")

_PATIENCE_S = 30
"""How long a scheduler is waited for, or one that has no worker left."""


def on_cluster(words: bytes | None, address: str) -> Maker:
    """On the workers of the scheduler at ``address``. What a worker leaves undone when it is ended, another takes over. Raises
    ArchiveError where the scheduler, or Dask itself, cannot be had, and when its last worker is gone."""
    client = _connected(address)
    from distributed import wait

    def make(items: Iterable[Item]) -> Generator[tuple[Item, Made], None, None]:
        waiting = iter(items)
        running: dict[Future, Item] = {}
        with client:
            while True:
                room = AHEAD * max(1, _threads(client)) - len(running)
                running |= {client.submit(understood, item, words, pure=False): item for item in islice(waiting, max(0, room))}
                if not running:
                    return
                first = partial(wait, [*running], timeout=_PATIENCE_S, return_when="FIRST_COMPLETED")
                for future in _patiently(client, address, first).done:
                    item = running.pop(future)
                    yield item, _result(client, address, future, item.name)

    return make


def _connected(address: str) -> Client:
    try:
        from distributed import Client
    except ImportError as exc:
        raise ArchiveError("--cluster needs Dask. Install it with: pip install 'planaloud[cluster]'.") from exc
    try:
        client = Client(address, timeout=_PATIENCE_S, set_as_default=False)
    except (OSError, ValueError, TypeError) as exc:
        raise ArchiveError(f"There is no Dask scheduler at {address}. Start one, or leave out --cluster.") from exc
    if not _threads(client):
        client.close()
        raise ArchiveError(f"The Dask scheduler at {address} has no worker. Start one, or leave out --cluster.")
    return client


def _threads(client: Client) -> int:
    threads: dict[str, int] = client.nthreads()
    return sum(threads.values())


def _patiently(client: Client, address: str, call: Callable[[], T]) -> T:
    """``call``, which gives up after a while, again and again as long as there is a worker."""
    while True:
        try:
            with client.as_current():
                return call()
        except TimeoutError:
            if not _threads(client):
                raise ArchiveError(f"The Dask scheduler at {address} has no worker left. What was told to be kept is kept.") from None


def _result(client: Client, address: str, future: Future, name: str) -> Made:
    """A result that was on a worker which is gone by now is made again, so that it too may have to be waited for."""
    exc: Any = _patiently(client, address, partial(future.exception, timeout=_PATIENCE_S))
    if exc is None:
        made: Made = _patiently(client, address, partial(future.result, timeout=_PATIENCE_S))
        return made
    if isinstance(exc, ImportError):
        raise ArchiveError(f"The workers cannot understand a class ({exc}). Install planaloud, in this edition, where they run.") from exc
    return UnreadableInput(f"{name} could not be understood on the cluster ({type(exc).__name__}: {exc}). It was left out.")
