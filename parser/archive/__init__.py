"""The classes that a coach keeps, in one SQLite file: put in, found again, and looked over."""

from .check import Checked, check
from .parcel import Parcel, parcel, parcel_of_plan
from .search import Asked, find
from .store import Added, Archive, Given, Kept, opened
from .transfer import exported, restored

__all__ = [
    "Added", "Archive", "Asked", "Checked", "Given", "Kept", "Parcel", "check", "exported", "find", "opened", "parcel", "parcel_of_plan", "restored",
]
