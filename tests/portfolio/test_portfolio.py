"""The overview of many sites: every number against a count without pandas, every cell against a second reader."""

import csv
import datetime
import json
import subprocess
import sys
import zipfile
from collections import Counter, defaultdict
from io import StringIO
from pathlib import Path

import frictionless
import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl import load_workbook

from tests.files.injection_payloads import PAYLOADS
from tests.sampling import drawn, sampled_property
from tests.sites.made_sites import SITES, kind_of, make_folder, survey_sheets, write_sheets
from workbook_tools import check, check_sites, overview
from workbook_tools.cli import main
from workbook_tools.definitions import PRIORITIES, load_template
from workbook_tools.delivery.proof import prove
from workbook_tools.files.data_package import write_data
from workbook_tools.portfolio import data_tables, gather, record_one, roll_up, write_overview
from workbook_tools.portfolio.records import Issue, Piece, SiteRecord, SurveyFacts, record_of
from workbook_tools.portfolio.rolled_up import BY_PRIORITY
from workbook_tools.schedule import build_schedule
from workbook_tools.sites import NotRead
from workbook_tools.sites.reading import Look, PassedOver

# Neighbours, so that there are sites of two years and every kind of broken file.
_BLOCKS = [range(start, min(start + 24, len(SITES))) for start in range(0, len(SITES), 24)]
NUMBERS = [
    number for block in drawn("blocks of 24 sites in an overview", _BLOCKS, lambda _: 0) for number in block
]


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    return make_folder(tmp_path_factory.mktemp("sites"), NUMBERS)


@pytest.fixture(scope="module")
def written(made, tmp_path_factory):
    """Return the command's outcome, the workbook, and the folder of data."""
    folder = tmp_path_factory.mktemp("overview")
    done = overview([made.folder], output=folder / "sites.xlsx", data=folder / "data", workers=2)
    return done, folder / "sites.xlsx", folder / "data"


@pytest.fixture(scope="module")
def checked(made):
    return {number: check(path) for number, path in made.surveys.items()}


@pytest.fixture(scope="module")
def schedules(checked):
    """Return what the client of each site would read, by the number of the site: the count without pandas."""
    return {number: build_schedule(one) for number, one in checked.items()}


def counted(numbers):
    """Return the sites that count: not those that were surveyed again the year after."""
    return [
        number for number in numbers if not (number + 1 in numbers and kind_of(number + 1) == "another year")
    ]


def rows_of(book, name):
    """Return the rows of a sheet below its first full row, by its headings."""
    rows = [row for row in load_workbook(book)[name].iter_rows(values_only=True)]
    wide = max(sum(cell is not None for cell in row) for row in rows)
    top = next(place for place, row in enumerate(rows) if sum(cell is not None for cell in row) == wide)
    return [dict(zip(rows[top], row, strict=True)) for row in rows[top + 1 :] if any(row)]


def data_rows(data, name):
    return [
        row.to_dict()
        for row in frictionless.Package(str(data / "datapackage.json")).get_resource(name).read_rows()
    ]


def counts_by(data, by):
    return {row["label"]: row for row in data_rows(data, "counts") if row["by"] == by}


@pytest.mark.sampled
def test_the_issues_are_those_that_the_clients_read_with_their_numbers(checked, written, schedules):
    _, _, data = written
    said = Counter(
        (row["site"], row["inspection_date"].year, row["id"], row["priority"])
        for row in data_rows(data, "issues")
    )
    expected = Counter()
    for number, schedule in schedules.items():
        year = checked[number].survey.job.inspection_date.value.year
        expected.update((schedule.property, year, one.id, one.priority) for one in schedule.conditions)
    assert expected
    assert said == expected


@pytest.mark.sampled
def test_the_sheet_of_issues_has_all_of_them_most_urgent_first(written, schedules):
    _, book, _ = written
    issues = rows_of(book, "Issues")
    assert Counter(row["No."] for row in issues) == Counter(
        one.id for schedule in schedules.values() for one in schedule.conditions
    )
    order = [PRIORITIES.index(row["Priority"][2:]) for row in issues]
    assert order == sorted(order)


