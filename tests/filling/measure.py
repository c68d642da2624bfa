"""Right, wrong and missed headings of the lists, printed.

python -m tests.filling.measure
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

from tests.filling.held_back_lists import HELD_BACK
from tests.filling.list_form import score
from tests.filling.lists import LISTS
from workbook_tools.definitions import load_template


def main() -> int:
    """Print a line for each list with something wrong or missed, and the sums."""
    template = load_template("office")
    for name, lists in (("lists", LISTS), ("lists held back", HELD_BACK)):
        right = wrong = missed = rows = 0
        with tempfile.TemporaryDirectory() as folder:
            for listed in lists:
                found = score(listed, Path(folder), template)
                right, wrong, missed = (
                    right + len(found.right),
                    wrong + len(found.wrong),
                    missed + len(found.missed),
                )
                rows += found.rows != listed.rows
                if found.wrong or found.missed or found.rows != listed.rows:
                    print(
                        f"  {listed.name}: {found.rows} of {listed.rows} rows; wrong {found.wrong}; missed {found.missed}"
                    )
        print(f"{name}: right {right}, wrong {wrong}, missed {missed}, lists with other rows {rows}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
