"""Volts to ground through several feeders: what the tool and the sheet make of them.

Source: NFPA70-2023 in sources.csv, Article 100, voltage to ground: a grounded circuit counts from
the conductor to the point that is grounded, an ungrounded one the highest voltage to any other
conductor. A transformer's secondary is a system of its own (a separately derived system, there too).
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.office.programs import Office
from workbook_tools.assessment import STEPS_UP, Assessment
from workbook_tools.definitions import load_template
from workbook_tools.live_cells.results import LiveResults
from workbook_tools.live_cells.wording import READ_AT_CHECK
from workbook_tools.rules.assess import assess
from workbook_tools.spreadsheet import position, read_workbook
from workbook_tools.survey import survey_of_texts
from workbook_tools.survey_workbook.layout import Layout
from workbook_tools.survey_workbook.writing import write_survey_workbook

Rows = list[dict[str, str]]


def board(tag: str, fed_from: str, voltage: str = "480", wires: str = "3") -> dict[str, str]:
    return {"tag": tag, "kind": "Panelboard", "fed_from": fed_from, "voltage": voltage, "phase": "3", "wires": wires}  # fmt: skip


def unit(tag: str, fed_from: str) -> dict[str, str]:
    return {"tag": tag, "kind": "Transformer", "fed_from": fed_from}


def plate(tag: str, primary: str, secondary: str) -> dict[str, str]:
    return {"tag": tag, "kva": "75", "primary_v": primary, "secondary_v": secondary, "phase": "3"}


WYE = board("MSB", "Utility", "480Y/277", "4")
DELTA = board("MSB", "Utility")

# Equipment, label plates, and the volts to ground of the last row of Equipment.
CASES: dict[str, tuple[Rows, Rows, float]] = {
    "three-wire board on a wye": ([WYE, board("P-1", "MSB")], [], 277),
    "what is fed from that board": ([WYE, board("P-1", "MSB"), board("CP-1", "P-1")], [], 277),
    "the same with no neutral grounded": ([DELTA, board("P-1", "MSB"), board("CP-1", "P-1")], [], 480),
    "primary fed from a wye": ([WYE, unit("T-1", "MSB")], [plate("T-1", "480", "208Y/120")], 277),
    "primary fed through a three-wire board": (
        [WYE, board("P-1", "MSB"), unit("T-1", "P-1")],
        [plate("T-1", "480 delta", "208Y/120")],
        277,
    ),
    "primary fed from a delta": ([DELTA, unit("T-1", "MSB")], [plate("T-1", "480", "208Y/120")], 480),
    "the higher side is the secondary": (
        [board("LP", "Utility", "208Y/120", "4"), unit("T-1", "LP")],
        [plate("T-1", "208", "480Y/277")],
        277,
    ),
    "behind a wye secondary": (
        [unit("T-1", "Utility"), board("P-1", "T-1"), board("CP-1", "P-1")],
        [plate("T-1", "13.2kV", "480Y/277")],
        277,
    ),
    "a secondary does not take the primary's grounding": (
        [WYE, unit("T-1", "MSB"), board("P-1", "T-1"), board("CP-1", "P-1")],
        [plate("T-1", "480", "480 delta")],
        480,
    ),
    "source with a voltage that cannot feed it": ([board("LP", "Utility", "208Y/120", "4"), board("P-1", "LP")], [], 480),
    "a circle": ([board("P-1", "P-3"), board("P-2", "P-1"), board("P-3", "P-2")], [], 480),
    "fed from itself": ([board("P-1", "P-1")], [], 480),
    "as far up as is looked": (
        [WYE, *(board(f"P-{n}", f"P-{n - 1}" if n > 1 else "MSB") for n in range(1, STEPS_UP + 1))],
        [],
        277,
    ),
    "further up than is looked": (
        [WYE, *(board(f"P-{n}", f"P-{n - 1}" if n > 1 else "MSB") for n in range(1, STEPS_UP + 2))],
        [],
        480,
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", CASES)
def test_the_tool(name: str) -> None:
    equipment, plates, volts = CASES[name]
    survey = survey_of_texts(
        load_template("office"), {"equipment": equipment, "transformers": plates}, {}, first_row=3
    )
    last = survey.equipment[-1]
    assert Assessment(survey).equipment(last).volts_to_ground == volts
    assert LiveResults(assess(survey)).volts_to_ground(last) == volts


@pytest.mark.office
@pytest.mark.timeout(120)
def test_the_sheet(office: Office, tmp_path: Path) -> None:
    template = load_template("office")
    tables: dict[str, Rows] = {"equipment": [], "transformers": []}
    last: dict[str, int] = {}
    for number, (name, (equipment, plates, _)) in enumerate(CASES.items(), 1):
        for key, rows in (("equipment", equipment), ("transformers", plates)):
            tables[key] += [
                {field: _apart(number, field, text) for field, text in row.items()} for row in rows
            ]
        last[name] = len(tables["equipment"]) + 2
    path = tmp_path / "survey.xlsx"
    write_survey_workbook(path, template, tables, {}, rows=1)
    table = Layout(template, {}, {sheet.key: 1 for sheet in template.sheets}).tables["equipment"]
    sheets = {sheet.name: sheet for sheet in read_workbook(office.recalculate(path)).sheets}
    cells, letters = sheets[table.sheet.name].cells, table.letters["volts_to_ground"]
    shown = {name: cells[position(f"{letters}{row}")].value for name, row in last.items()}
    assert shown == {name: volts for name, (_, _, volts) in CASES.items()}


def _apart(number: int, field: str, text: str) -> str:
    """Give the tags of each case names of their own."""
    return f"{text}-{number}" if field in ("tag", "fed_from") and text != "Utility" else text


@pytest.mark.office
@pytest.mark.timeout(120)
def test_a_firms_own_kinds_are_treated_as_what_they_are_like(office: Office, tmp_path: Path) -> None:
    firm = tmp_path / "firm.toml"
    firm.write_text(
        '[template]\nextends = "base"\ntitle = "Survey of an invented firm"\n[vocabulary.kind]\nchoices = ['
        '{ name = "Isolation unit", like = "Transformer" }, { name = "Cut-out", like = "Service disconnect" }]\n'
    )
    template = load_template(firm)
    equipment = [
        WYE | {"kind": "Cut-out"},
        unit("T-1", "MSB") | {"kind": "Isolation unit"},
        board("P-1", "T-1"),
        board("CP-1", "P-1"),
    ]
    tables = {"equipment": equipment, "transformers": [plate("T-1", "480", "480 delta")]}
    path = tmp_path / "survey.xlsx"
    write_survey_workbook(path, template, tables, {}, rows=1)
    results = LiveResults(assess(survey_of_texts(template, tables, {}, first_row=3)))
    table = Layout(template, {}, {sheet.key: 1 for sheet in template.sheets}).tables["equipment"]
    sheets = {sheet.name: sheet for sheet in read_workbook(office.recalculate(path)).sheets}
    cells = sheets[table.sheet.name].cells
    for row in results.survey.equipment:
        for field, wanted in results.row(row).items():
            assert cells[position(f"{table.letters[field]}{row.number}")].value == wanted
    first, *others = (results.row(row) for row in results.survey.equipment)
    assert "Hand motions" in str(first["row_check"])
    assert [row["volts_to_ground"] for row in others] == [480, 480, 480]


@pytest.mark.parametrize("above", [{"voltage": "four eighty"}, {"kind": "dry thing"}])
def test_what_the_sheet_cannot_read_further_up_is_left_to_the_check(above: dict[str, str]) -> None:
    equipment = [WYE | above, board("P-1", "MSB"), board("CP-1", "P-1")]
    results = LiveResults(
        assess(survey_of_texts(load_template("office"), {"equipment": equipment}, {}, first_row=3))
    )
    assert results.volts_to_ground(results.survey.equipment[-1]) == READ_AT_CHECK


def test_a_kind_in_words_of_somebodys_own_does_not_blank_the_volts() -> None:
    equipment = [WYE | {"kind": "cupboard"}, board("P-1", "MSB"), board("CP-1", "P-1")]
    survey = survey_of_texts(load_template("office"), {"equipment": equipment}, {}, first_row=3)
    results = LiveResults(assess(survey))
    assert [results.volts_to_ground(row) for row in survey.equipment] == [277.0] * 3
