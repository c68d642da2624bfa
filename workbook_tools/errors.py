"""The one error that a user may see.

    Unusable    the file or the call cannot be used; its text is one plain sentence

Not here: what an inspector typed wrongly. That is a problem of the survey, found
by a rule, and never an exception.
"""

from __future__ import annotations

__all__ = ["Unusable"]


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
