"""``python -m lexicon.load``: checks the data files and prints what to mend, a line each."""

from __future__ import annotations

import sys

from .files import read_data


def main() -> int:
    """Exit code: 0 when nothing is to be mended, else 1."""
    data, problems = read_data()
    for problem in problems:
        print(problem)
    print(f"{len(data.movements)} movements, {len(data.modifiers)} modifiers, {len(data.equipment)} pieces of equipment; "
          f"{len(problems) or 'no'} problem{'s' if len(problems) != 1 else ''}.")
    return 1 if problems else 0


if __name__ == "__main__":
    sys.exit(main())
