"""The trade's vocabulary: movements, modifiers, equipment, parts of the body. Imports nothing of ``parser``."""

from .entry import MUSCLES, PATTERNS
from .kept import nothing_thrown_away
from .match import EquipmentMatch, Lexicon, Match, Part
from .records import find_record, list_movements, same_record
from .same import Same, asked_for
from .speech import Speech
from .taught import check, load, teach

__all__ = [
    "MUSCLES", "PATTERNS", "EquipmentMatch", "Lexicon", "Match", "Part", "Same", "Speech", "asked_for", "check", "find_record",
    "list_movements", "load", "nothing_thrown_away", "same_record", "teach",
]
