"""The page of a watched folder: the state of every survey, for any browser.

PAGE, OURS                 its name in the folder, and what tells it as ours
page(lines, passed_over)   the page as text: static, no script, every text escaped
Line                       one survey of it
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from html import escape
from typing import NamedTuple
from urllib.parse import quote

from workbook_tools.sites.in_words import how_many
from workbook_tools.watching.outcomes import Outcome

__all__ = ["OURS", "PAGE", "Line", "page"]

PAGE = "state of the surveys.html"
OURS = '<meta name="generator" content="workbook-tools watch">'
"""What tells the page from one that somebody else wrote under its name."""

_HEADINGS = "".join(
    f'<th scope="col">{heading}</th>'
    for heading in ("Property", "Survey", "Found", "State", "Review", "Checked")
)
_ARRIVING = "still arriving: it is checked as soon as it is whole"
_LOOK = """\
:root { color-scheme: light dark; --line: #c8c8c8; --bad: #a01818; --quiet: #555; }
@media (prefers-color-scheme: dark) { :root { --line: #484848; --bad: #ff9a90; --quiet: #b0b0b0; } }
body { font: 16px/1.45 system-ui, sans-serif; margin: 2rem auto; max-width: 72rem; padding: 0 1rem; }
.wide { overflow-x: auto; }
table { border-collapse: collapse; width: 100%; }
th, td { text-align: left; vertical-align: top; padding: .5rem .75rem; border-bottom: 1px solid var(--line); }
th { font-weight: 600; }
td { overflow-wrap: anywhere; }
.bad { color: var(--bad); }
.quiet { color: var(--quiet); }
p { margin: .25rem 0; }"""


class Line(NamedTuple):
    """One survey: its name in the folder, what is known of it (None while it arrives), its review's name or ""."""

    name: str
    outcome: Outcome | None
    review: str = ""
    checked: str = ""


def page(lines: Sequence[Line], passed_over: str) -> str:
    """Return the page. The same surveys give the same text, so that it is written only where something changed."""
    rows = "\n".join(map(_row, sorted(lines, key=_most_urgent_first)))
    last = max((line.checked for line in lines), default="")
    return f"""\
<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
{OURS}
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>State of the surveys</title>
<style>
{_LOOK}
</style>
</head>
<body>
<h1>State of the surveys</h1>
<p>{_text(_in_short(lines))}</p>
<p class="quiet">{_text(f"Last checked: {_moment(last)}. " if last else "")}This page changes when a survey does; reload it \
to see what is new. Whether the folder is still watched, the window says in which that was started.</p>
<div class="wide"><table>
<thead><tr>{_HEADINGS}</tr></thead>
<tbody>
{rows}
</tbody>
</table></div>
<p class="quiet">{_text(passed_over)}</p>
</body>
</html>
"""


def _in_short(lines: Sequence[Line]) -> str:
    known = [line.outcome for line in lines if line.outcome is not None]
    figures = (
        ("not read", sum(bool(one.not_read) for one in known)),
        ("without a new review", sum(bool(one.no_review) for one in known)),
        ("still arriving", len(lines) - len(known)),
    )
    return ", ".join(
        [how_many(len(lines), "survey"), *(f"{number:,} {what}" for what, number in figures if number)]
    )


def _most_urgent_first(line: Line) -> tuple[int, str]:
    return -line.outcome.status if line.outcome is not None else 1, line.name.casefold()


def _row(line: Line) -> str:
    one = line.outcome
    file = f'<a href="{_link(line.name)}">{_text(line.name)}</a>'
    if one is None:
        return f'<tr><td></td><td>{file}</td><td></td><td colspan="3">{_ARRIVING}</td></tr>'
    if one.not_read:
        return (
            f'<tr><td></td><td>{file}</td><td class="bad">not read</td><td colspan="2" class="bad">'
            f"{_text(one.not_read)}</td><td>{_text(_moment(line.checked))}</td></tr>"
        )
    review = f'<a href="{_link(line.review)}">review</a>' if line.review else ""
    if one.no_review:
        review += f'<p class="bad">Not written: {_text(one.no_review)}</p>'
    said = "".join(f'<p class="quiet">{_text(sentence)}</p>' for sentence in one.said)
    return (
        f"<tr><td>{_text(one.called or '(no property)')}</td><td>{file}</td><td>{_text(one.counts)}</td>"
        f"<td>{_text(one.state)}{said}</td><td>{review}</td><td>{_text(_moment(line.checked))}</td></tr>"
    )


def _text(text: str) -> str:
    """Return a text as markup shows it: as typed, kept from turning the line around, and no mark that nobody sees."""
    seen = "".join(letter if letter.isprintable() else "\N{REPLACEMENT CHARACTER}" for letter in text)
    return f"<bdi>{escape(seen)}</bdi>" if seen else ""


def _link(name: str) -> str:
    return escape(quote(os.fsencode(name)))


def _moment(checked: str) -> str:
    """Return day and minute of a time, by the clock of the machine that checked."""
    return checked[:16].replace("T", " ")
