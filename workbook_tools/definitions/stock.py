"""Where the stock templates lie, and what each is for.

stock_templates()          {name: one line}
stock_path(name)           the file of a stock template, or None
"""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path

__all__ = ["stock_folder", "stock_path", "stock_templates"]


@cache
def stock_folder() -> Path:
    """Return the folder of the stock templates.

    They stand at the top of the source tree and, in an installed wheel, inside the package.
    """
    package = Path(__file__).resolve().parent.parent
    installed = package / "stock_templates"
    return installed if installed.is_dir() else package.parent / "templates"


def stock_path(name: str) -> Path | None:
    """Return the file of the stock template of that name, or None."""
    path = stock_folder() / f"{name}.toml"
    return path if path.name == f"{name}.toml" and path.parent == stock_folder() and path.is_file() else None


def stock_templates() -> dict[str, str]:
    """Return each stock template that a survey can be made from, with its one line.

    Examples
    --------
    >>> sorted(stock_templates())
    ['industrial', 'office', 'retail', 'school']
    """
    lines = {}
    for path in sorted(stock_folder().glob("*.toml")):
        text = path.read_text(encoding="utf-8")
        head = tomllib.loads(text).get("template", {}) if "\nextends" in text else {}
        if "extends" in head:
            lines[path.stem] = str(head.get("line", ""))
    return lines
