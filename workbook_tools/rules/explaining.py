"""The catalogue in words: for the terminal and for the catalogue page.

    rule_text(slug)      one rule: what it looks at, why, how to mend it, its source, an example
    catalogue_text()     every rule in a line, by subject
    catalogue_page()     every rule in full, as the page CATALOGUE.md

Everything comes from the records of the rules; nothing is written twice.
"""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterator
from fractions import Fraction
from functools import lru_cache
from typing import Any

from workbook_tools.assessment import profile_of
from workbook_tools.definitions import Template, load_template
from workbook_tools.electrical import CodeProfile
from workbook_tools.errors import Unusable
from workbook_tools.rules import by_subject, catalogue, client_reads
from workbook_tools.rules.client import Condition, Limit, Paperwork, Remark
from workbook_tools.rules.plain_english import sentence
from workbook_tools.rules.problems import Problem
from workbook_tools.rules.rule import Rule, Typed
from workbook_tools.rules.typed import assessment_of
from workbook_tools.survey import Field

__all__ = ["catalogue_page", "catalogue_text", "rule_text"]

WIDTH = 100
_WHO = {
    "correct": "the workbook is wrong; the inspector mends it",
    "confirm": "it may be right; the reviewer answers",
    "report": "a condition of the property; it goes to the client unless it is left out with a reason",
    "note": "for the limits of the survey or the remarks",
}


def rule_text(slug: str) -> str:
    """Say what a rule looks at, why, how to mend what it finds, its source, and an example.

    Raises
    ------
    Unusable
        No such rule; the nearest ones are named.

    Examples
    --------
    >>> print(rule_text("supply-loop").splitlines()[0])
    supply-loop (correct: the workbook is wrong; the inspector mends it)
    """
    rule = catalogue().get(slug.strip().casefold().replace(" ", "-").replace("_", "-"))
    if rule is None:
        from difflib import get_close_matches

        near = get_close_matches(slug, list(catalogue()), n=3, cutoff=0.4)
        hint = f" Did you mean {' or '.join(near)}?" if near else ""
        raise Unusable(f"There is no rule {slug!r}.{hint} `workbook-tools explain` lists them all.")
    lines = [_title(rule), ""]
    for heading, text in _parts(rule):
        lines += textwrap.wrap(f"{heading}: {text}", WIDTH, subsequent_indent="  ")
    lines += ["", "An example that it reports:", *(f"  {line}" for line in _example(rule.fires))]
    lines += [f"  {line}" for line in _found(rule)]
    lines += ["One that passes:", *(f"  {line}" for line in _example(rule.passes))]
    return "\n".join(lines)


def catalogue_text() -> str:
    """Return every rule in a line, by subject."""
    width = max(map(len, catalogue()))
    lines = []
    for subject, rules in by_subject().items():
        lines += [subject]
        for rule in rules:
            first, *rest = textwrap.wrap(
                f"({_class(rule)}; {_short_source(rule)}) {rule.what}", WIDTH - width - 4
            )
            lines += [f"  {rule.slug.ljust(width)}  {first}", *(" " * (width + 4) + line for line in rest)]
        lines += [""]
    return "\n".join([*lines, "`workbook-tools explain RULE` tells more about one of them."])


def catalogue_page() -> str:
    """Return the catalogue page in Markdown."""
    lines = [
        "# The rules",
        "",
        "Written by `python -m workbook_tools.rules.catalogue_page` from the records of the rules; a test holds the two together.",
        "Classes: " + "; ".join(f"**{name}**, {who}" for name, who in _WHO.items()) + ".",
        "A rule that lacks something it needs says so (not checked); that is never a pass.",
        "",
    ]
    for subject, rules in by_subject().items():
        lines += [f"## {subject}", ""]
        for rule in rules:
            lines += [f"### {rule.slug}", "", f"*{_class(rule)}* · {rule.subject}", ""]
            lines += [f"- {heading}: {text}" for heading, text in _parts(rule)]
            lines += ["", "```text", *_example(rule.fires), *_found(rule)]
            lines += ["", "passes:", *_example(rule.passes), "```", ""]
    return "\n".join(lines)


