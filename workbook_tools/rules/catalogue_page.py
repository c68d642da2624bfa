"""Write CATALOGUE.md beside this file again, from the records of the rules.

python -m workbook_tools.rules.catalogue_page
"""

from __future__ import annotations

from pathlib import Path

from workbook_tools.rules.explaining import catalogue_page

__all__ = ["PAGE", "main"]

PAGE = Path(__file__).with_name("CATALOGUE.md")


def main() -> None:
    """Write the page."""
    PAGE.write_text(catalogue_page(), encoding="utf-8")


if __name__ == "__main__":
    main()
