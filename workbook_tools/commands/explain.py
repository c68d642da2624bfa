"""Say what a rule looks at, why, how to mend what it finds, its source, and an example.

    explain(rule)    one rule; without one, the whole catalogue in lines

Not here: the cards of the rules (rules).
"""

from __future__ import annotations

__all__ = ["explain"]


def explain(rule: str = "") -> str:
    """Return a rule in words, or every rule in a line.

    Parameters
    ----------
    rule : str, optional
        Its name, as `check` prints it.

    Raises
    ------
    Unusable
        No such rule; the nearest ones are named.

    Examples
    --------
    >>> explain().splitlines()[-1]
    '`workbook-tools explain RULE` tells more about one of them.'
    """
    from workbook_tools.rules.explaining import catalogue_text, rule_text

    return rule_text(rule) if rule else catalogue_text()
