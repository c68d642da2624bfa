"""The counts over many sites, by pandas: joined, grouped and pivoted here and nowhere else.

    roll_up(gathered)   a RolledUp: finished lines for sheets and for data
    SurveyLine, IssueLine, PieceLine, CountLine, YearLine, RolledUp

Not here: which surveys count (gathered), how it looks (sheets), how it is described as data (tables).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import inf
from typing import TYPE_CHECKING, Any, NamedTuple

from workbook_tools.definitions import PRIORITIES, Firm
from workbook_tools.portfolio.gathered import Gathered
from workbook_tools.portfolio.records import Issue, Piece
from workbook_tools.schedule.conditions import urgency
from workbook_tools.sites import NotRead
from workbook_tools.sites.looking import in_order

if TYPE_CHECKING:
    from pandas import DataFrame, Series

__all__ = ["AMPERES", "BY_PRIORITY", "KVA", "CountLine", "Counts", "IssueLine", "PieceLine", "RolledUp", "SurveyLine",
           "YearLine", "roll_up"]  # fmt: skip

NOT_RECORDED = "not recorded"

AMPERES = (100, 200, 400, 800, 1600, inf)
KVA = (30, 75, 150, 300, 750, inf)
"""Where one band of sizes ends and the next begins."""

BY_PRIORITY = ("act_now", "correct_soon", "upkeep", "record")
"""The columns that count issues of each priority."""

_WHOLE: dict[str, Any] = {"issues": int, **dict.fromkeys(BY_PRIORITY, int)}


class SurveyLine(NamedTuple):
    """One survey: what is known of it, its problems by class, its issues by priority, why it is not counted."""

    row: int
    site: str
    property: str
    address: str
    inspector: str
    date: str
    year: int | None
    year_built: int | None
    pieces: int
    correct: int
    confirm: int
    report: int
    note: int
    issues: int
    act_now: int
    correct_soon: int
    upkeep: int
    record: int
    counted: bool
    why_not: str
    file: str


class IssueLine(NamedTuple):
    """One issue beside its site; `survey_row` is the row of its survey."""

    survey_row: int
    site: str
    date: str
    counted: bool
    issue: Issue


class PieceLine(NamedTuple):
    """One piece of equipment beside its site."""

    survey_row: int
    site: str
    counted: bool
    piece: Piece


class CountLine(NamedTuple):
    """One line of counts: of how many sites, how many pieces (None where that is no question), which issues."""

    label: str
    sites: int
    pieces: int | None
    issues: int
    act_now: int
    correct_soon: int
    upkeep: int
    record: int


class YearLine(NamedTuple):
    """One year of one site, beside the survey before: issues that are new, found again, and not found again."""

    site: str
    year: int
    pieces: int
    issues: int
    act_now: int
    correct_soon: int
    upkeep: int
    record: int
    new: int | None
    again: int | None
    gone: int | None


Counts = tuple[CountLine, ...]


@dataclass(frozen=True)
class RolledUp:
    """Everything that an overview shows. Counts are over the surveys that are counted."""

    firm: Firm | None
    surveys: tuple[SurveyLine, ...]
    issues: tuple[IssueLine, ...]
    pieces: tuple[PieceLine, ...]
    by_priority: Counts
    by_site: Counts
    by_issue: Counts
    by_kind: Counts
    by_decade: Counts
    by_kva: Counts
    by_amperes: Counts
    years: tuple[YearLine, ...]
    first_and_last: Counts
    not_read: tuple[NotRead, ...]
    passed_over: str


def roll_up(gathered: Gathered) -> RolledUp:
    """Return the counts over all surveys that were gathered."""
    surveys = _surveys(gathered)
    issues = _with_survey(
        [
            (n, one.id, one.priority, one.kind, one.kind_of_issue)
            for n, entry in enumerate(gathered.entries, 1)
            for one in entry.record.issues
        ],
        {"id": str, "priority": str, "kind": str, "kind_of_issue": str},
        surveys,
    )
    pieces = _with_survey(
        [
            (
                n,
                one.kind,
                one.amperes,
                one.kva,
                one.year_made,
                one.transformer,
                *(getattr(one, name) for name in _WHOLE),
            )
            for n, entry in enumerate(gathered.entries, 1)
            for one in entry.record.pieces
        ],
        {"kind": str, "amperes": float, "kva": float, "year_made": "Int64", "transformer": bool, **_WHOLE},
        surveys,
    )
    counted, standing = issues[issues["counted"]], pieces[pieces["counted"]]
    years = _years(surveys, issues)
    plates, boards = standing[standing["transformer"]], standing[~standing["transformer"]]
    return RolledUp(
        firm=gathered.firm,
        surveys=_survey_lines(surveys, issues),
        issues=tuple(sorted(_issue_lines(gathered), key=lambda line: urgency(line.issue.priority))),
        pieces=tuple(_piece_lines(gathered)),
        by_priority=_by_priority(counted),
        by_site=_by_site(surveys, counted),
        by_issue=_by_issue(counted),
        by_kind=_by_kind(standing, counted),
        by_decade=_of_pieces(plates, _decades(plates["year_made"])),
        by_kva=_of_pieces(plates, _bands(plates["kva"], KVA, "kVA")),
        by_amperes=_of_pieces(boards, _bands(boards["amperes"], AMPERES, "A")),
        years=years,
        first_and_last=_first_and_last(years),
        not_read=tuple(gathered.not_read),
        passed_over=gathered.passed_over,
    )


def _surveys(gathered: Gathered) -> DataFrame:
    from pandas import DataFrame

    frame = DataFrame(
        [
            {
                **entry.record.facts._asdict(), "survey": number, "site": entry.site, "counted": entry.counted,
                "why_not": entry.why_not, "copy": entry.copy,
            }
            for number, entry in enumerate(gathered.entries, 1)
        ],
        columns=["survey", "site", "property", "address", "inspector", "date", "year", "year_built", "pieces", "correct",
                 "confirm", "report", "note", "counted", "why_not", "copy", "file"],
    )  # fmt: skip
    return frame.astype({"year": "Int64", "year_built": "Int64", "counted": bool, "copy": bool})


def _with_survey(rows: Sequence[tuple[Any, ...]], types: Mapping[str, Any], surveys: DataFrame) -> DataFrame:
    """Return rows beside what is known of their survey, in the order of the surveys."""
    from pandas import DataFrame

    frame = DataFrame(rows, columns=["survey", *types]).astype({"survey": int, **types})
    return frame.merge(surveys[["survey", "site", "year", "counted", "copy"]], on="survey")


def _survey_lines(surveys: DataFrame, issues: DataFrame) -> tuple[SurveyLine, ...]:
    joined = surveys.merge(_priorities(issues, "survey"), left_on="survey", right_index=True, how="left")
    joined = joined.fillna(dict.fromkeys(_WHOLE, 0)).rename(columns={"survey": "row"})
    joined = joined.astype(_WHOLE)
    return tuple(SurveyLine(**row) for row in _rows(joined[list(SurveyLine._fields)]))


def _issue_lines(gathered: Gathered) -> Iterator[IssueLine]:
    for number, entry in enumerate(gathered.entries, 1):
        for issue in entry.record.issues:
            yield IssueLine(number, entry.site, entry.record.facts.date, entry.counted, issue)


def _piece_lines(gathered: Gathered) -> Iterator[PieceLine]:
    for number, entry in enumerate(gathered.entries, 1):
        for piece in entry.record.pieces:
            yield PieceLine(number, entry.site, entry.counted, piece)


def _priorities(issues: DataFrame, by: str) -> DataFrame:
    """Return how many issues of each priority there are, and of all, for each value of a column."""
    from pandas import crosstab

    pivot = crosstab(issues[by], issues["priority"])
    counted = pivot.reindex(columns=list(PRIORITIES), fill_value=0).set_axis(list(BY_PRIORITY), axis=1)
    return counted.assign(issues=pivot.sum(axis=1))


def _lines(counts: DataFrame) -> Counts:
    """Return counts as lines; the index holds the labels."""
    counts = counts.assign(label=counts.index)
    return tuple(CountLine(**row) for row in _rows(counts[list(CountLine._fields)]))


def _by_priority(issues: DataFrame) -> Counts:
    counts = _priorities(issues, "priority").assign(
        sites=issues.groupby("priority")["site"].nunique(), pieces=None
    )
    others = [name for name in counts.index if name not in PRIORITIES]
    counts = counts.reindex([*PRIORITIES, *others])
    whole = ["sites", "issues", *BY_PRIORITY]
    return _lines(counts.fillna(dict.fromkeys(whole, 0)).astype(dict.fromkeys(whole, int)))


def _by_site(surveys: DataFrame, issues: DataFrame) -> Counts:
    """Return the sites, those with the most urgent issues first."""
    of_site = surveys[surveys["counted"]].groupby("site").agg(pieces=("pieces", "sum"))
    counts = of_site.join(_priorities(issues, "site")).fillna(0).astype(int).assign(sites=1)
    ordered = counts.sort_index(kind="stable").sort_values(list(BY_PRIORITY), ascending=False, kind="stable")
    return _lines(ordered)


def _by_issue(issues: DataFrame) -> Counts:
    by = "kind_of_issue"
    counts = _priorities(issues, by).assign(sites=issues.groupby(by)["site"].nunique(), pieces=None)
    return _lines(counts.sort_index().sort_values("issues", ascending=False, kind="stable"))


def _by_kind(pieces: DataFrame, issues: DataFrame) -> Counts:
    """Return the kinds of equipment; rooms and what is in no list stand below, without pieces."""
    of_kind = pieces.groupby("kind").agg(pieces=("kind", "size"))
    both = of_kind.join(_priorities(issues, "kind"), how="outer").fillna(0).astype(int)
    where = _together(pieces, issues).groupby("kind")["site"].nunique()
    counts = both.assign(sites=where).sort_index().sort_values("pieces", ascending=False, kind="stable")
    return _lines(counts.rename(index={"": "Kind not recorded, or no equipment"}))


def _together(pieces: DataFrame, issues: DataFrame) -> DataFrame:
    from pandas import concat

    return concat([pieces[["kind", "site"]], issues[["kind", "site"]]])


def _of_pieces(pieces: DataFrame, labels: Series[Any]) -> Counts:
    """Return counts of pieces and of their issues for labels in order; what has none comes last."""
    summed = {name: (name, "sum") for name in ("issues", *BY_PRIORITY)}
    groups = pieces.assign(label=labels).groupby("label", observed=True)
    return _lines(groups.agg(sites=("site", "nunique"), pieces=("kind", "size"), **summed))


def _decades(years: Series[Any]) -> Series[Any]:
    decades = years // 10 * 10
    known = [f"{decade}s" for decade in sorted(decades.dropna().unique())]
    return _ordered(
        [NOT_RECORDED if value is None else f"{value}s" for value in _plain(decades)], known, years
    )


def _bands(sizes: Series[Any], ends: Sequence[float], unit: str) -> Series[Any]:
    from pandas import cut

    labels = list(_band_names(ends, unit))
    bands = cut(sizes, [0, *ends], labels=labels)
    return _ordered([NOT_RECORDED if value is None else value for value in _plain(bands)], labels, sizes)


def _band_names(ends: Sequence[float], unit: str) -> Iterable[str]:
    before = 0.0
    for end in ends:
        if end == inf:
            yield f"over {before:,.0f} {unit}"
        else:
            yield f"over {before:,.0f} to {end:,.0f} {unit}" if before else f"up to {end:,.0f} {unit}"
        before = end


def _ordered(labels: list[str], known: list[str], like: Series[Any]) -> Series[Any]:
    from pandas import Categorical, Series

    return Series(Categorical(labels, [*known, NOT_RECORDED], ordered=True), index=like.index)


def _years(surveys: DataFrame, issues: DataFrame) -> tuple[YearLine, ...]:
    """Return the years of the sites that were surveyed in several, each beside the one before."""
    seen = surveys[~surveys["copy"] & surveys["year"].notna()]
    years = seen.groupby(["site", "year"], as_index=False).agg(pieces=("pieces", "sum"))
    years = years[years.groupby("site")["year"].transform("size") > 1]
    years = years.assign(before=years.groupby("site")["year"].shift())
    key = ["site", "year"]
    of_year = issues[~issues["copy"]].assign(key=lambda f: f["survey"]).merge(years[key], on=key)
    found = of_year.assign(place=of_year.groupby(key).ngroup())
    counts = _priorities(found, "place").join(found.drop_duplicates("place").set_index("place")[key])
    years = years.merge(counts, on=key, how="left").fillna(dict.fromkeys(_WHOLE, 0))
    years = years.merge(_compared(years, of_year), on=key, how="left")
    followed = years["before"].notna()
    for name in ("new", "again", "gone"):
        years[name] = years[name].astype("Int64").mask(followed & years[name].isna(), 0)
    years = years.astype(_WHOLE)
    lines = (YearLine(**row) for row in _rows(years[list(YearLine._fields)]))
    return tuple(sorted(lines, key=lambda line: (in_order(line.site), line.year)))


def _compared(years: DataFrame, issues: DataFrame) -> DataFrame:
    """Return how many issues of each year are new, found again, and not found again, by their numbers."""
    key = ["site", "year"]
    ids = issues[[*key, "id"]].drop_duplicates()
    links = years.loc[years["before"].notna(), [*key, "before"]]
    now = links[key].merge(ids, on=key)
    then = links.merge(ids.rename(columns={"year": "before"}), on=["site", "before"])[[*key, "id"]]
    both = now.merge(then, on=[*key, "id"], how="outer", indicator="which")
    names = {"left_only": "new", "both": "again", "right_only": "gone"}
    counted = both.groupby([*key, "which"], observed=False).size().unstack(fill_value=0)
    counted = counted.rename(columns=names).reindex(columns=list(names.values()), fill_value=0)
    return counted.reset_index()


def _first_and_last(years: Sequence[YearLine]) -> Counts:
    """Return the first survey of each site and its last, summed over the sites that have both."""
    from pandas import DataFrame

    if not years:
        return ()
    lines = DataFrame(years, columns=YearLine._fields).sort_values("year", kind="stable")
    summed = ["pieces", "issues", *BY_PRIORITY]
    ends = {"first": lines.drop_duplicates("site"), "last": lines.drop_duplicates("site", keep="last")}
    counts = DataFrame({label: end[summed].sum() for label, end in ends.items()}).T
    return _lines(counts.astype(int).assign(sites=lines["site"].nunique()))


def _rows(frame: DataFrame) -> list[dict[str, Any]]:
    """Return the rows as plain values; None where there is none."""
    columns = {str(name): _plain(frame[name]) for name in frame.columns}
    names = list(columns)
    return [dict(zip(names, values, strict=True)) for values in zip(*columns.values(), strict=True)]


def _plain(column: Series[Any]) -> list[Any]:
    return column.astype(object).where(column.notna(), None).tolist()