@pytest.mark.sampled
def test_counts_by_priority_kind_of_issue_and_kind_of_equipment(written, schedules):
    _, _, data = written
    here = [schedules[number] for number in counted(schedules)]
    issues = [(schedule.property, one) for schedule in here for one in schedule.conditions]
    by_priority = Counter(one.priority for _, one in issues)
    said = counts_by(data, "priority")
    assert {name: row["issues"] for name, row in said.items()} == {
        name: by_priority[name] for name in PRIORITIES
    }
    for name, row in said.items():
        assert row["sites"] == len({site for site, one in issues if one.priority == name})
    by_kind = Counter(one.kind for _, one in issues)
    kinds = counts_by(data, "kind of equipment")
    assert {name: row["issues"] for name, row in kinds.items() if row["issues"]} == {
        name or "Kind not recorded, or no equipment": number for name, number in by_kind.items()
    }
    wrong = counts_by(data, "what is wrong")
    assert sum(row["issues"] for row in wrong.values()) == len(issues)
    knockouts = sum("open knockout" in one.phrase for _, one in issues)
    named = [row["issues"] for name, row in wrong.items() if name.startswith("Open knockout")]
    assert sum(named) == knockouts


@pytest.mark.sampled
def test_counts_by_age_and_size_of_the_equipment(made, written):
    _, _, data = written
    pieces, decades, kva, amperes = Counter(), Counter(), Counter(), Counter()
    for number in counted(made.surveys):
        sheets = survey_sheets(number)
        pieces.update(row[1] for row in sheets["Equipment"][1:])
        for row in sheets["Transformers"][1:]:
            decades[f"{row[6][:3]}0s" if row[6] else "not recorded"] += 1
            kva[
                {"45": "over 30 to 75 kVA", "75": "over 30 to 75 kVA", "500": "over 300 to 750 kVA"}[row[1]]
            ] += 1
        for row in sheets["Equipment"][1:]:
            if row[1] != "Transformer":
                amperes[_band(row[4])] += 1
    for by, expected in (
        ("kind of equipment", pieces), ("year made of transformers", decades), ("kVA of transformers", kva),
        ("amperes of everything else", amperes),
    ):  # fmt: skip
        said = {name: row["pieces"] for name, row in counts_by(data, by).items() if row["pieces"]}
        assert said == dict(expected), by


def _band(rating):
    if not rating.isdigit():
        return "not recorded"
    bands = ((100, "up to 100 A"), (200, "over 100 to 200 A"), (400, "over 200 to 400 A"), (800, "over 400 to 800 A"),
             (1600, "over 800 to 1,600 A"))  # fmt: skip
    return next((name for most, name in bands if int(rating) <= most), "over 1,600 A")


@pytest.mark.sampled
def test_over_the_years_by_the_numbers_of_the_issues(written, schedules):
    _, book, data = written
    twice = [n for n in schedules if n + 1 in schedules and kind_of(n + 1) == "another year"]
    assert twice
    said = {row["site"]: row for row in data_rows(data, "years") if row["new"] is not None}
    assert sorted(said) == sorted(schedules[number].property for number in twice)
    for number in twice:
        before, after = ({one.id for one in schedules[n].conditions} for n in (number, number + 1))
        row = said[schedules[number].property]
        assert (row["new"], row["again"], row["gone"]) == (
            len(after - before),
            len(after & before),
            len(before - after),
        )
        assert row["issues"] == len(schedules[number + 1].conditions)
    first, last = (
        counts_by(data, "first and last survey of sites surveyed in several years")[k]
        for k in ("first", "last")
    )
    assert first["issues"] == sum(len(schedules[n].conditions) for n in twice)
    assert last["issues"] == sum(len(schedules[n + 1].conditions) for n in twice)
    assert len(rows_of(book, "Over the years")) == 2 * len(twice)


@pytest.mark.sampled
def test_a_line_for_each_survey_with_its_problems_and_issues(made, checked, written, schedules):
    _, book, _ = written
    lines = {row["File"].split("\n")[0]: row for row in rows_of(book, "Sites")}
    assert set(lines) == set(map(str, made.surveys.values()))
    for number, path in made.surveys.items():
        line, classes = lines[str(path)], Counter(p.class_ for p in checked[number].problems)
        assert [line[name] for name in ("To correct", "To confirm", "To report", "Noted")] == [
            classes[name] for name in ("correct", "confirm", "report", "note")
        ]
        issues = dict(schedules[number].counts)
        assert [line[name] for name in PRIORITIES] == [issues[name] for name in PRIORITIES]
        assert line["Pieces"] == len(survey_sheets(number)["Equipment"]) - 1
        assert ("Not counted: surveyed again in" in line["File"]) == (number not in counted(schedules))