def _class(rule: Rule) -> str:
    return f"{rule.class_}, {rule.priority}" if rule.priority else rule.class_


def _short_source(rule: Rule) -> str:
    """Return the first basis that a rule names, without what is told about it."""
    return re.split(r"[;,]", rule.source)[0].strip()


def _title(rule: Rule) -> str:
    return f"{rule.slug} ({_class(rule)}: {_WHO[rule.class_]})"


def _parts(rule: Rule) -> Iterator[tuple[str, str]]:
    yield "Looks at", f"{rule.subject}. {rule.what}"
    yield "Why", rule.why
    yield "What to do", rule.mend
    yield "For the client", _for_client(rule)
    if rule.compares:
        yield "Listed as compared", f"{rule.compares}."
    yield "Source", rule.source
    if rule.measured:
        profile = _profile()
        allowed = f"{_inches(profile.tolerance_in)} in, {profile.tolerance_mm:g} mm ({profile.title})"
        yield (
            "Measuring tolerance",
            f"{allowed}. A reading that misses the limit by no more than that meets it.",
        )
    if rule.needs:
        yield "Not checked without", ", ".join(dict.fromkeys(_heading(needed) for needed in rule.needs))


def _for_client(rule: Rule) -> str:
    match rule.client:
        case Condition() as card:
            live = ", marked as metal that may be live" if card.may_be_live else ""
            work = client_reads.work(rule.slug, _template())
            return (
                f"an issue of the equipment{live}. Who mends it: {work.trade.value}; power {work.power.value}; "
                f"{work.effort.value}. Until then: {work.danger.value}."
            )
        case Limit() as card:
            return f"a limit of the survey, under {card.group.value}."
        case Remark():
            return "a remark beside the equipment."
        case Paperwork(firms_own=True):
            return "nothing: it is between the inspector and the firm."
        case Paperwork():
            return "nothing once it is answered; while it is open, a limit of the survey."


@lru_cache(maxsize=1)
def _template() -> Template:
    return load_template("office")


@lru_cache(maxsize=1)
def _profile() -> CodeProfile:
    return profile_of(_template())


def _inches(inches: float) -> str:
    """Return inches as on a tape: "1/8"."""
    part = Fraction(inches).limit_denominator(64)
    return str(part) if abs(part - inches) < 1e-9 else f"{inches:g}"


def _heading(field: Field[Any]) -> str:
    return _template().by_key[field.owner.key].by_field[field.name].heading


def _example(typed: Typed) -> list[str]:
    lines = []
    if typed.job:
        columns = _template().by_key["job"].by_field
        lines.append(
            "Job: " + "; ".join(f"{columns[f].heading} = {t or '(blank)'}" for f, t in typed.job.items())
        )
    for key, rows in typed.tables.items():
        sheet = _template().by_key[key]
        for row in rows:
            cells = "; ".join(
                f"{sheet.by_field[field].heading if field in sheet.by_field else field} = {text or '(blank)'}"
                for field, text in row.items()
            )
            lines.append(f"{sheet.name}: {cells}")
    if typed.photo_folder is not None:
        lines.append(f"Photo folder: {', '.join(typed.photo_folder)}")
    return lines


def _found(rule: Rule) -> Iterator[str]:
    """Yield what the example that fires leads to: the message, and what the owner reads of a condition."""
    for found in rule.check(assessment_of(rule.fires)):
        if isinstance(found, Problem):
            yield f"-> {found.message}"
            if client_reads.is_condition(found):
                said = (
                    client_reads.phrase(found),
                    client_reads.why(found),
                    client_reads.action(found, _template()),
                )
                yield f"   The client reads: {' '.join(map(sentence, said))}"
