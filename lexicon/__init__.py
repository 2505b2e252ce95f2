"""The trade's vocabulary: movements, modifiers, equipment, body parts. Imports nothing of ``parser``."""