@pytest.mark.sampled
def test_a_broken_file_stops_nothing_and_stands_with_its_sentence(made, written):
    done, book, _ = written
    assert made.broken
    stands = {row["File"]: row["Why, and what to do"] for row in rows_of(book, "Not read")}
    each = []
    check_sites(made.broken.values(), each=each.append, workers=1)
    assert stands == {str(one.path): one.sentence for one in each}
    assert done.status == 2
    assert f"{len(made.broken)} file" in " ".join(done.lines)


@pytest.mark.sampled
def test_every_cell_is_read_back_as_it_was_meant_and_every_chart_shows_numbers(checked, tmp_path):
    gathered = gather(record_of(Look(one.survey.path, True), one) for one in checked.values())
    gathered.not_read.append(NotRead(Path("x.xlsx"), "It is broken."))
    meant = write_overview(roll_up(gathered), tmp_path / "sites.xlsx")
    assert list(meant) == [
        "Overview",
        "Sites",
        "Issues",
        "Kinds of issue",
        "Equipment",
        "Over the years",
        "Not read",
    ]
    assert prove(tmp_path / "sites.xlsx", meant) > 500
    book = load_workbook(tmp_path / "sites.xlsx")
    charted = {sheet.title: len(sheet._charts) for sheet in book if sheet._charts}
    assert charted == {"Overview": 2, "Kinds of issue": 1, "Equipment": 4, "Over the years": 1}
    for sheet in book:
        for chart in sheet._charts:
            for series in chart.series:
                cells = [
                    cell
                    for row in book[sheet.title][series.val.numRef.f.partition("!")[2].replace("$", "")]
                    for cell in row
                ]
                assert all(isinstance(cell.value, int) for cell in cells), series.val.numRef.f


@pytest.mark.sampled
def test_the_data_is_a_valid_package_with_the_same_issues(written):
    _, book, data = written
    report = frictionless.validate(str(data / "datapackage.json"))
    assert report.flatten(["type", "message"]) == []
    assert [row["id"] for row in data_rows(data, "issues")] == [row["No."] for row in rows_of(book, "Issues")]
    package = json.loads((data / "datapackage.json").read_text())
    assert package["name"] == "electrical-sites"
    assert {"surveys", "issues", "equipment", "counts", "years", "not_read"} == {
        one["name"] for one in package["resources"]
    }


@pytest.mark.sampled
def test_the_overview_is_no_survey_when_the_folder_is_read_again(written, tmp_path):
    _, book, _ = written
    assert record_one(Look(book, False)) == PassedOver("overview of several surveys")


# What counts: no file is opened here, the records are made up.

FIRM = load_template("office").firm


def record(
    file, *, site="Mill", address="", year=2025, number="", tags=("A", "B"), issues=(), changed=0.0, said=""
):
    """Return a record of an invented survey; `issues` are (id, priority, kind)."""
    date = f"{year}-05-01" if year else ""
    facts = SurveyFacts(
        file, site, address, "", date, year, None, number, said or file, len(tags), 0, 0, 0, 0, changed
    )
    return SiteRecord(
        facts,
        tuple(
            Issue(id_, priority, "A", kind, "", "", "", kind, kind, "seen", "", "", 1)
            for id_, priority, kind in issues
        ),
        tuple(
            Piece(tag, "Panelboard", "", "", "", "", 100.0, None, None, False, 0, 0, 0, 0, 0) for tag in tags
        ),
        FIRM,
    )


def why_not(*records):
    return {entry.record.facts.file: entry.why_not for entry in gather(records).entries}


def test_of_two_states_of_a_survey_the_one_saved_last_counts():
    said = why_not(record("old", number="N1", changed=1.0), record("new", number="N1", changed=2.0))
    assert said == {"new": "", "old": "the same survey as new, which was saved later"}


def test_parts_of_one_survey_count_both():
    said = why_not(
        record("left", number="N1", tags=("A", "B", "C")), record("right", number="N1", tags=("C", "D", "E"))
    )
    assert said == {"left": "", "right": ""}


def test_the_whole_of_a_survey_counts_and_not_its_parts_whichever_was_saved_later():
    whole = record("whole", number="N1", tags=tuple("ABCDEF"), changed=1.0)
    said = why_not(
        whole,
        record("left", number="N1", tags=tuple("ABC"), changed=2.0),
        record("right", number="N1", tags=tuple("DEF"), changed=0.0),
    )
    assert said == {
        "whole": "",
        "left": "in whole too, which holds more of the same survey",
        "right": "the same survey as whole, which was saved later",
    }


