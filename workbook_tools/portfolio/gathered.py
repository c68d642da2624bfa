"""Which surveys are of the same site, and which of them are counted.

    gather(records)   a Gathered: every survey with its site, and why it is not counted where it is not
    Entry             one survey among them

A survey is counted once, however often it was saved: of two files with the same survey number and mostly the
same tags, the one saved last, or the one that holds the whole building. Where they share few tags they are parts of one
survey, and all count. Of a site that
was surveyed in several years the last year counts; the years before stand beside it. What is not counted is
said beside the survey, with the reason.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from workbook_tools.definitions import Firm, plain
from workbook_tools.portfolio.records import SiteRecord, SurveyFacts
from workbook_tools.sites import NotRead
from workbook_tools.sites.looking import in_order

__all__ = ["Entry", "Gathered", "gather"]

_MOSTLY, _MOST = 0.5, 0.8
_NO_NAME = "(no property) "


@dataclass
class Entry:
    """One survey: its record, its site, and why it is not counted ("" where it is).

    `copy` marks one that is another state of a survey that is counted; it counts for no year either.
    """

    record: SiteRecord
    site: str
    why_not: str = ""
    copy: bool = False

    @property
    def counted(self) -> bool:
        """Whether its issues and equipment are in the counts."""
        return not self.why_not


@dataclass
class Gathered:
    """Every survey that was read, by site and then date, and the files that were not."""

    entries: list[Entry] = field(default_factory=list)
    not_read: list[NotRead] = field(default_factory=list)
    passed_over: str = ""

    @property
    def firm(self) -> Firm | None:
        """The firm whose surveys these are, where it is one: for colours and paper."""
        firms = {entry.record.firm for entry in self.entries}
        return firms.pop() if len(firms) == 1 else None


def gather(made: Iterable[SiteRecord | NotRead]) -> Gathered:
    """Return all surveys with their sites.

    Parameters
    ----------
    made : iterable
        Of each file what was made of it.
    """
    gathered = Gathered()
    for one in made:
        if isinstance(one, NotRead):
            gathered.not_read.append(one)
        else:
            gathered.entries.append(Entry(one, ""))
    _name_sites(gathered.entries)
    _leave_out_copies(gathered.entries)
    _leave_out_earlier_years(gathered.entries)
    gathered.entries.sort(
        key=lambda entry: (in_order(entry.site), entry.record.facts.date, in_order(entry.record.facts.file))
    )
    return gathered


def _name_sites(entries: Iterable[Entry]) -> None:
    """Name the site of each survey: its property, with the address where two properties share a name."""
    addresses: dict[str, dict[str, str]] = {}
    names: dict[str, str] = {}
    for entry in entries:
        facts = entry.record.facts
        names.setdefault(plain(facts.property), facts.property)
        of_name = addresses.setdefault(plain(facts.property), {})
        if facts.address:
            of_name.setdefault(plain(facts.address), facts.address)
    for entry in entries:
        facts = entry.record.facts
        known = addresses[plain(facts.property)]
        name = names[plain(facts.property)]
        if not facts.property:
            entry.site = f"{_NO_NAME}{facts.file}"
        elif len(known) > 1:
            where = known.get(plain(facts.address), "address not given")
            entry.site = f"{name} ({where})"
        else:
            entry.site = name


def _leave_out_copies(entries: Iterable[Entry]) -> None:
    of_number: dict[str, list[Entry]] = {}
    for entry in entries:
        # A workbook that carries no number is known by what it says.
        of_number.setdefault(entry.record.facts.number or entry.record.facts.fingerprint, []).append(entry)
    for group in of_number.values():
        whole = _MOST * max(len(entry.record.pieces) for entry in group)
        kept: list[Entry] = []
        # What holds the whole building comes before its parts, whichever was saved later.
        for entry in sorted(
            group,
            key=lambda one: (
                len(one.record.pieces) >= whole,
                one.record.facts.changed,
                one.record.facts.file,
            ),
            reverse=True,
        ):
            instead = next((other for other in kept if _is_copy(entry.record, other.record)), None)
            if instead is None:
                kept.append(entry)
            else:
                entry.copy, entry.why_not = True, _said_of(entry.record.facts, instead.record.facts)


def _said_of(facts: SurveyFacts, instead: SurveyFacts) -> str:
    later = ", which was saved later" if instead.changed > facts.changed else ""
    if instead.pieces > facts.pieces and not later:
        return f"in {instead.file} too, which holds more of the same survey"
    return f"the same survey as {instead.file}{later}"


def _is_copy(one: SiteRecord, other: SiteRecord) -> bool:
    tags, others = ({plain(piece.tag) for piece in record.pieces} for record in (one, other))
    return one.facts.fingerprint == other.facts.fingerprint or len(tags & others) >= _MOSTLY * len(tags)


def _leave_out_earlier_years(entries: Iterable[Entry]) -> None:
    last: dict[str, int] = {}
    for entry in entries:
        year = entry.record.facts.year
        if entry.counted and year is not None:
            last[entry.site] = max(year, last.get(entry.site, year))
    for entry in entries:
        year = entry.record.facts.year
        if entry.counted and year is not None and year < last[entry.site]:
            entry.why_not = f"surveyed again in {last[entry.site]}"
