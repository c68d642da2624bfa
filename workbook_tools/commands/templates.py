"""The stock templates that a survey workbook can be made from.

    templates()    {name: one line}

Not here: what a template holds (definitions).
"""

from __future__ import annotations

__all__ = ["templates"]


def templates() -> dict[str, str]:
    """Return each stock template with its one line.

    Examples
    --------
    >>> sorted(templates())
    ['industrial', 'office', 'retail', 'school']
    """
    from workbook_tools.definitions import stock_templates

    return stock_templates()
