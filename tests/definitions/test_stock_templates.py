"""The stock templates: what they hold, how they differ, and the finding library.

Source of the finding library: tests/data/reference/deficiencies.csv, whose `related_sections`
carry a source key of sources.csv and a status. The names, priorities and actions there are our
own judgment; the check is that the library in templates/ says the same, section by section.
"""

from __future__ import annotations

import csv
import re
from pathlib import Path

import pytest

from workbook_tools.definitions import Template, load_template, spelling, stock_templates
from workbook_tools.rules import catalogue

REFERENCE = Path(__file__).parents[1] / "data" / "reference"
STOCK = ["industrial", "office", "retail", "school"]

SPLIT = {
    "DEF-21": ("Cover screws missing or wrong type", ["DEF-21", "DEF-21a"]),
    "DEF-35": ("Circuit directory missing, unreadable or vague", ["DEF-35", "DEF-35a", "DEF-35b"]),
}
"""Two types of the reference are told apart in the library, since what was seen differs."""

REWORDED = {
    # A room of closed equipment is no finding for want of a lock: 110.26(F) counts a locked room as accessible, and
    # asks for no lock; 110.27(C) speaks of exposed live parts.
    "DEF-13": {"section": "110.27(C)"},
    # Age alone is no defect, and 110.17 (2023) speaks of servicing, not of age.
    "DEF-34": {
        "section": "",
        "priority": "Record",
        "why": "Parts and test data may be hard to find; age alone is no defect",
    },
    # A lock with its key in the building leaves a disconnect readily accessible (Article 100).
    "DEF-52": {"why": "May not be operated in time"},
    # Nothing in the schedule rules on what is allowed.
    "DEF-58": {"why": "Debris collects in it"},
}
"""Where an entry says less than the reference, and why."""

HEADINGS = {
    "Job": "Property, Address, Client, Report no., Inspection date, Inspector, Code profile, Dimension unit, Year built, "
    "Building use, Power on during visit, Scope notes",
    "Rooms": "Room, Level, Access, Lighting, Entrances, Remarks, Door opens out, Door hardware, Row check",
    "Equipment": "Tag, Kind, Room, Fed from, Rating (A), Voltage, Phase, Wires, Maker, Main device, Hand motions, "
    "Short-circuit rating (kA), Wiring method, Circuit directory, Touch test, Photos, Remarks, Main or fuse rating (A), Voltage rating, "
    "Available fault current (kA), Fault current date, Volts to ground, Row check",
    "Transformers": "Tag, kVA, Primary (V), Secondary (V), Phase, Impedance (%), Marked direction, Serves, Year made, "
    "Nameplate photo, Remarks, Direction, Turns ratio, Primary A, Secondary A, Highest fault kA, Row check",
    "Clearances": "Tag, Opposite side, Depth, Width, Height, Equipment width, Front projection, Door opens 90°, "
    "Open above, Items above, Items in working space, Remarks, Equipment height, "
    "Needed depth, Needed width, Needed height, Result, Row check",
    "Findings": "Subject, Finding, Count, What was seen, Priority, Action, Photos, Usual priority, Usual action, Row check",
    "Photos": "File, Subject, Caption, Row check",
    "Not inspected": "Item, Reason, Suggested specialist, Row check",
}  # fmt: skip


@pytest.fixture(scope="module", params=STOCK)
def template(request: pytest.FixtureRequest) -> Template:
    return load_template(request.param)


