"""The closed lists of words that the plan and the report are written in. They stand apart from the models: a call for help lists some."""

from typing import Literal

Resolution = Literal["word", "cue", "block", "none"]
SideMode = Literal["both", "alternating", "each", "one"]
BlockKind = Literal["warm_up", "main", "cool_down"]
BlockFormat = Literal["interval", "tabata", "emom", "amrap", "for_time", "sets", "flow"]
OptionKind = Literal["regression", "progression", "substitution"]
Focus = Literal["resistance", "cardio", "mobility", "core", "balance", "flexibility", "recovery"]
Severity = Literal["error", "warning", "note"]