def test_the_same_content_without_a_number_counts_once():
    said = why_not(record("a", said="same", changed=2.0), record("b", said="same", changed=1.0))
    assert said == {"a": "", "b": "the same survey as a, which was saved later"}


def test_of_several_years_the_last_counts_and_a_survey_without_a_date_too():
    said = why_not(
        record("24", year=2024), record("25", year=2025), record("?", year=None), record("25b", year=2025)
    )
    assert said == {"24": "surveyed again in 2025", "25": "", "?": "", "25b": ""}


def test_two_properties_of_one_name_are_told_apart_by_their_address():
    gathered = gather([record("a", address="1 Quay"), record("b", address="2 Quay"), record("c", site="mill ", address="1 QUAY"),
                       record("d", site=""), record("e", site="")])  # fmt: skip
    sites = {entry.record.facts.file: entry.site for entry in gathered.entries}
    assert sites == {
        "a": "Mill (1 Quay)",
        "b": "Mill (2 Quay)",
        "c": "Mill (1 Quay)",
        "d": "(no property) d",
        "e": "(no property) e",
    }


ISSUES = st.lists(
    st.tuples(
        st.sampled_from("PQRST"), st.sampled_from((*PRIORITIES, "Whenever")), st.sampled_from(("x", "y", ""))
    ),
    max_size=6,
)
SURVEYS = st.lists(
    st.tuples(st.sampled_from(("Mill", "Dock", "")), st.sampled_from((2023, 2024, 2025, None)), ISSUES),
    max_size=8,
)


@given(SURVEYS)
@sampled_property(max_examples=200, fewest=12)
def test_whatever_was_surveyed_the_counts_are_those_of_counting(surveys):
    records = [
        record(f"file {n}", site=site, year=year, issues=issues)
        for n, (site, year, issues) in enumerate(surveys)
    ]
    gathered = gather(records)
    rolled = roll_up(gathered)
    counts = [
        (entry.site, issue) for entry in gathered.entries if entry.counted for issue in entry.record.issues
    ]
    said = {line.label: (line.sites, line.issues) for line in rolled.by_priority if line.issues}
    by_priority = defaultdict(list)
    for site, issue in counts:
        by_priority[issue.priority].append(site)
    assert said == {name: (len(set(sites)), len(sites)) for name, sites in by_priority.items()}
    assert [line.label for line in rolled.by_priority][:4] == list(PRIORITIES)
    assert {line.label: line.issues for line in rolled.by_issue} == Counter(
        issue.kind_of_issue for _, issue in counts
    )
    for line in rolled.by_site:
        of_site = [issue.priority for site, issue in counts if site == line.label]
        assert [line.issues, *(getattr(line, name) for name in BY_PRIORITY)] == [
            len(of_site),
            *map(of_site.count, PRIORITIES),
        ]
    assert {line.label for line in rolled.by_site} == {
        entry.site for entry in gathered.entries if entry.counted
    }
    assert [len(rolled.surveys), len(rolled.issues)] == [
        len(records),
        sum(len(one.issues) for one in records),
    ]
    ids = defaultdict(set)
    years = defaultdict(set)
    for entry in gathered.entries:
        if entry.record.facts.year and not entry.copy:
            years[entry.site].add(entry.record.facts.year)
            ids[entry.site, entry.record.facts.year] |= {issue.id for issue in entry.record.issues}
    several = {site: sorted(seen) for site, seen in years.items() if len(seen) > 1}
    assert {(line.site, line.year) for line in rolled.years} == {
        (site, year) for site, seen in several.items() for year in seen
    }
    for line in rolled.years:
        place = several[line.site].index(line.year)
        if place == 0:
            assert (line.new, line.again, line.gone) == (None, None, None)
        else:
            now, then = ids[line.site, line.year], ids[line.site, several[line.site][place - 1]]
            assert (line.new, line.again, line.gone) == (len(now - then), len(now & then), len(then - now))


def test_an_overview_of_nothing_but_a_broken_file_is_written(tmp_path):
    gathered = gather([NotRead(Path("x.xlsx"), "It is broken.")])
    meant = write_overview(roll_up(gathered), tmp_path / "sites.xlsx")
    assert prove(tmp_path / "sites.xlsx", meant) > 10
    write_data(
        data_tables(roll_up(gathered)), tmp_path / "data", {"title": "x", "created": "2026-09-20T10:00:00Z"}
    )
    assert frictionless.validate(str(tmp_path / "data" / "datapackage.json")).valid


