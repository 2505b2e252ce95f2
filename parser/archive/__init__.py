"""The classes that a coach keeps, in one SQLite file: put in, found again, and looked over.

Each name is imported when it is first asked for: to find a class takes little of what is here.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from .checking import Checked, check
    from .kept import Kept
    from .parcels import parcel, parcel_of_plan
    from .rows import Parcel
    from .search import Asked, find
    from .store import Added, Archive, Given, opened
    from .transfer import exported, restored

__all__ = [
    "Added", "Archive", "Asked", "Checked", "Given", "Kept", "Parcel", "check", "exported", "find", "opened", "parcel", "parcel_of_plan", "restored",
]

_ROOMS = {
    "checking": ("Checked", "check"),
    "kept": ("Kept",),
    "parcels": ("parcel", "parcel_of_plan"),
    "rows": ("Parcel",),
    "search": ("Asked", "find"),
    "store": ("Added", "Archive", "Given", "opened"),
    "transfer": ("exported", "restored"),
}
_ROOM_OF = {name: room for room, names in _ROOMS.items() for name in names}


def __getattr__(name: str) -> Any:
    if name not in _ROOM_OF:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f".{_ROOM_OF[name]}", __name__), name)
