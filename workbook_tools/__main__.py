"""`python -m workbook_tools` is the command workbook-tools."""

from workbook_tools.cli import main

if __name__ == "__main__":
    raise SystemExit(main())
