"""What an archive says when it looks over its classes: what passes from it to the pages, a file for each question. Plain
data, not models: nothing of it is read from a file, and a search is not to wait for what models need.

Classes are known by the number that the archive gave them. Days are dates without a zone; ``None`` is a class whose day nobody gave.
"""
