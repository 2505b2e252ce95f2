"""What an archive says when it looks over its classes: the frozen models that pass from it to the pages, a file for each question.

Classes are known by the number that the archive gave them. Days are dates without a zone; ``None`` is a class whose day nobody gave.
"""
