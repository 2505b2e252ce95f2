"""What the archive says over its classes, for people: programming over time, habits, classes alike, and what changed."""
