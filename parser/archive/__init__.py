"""The classes that a coach keeps, in one SQLite file: put in, found again, and looked over."""

from .parcel import Parcel, parcel, parcel_of_plan
from .search import Asked, find
from .store import Added, Archive, Given, Kept, opened

__all__ = ["Added", "Archive", "Asked", "Given", "Kept", "Parcel", "find", "opened", "parcel", "parcel_of_plan"]
