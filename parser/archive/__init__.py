"""The classes that a coach keeps, in one SQLite file: put in, found again, and looked over."""

from .store import Archive, opened

__all__ = ["Archive", "opened"]
