"""`python -m workbook_tools` is the command workbook-tools, and so is the program of that name.

Until `main` can say it in a sentence, and when it has said everything, an interruption ends the process at once:
nothing is open yet, or everything is in its place.
"""

import signal

if signal.getsignal(signal.SIGINT) is signal.default_int_handler:  # whoever ignores it goes on ignoring it
    signal.signal(signal.SIGINT, signal.SIG_DFL)

from workbook_tools.cli import main

__all__ = ["main"]

if __name__ == "__main__":
    raise SystemExit(main())
