"""The one error that a user may see.

    Unusable                    the file or the call cannot be used; its text is one plain sentence
    say_nothing_of_closing()    Python complains no more of a half-written file that is thrown away

Not here: what an inspector typed wrongly. That is a problem of the survey, found
by a rule, and never an exception.
"""

from __future__ import annotations

import sys

__all__ = ["Unusable", "say_nothing_of_closing"]


class Unusable(Exception):
    """A file or a call that cannot be used.

    The text is one sentence for the person at the keyboard: which file (or which
    argument), what was found, what to do. The command line prints it on standard
    error and ends with exit status 2.

    Examples
    --------
    >>> str(Unusable("survey.xls is an old .xls workbook: save it as .xlsx and try again."))
    'survey.xls is an old .xls workbook: save it as .xlsx and try again.'
    """


def say_nothing_of_closing() -> None:
    """Keep Python from complaining of a half-written file that is thrown away: its sentence has been said."""
    before = sys.unraisablehook

    def complain(what: sys.UnraisableHookArgs) -> None:
        if not isinstance(what.exc_value, OSError):
            before(what)

    sys.unraisablehook = complain