def rows(name: str) -> list[dict[str, str]]:
    with (REFERENCE / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_the_stock_templates_are_listed_with_one_line_each() -> None:
    lines = stock_templates()
    assert sorted(lines.keys() & set(STOCK)) == STOCK
    assert all(20 < len(line) < 110 for line in lines.values())


def test_office_has_the_sheets_and_headings_of_the_survey_workbook() -> None:
    office = load_template("office")
    agreed = {name: headings.split(", ") for name, headings in HEADINGS.items()}
    found = {
        s.name: {c.heading for c in s if c.heading in agreed[s.name]} for s in office.sheets if s.columns
    }
    assert found == {name: set(headings) for name, headings in agreed.items()}
    assert [s.name for s in office.sheets] == ["Start here", *HEADINGS, "Lists"]


@pytest.mark.parametrize(
    ("name", "kind", "source", "use", "columns"),
    [
        ("retail", "Sign disconnect", "Landlord service", "Supermarket", {"equipment": ["tenant", "meter"], "rooms": ["unit"]}),
        ("school", "Stage dimmer rack", "Campus loop", "Secondary school", {"equipment": ["building", "locked"], "rooms": ["building", "pupils"]}),
        ("industrial", "Variable-speed drive", "Plant substation", "Cold store", {"equipment": ["process", "enclosure_type"], "rooms": ["area_class"]}),
    ],
)  # fmt: skip
def test_a_template_differs_where_such_buildings_do(
    name: str, kind: str, source: str, use: str, columns: dict[str, list[str]]
) -> None:
    office, other = load_template("office"), load_template(name)
    assert kind in other.vocabularies["kind"].names
    assert kind not in office.vocabularies["kind"].names
    assert source in other.outside_sources
    assert use in other.vocabularies["building_use"].names
    assert use not in office.vocabularies["building_use"].names
    assert other.findings[0].code != office.findings[0].code or other.findings[1] != office.findings[1]
    assert len(other.findings) == len(office.findings) + 2
    for key, fields in columns.items():
        added = [c.field for c in other.by_key[key] if c.field not in office.by_key[key].by_field]
        assert added == fields
    for sheet in office.sheets:
        assert {c.field for c in sheet} <= {c.field for c in other.by_key[sheet.key]}


def test_industrial_offers_the_voltages_of_plants() -> None:
    offered = load_template("industrial").vocabularies["voltage"].names
    known = {row["canonical"] for row in rows("voltage_systems.csv")}
    assert {"4160", "12470Y/7200", "13800", "600Y/347"} <= set(offered)
    for volts in offered:
        if "Y/" in volts or int(volts.split()[0].split("/")[0]) > 1000:
            assert volts in known


def test_every_sheet_says_what_to_fill_in(template: Template) -> None:
    for sheet in template.sheets:
        for column in sheet.typed:
            assert column.ask[-1] in ".;!?", (sheet.key, column.field)
            assert not column.live


def test_the_library_says_what_the_reference_says() -> None:
    library = {f.code: f for f in load_template("office").findings}
    said = rows("deficiencies.csv")
    assert len(said) == 80
    for row in said:
        name, codes = SPLIT.get(row["id"], (row["name"], [row["id"]]))
        assert name == row["name"]
        for code in codes:
            entry, ours = library[code], REWORDED.get(code, {})
            assert entry.section == ours.get("section", row["related_sections"])
            assert (entry.source, entry.status) == (row["source"], row["status"])
            assert entry.priority == ours.get("priority", row["severity_name"])
            assert entry.category == row["category"]
            if len(codes) == 1:
                assert (entry.name, entry.why) == (row["name"], ours.get("why", row["why_it_matters"]))


def test_every_source_of_the_library_is_listed(template: Template) -> None:
    keys = {row["key"] for row in rows("sources.csv")}
    for entry in template.findings:
        assert entry.source in keys
        assert entry.status in ("seen", "common practice")
        # What nobody read is not given a section.
        assert entry.section or entry.source == "TRADE"


def test_the_client_reads_a_finding_inside_a_sentence(template: Template) -> None:
    for entry in template.findings:
        for phrase in (entry.one, entry.many):
            assert re.fullmatch(r"[a-z][^.;:\n]{5,90}[a-z0-9]", phrase), (entry.code, phrase)
            assert "DEF" not in phrase
        assert entry.one != entry.many, entry.code
        assert entry.name[0].isupper()
        assert entry.action.endswith(".")
        assert template.find_finding(entry.one) == entry
        assert len(entry.also_called) >= 3, entry.code


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("Storage on transformer", "DEF-59"), ("missing screws", "DEF-21"), ("Wrong cover screw", "DEF-21a"),
        ("Open Knock-Out", "DEF-19"), ("no panel schedule", "DEF-35"), ("Circuit directory outdated", "DEF-35a"),
        ("exposed flex", "DEF-69a"), ("rusty panel", "DEF-23"), ("extension cord", "DEF-73"), ("rodents", "DEF-28"),
        ("arc-flash label missing", "DEF-39"), ("double-tapped neutral", "DEF-57"), ("storage in front of panel", "DEF-05"),
        ("missing filler plate", "DEF-18"), ("water leak above panel", "DEF-16"), ("open junction box", "DEF-71"),
    ],
)  # fmt: skip
def test_the_spellings_of_inspectors_are_known(typed: str, code: str, template: Template) -> None:
    found = template.find_finding(typed)
    assert found is not None
    assert found.code == code


def test_what_a_finding_contradicts_exists(template: Template) -> None:
    named = {n for f in template.findings for n in f.disagrees_with}
    assert {n for n in named if "=" not in n} <= set(catalogue())
    assert {"bad-circuit-directory", "no-working-light"} <= named


@pytest.mark.parametrize(
    ("vocabulary", "typed", "name"),
    [
        ("kind", "PNL", "Panelboard"), ("kind", "Xfmr", "Transformer"), ("kind", "safety switch", "Disconnect switch"),
        ("kind", "ATS", "Transfer switch"), ("phase", "3Ø", "3"), ("wires", "4 wire", "4"), ("main_device", "MLO", "Main lugs"),
        ("wiring_method", "GRC", "Rigid conduit"), ("opposite_side", "Condition 2", "Grounded"), ("opposite_side", "CMU", "Grounded"),
        ("touch_test", "did not alert", "No alert"), ("access", "no key", "Locked"), ("yes_no", "Y", "Yes"),
        ("marked_direction", "step down", "Step-down"), ("code_profile", "2020 NEC", "nec-2020"),
    ],
)  # fmt: skip
def test_the_spellings_of_choices_are_known(
    vocabulary: str, typed: str, name: str, template: Template
) -> None:
    found = template.vocabularies[vocabulary].find(typed)
    assert found is not None
    assert found.name == name


@pytest.mark.parametrize("typed", ["yes", "no", "none", "done"])
def test_a_touch_test_that_could_mean_either_is_asked_about(typed: str, template: Template) -> None:
    assert template.vocabularies["touch_test"].find(typed) is None


def test_no_spelling_of_a_sheet_has_two_fields(template: Template) -> None:
    for sheet in template.sheets:
        said = [spelling(s) for c in sheet for s in {spelling(t) for t in (c.heading, *c.also_called)}]
        assert len(said) == len(set(said)), sheet.key