def test_no_published_payload_runs_in_the_overview(tmp_path):
    records = [
        record(f"{n} {text}", site=text, address=text, issues=[("P", "Act now", text)])
        for n, text in enumerate(PAYLOADS)
    ]
    rolled = roll_up(gather(records))
    meant = write_overview(rolled, tmp_path / "sites.xlsx")
    assert prove(tmp_path / "sites.xlsx", meant) > len(PAYLOADS)
    with zipfile.ZipFile(tmp_path / "sites.xlsx") as archive:
        sheets = [archive.read(name) for name in archive.namelist() if name.startswith("xl/worksheets/sheet")]
    assert not any(b"<f>" in sheet for sheet in sheets)
    write_data(data_tables(rolled), tmp_path / "data", {"title": "x", "created": "2026-09-20T10:00:00Z"})
    cells = [
        cell
        for row in csv.reader(StringIO((tmp_path / "data" / "issues.csv").read_text(), newline=""))
        for cell in row
    ]
    assert not any(cell.startswith(("=", "+", "-", "@")) for cell in cells)


def test_more_issues_than_a_sheet_takes_are_said(tmp_path, monkeypatch):
    monkeypatch.setattr("workbook_tools.portfolio.lists.MOST_ISSUES", 3)
    rolled = roll_up(gather([record("a", issues=[(f"P{n}", PRIORITIES[n % 4], "x") for n in range(8)])]))
    meant = write_overview(rolled, tmp_path / "sites.xlsx")["Issues"]
    assert any("The 5 least urgent do not fit here" in str(text) for text in meant.values())
    assert len(rows_of(tmp_path / "sites.xlsx", "Issues")) == 3
    issues = next(table for table in data_tables(rolled) if table.name == "issues")
    assert len(issues.rows) == 8


def says(capsys, *words):
    status = main([str(word) for word in words])
    out, err = capsys.readouterr()
    return status, out, err


def test_what_stands_there_is_not_replaced_and_a_wrong_name_is_said(tmp_path, capsys):
    survey = write_sheets(tmp_path / "one.xlsx", survey_sheets(0))
    for name, part in (("sites.csv", ".xlsx"), ("one.xlsx", "exists already")):
        status, _, err = says(capsys, "overview", tmp_path, "-o", tmp_path / name)
        assert (status, err.count("\n")) == (2, 1)
        assert part in err
    status, _, err = says(capsys, "overview", survey, "-o", survey, "--force")
    assert (status, "is one of the surveys" in err) == (2, True)
    (tmp_path / "data").mkdir()
    (tmp_path / "data" / "mine.txt").write_text("mine")
    status, _, err = says(
        capsys, "overview", tmp_path, "-o", tmp_path / "sites.xlsx", "--data", tmp_path / "data"
    )
    assert (status, "exists already" in err) == (2, True)
    assert not (tmp_path / "sites.xlsx").exists()
    assert (tmp_path / "data" / "mine.txt").read_text() == "mine"


def test_the_day_of_an_inspection_is_a_date_in_the_data(tmp_path):
    rolled = roll_up(gather([record("a", year=2024), record("b", site="Dock", year=None)]))
    write_data(data_tables(rolled), tmp_path / "data", {"title": "x", "created": "2026-09-20T10:00:00Z"})
    days = [row["inspection_date"] for row in data_rows(tmp_path / "data", "surveys")]
    assert days == [None, datetime.date(2024, 5, 1)]


def test_pandas_is_loaded_by_an_overview_alone(tmp_path):
    survey = write_sheets(tmp_path / "one.xlsx", survey_sheets(0))
    program = (
        "import sys; from workbook_tools.cli import main; import workbook_tools.portfolio; "
        f"main(['check', {str(survey)!r}, '--json']); print('pandas' in sys.modules, file=sys.stderr)"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert done.stderr == "False\n"


def test_no_command_has_the_name_of_a_room():
    # A room that is imported becomes an attribute of the package, in the place of the command.
    import workbook_tools

    rooms = {path.parent.name for path in Path(workbook_tools.__file__).parent.glob("*/__init__.py")}
    assert rooms.isdisjoint(workbook_tools.__all__)
