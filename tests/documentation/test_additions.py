"""What the page for developers says of adding something is true, and it is all there is to do.

Each test does in a copy of the house what the page tells, uses what was added as a user would, and
counts the files that were touched.
"""

import csv
import filecmp
import os
import re
import shutil
import subprocess
import sys

import openpyxl
import pytest

from tests.documentation.readme import ROOT
from workbook_tools.definitions import stock_templates

PAGE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
SHOWN = dict(re.findall(r"^In `([^`]+)`:\n\n```\w+\n(.*?)^```", PAGE, re.MULTILINE | re.DOTALL))
FAULT = re.search(r"in `FAULTS` of `([^`]+)`.*?^```python\n(.*?)^```", PAGE, re.MULTILINE | re.DOTALL)
COPIED = ("workbook_tools", "templates", "tests", "pyproject.toml")


@pytest.fixture
def house(tmp_path):
    copy = tmp_path / "house"
    copy.mkdir()
    for name in COPIED:
        source = ROOT / name
        if source.is_dir():
            shutil.copytree(source, copy / name)
        else:
            shutil.copy(source, copy / name)
    return copy


def add(house, place):
    """Put what the page shows at the end of the file that it names, or into a new one."""
    path = house / place
    before = path.read_text(encoding="utf-8") if path.exists() else ""
    path.write_text(before + SHOWN[place], encoding="utf-8")


def python(house, *arguments):
    done = subprocess.run(
        [sys.executable, *arguments],
        cwd=house,
        # What is compiled is kept for the next call: compiling takes longer than most of them.
        env={**os.environ, "PYTHONPATH": str(house), "PYTHONDONTWRITEBYTECODE": ""},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


def cells(path):
    workbook = openpyxl.load_workbook(path)
    return {sheet.title: list(sheet.iter_rows(values_only=True)) for sheet in workbook}


def touched(house):
    """Return the files that are not as they are in the source tree, but for what the commands wrote beside it."""
    return {
        str(path.relative_to(house))
        for name in COPIED
        for path in ([house / name] if (house / name).is_file() else (house / name).rglob("*"))
        if path.is_file()
        and "__pycache__" not in path.parts
        and not (
            (ROOT / path.relative_to(house)).exists()
            and filecmp.cmp(path, ROOT / path.relative_to(house), shallow=False)
        )
    }


def test_a_column_is_one_table(house):
    add(house, "templates/sheets.toml")
    with open(house / "list.csv", "w", newline="", encoding="utf-8") as file:
        csv.writer(file).writerows([["Tag", "Kind", "Label on the door"], ["LP-1", "Panelboard", "K 4711"]])
    python(house, "-m", "workbook_tools", "new", "--rows", "5", "-o", "survey.xlsx", "--fill", "list.csv")
    rows = cells(house / "survey.xlsx")["Equipment"]
    headings = next(row for row in rows if "Door label" in row)
    at = headings.index("Door label")
    assert [row[at] for row in rows if row[0] == "LP-1"] == ["K 4711"]
    code = (
        "from workbook_tools.survey import read_survey; row = read_survey('survey.xlsx').equipment[0]; "
        "print(row[row.definition.by_field['door_label']].value)"
    )
    assert python(house, "-c", code).strip() == "K 4711"
    every = (
        "from workbook_tools.definitions import *; print(*map(load_template, stock_templates()), sep='\\n')"
    )
    assert python(house, "-c", every).count("Door label") == len(stock_templates())
    assert touched(house) == {"templates/sheets.toml"}


def test_a_finding_is_one_table_and_the_sentences_rewritten(house):
    add(house, "templates/findings.toml")
    (house / "lists").mkdir()
    (house / "lists" / "equipment.csv").write_text("Tag,Kind\nLP-1,Panelboard\n", encoding="utf-8")
    (house / "lists" / "findings.csv").write_text(
        "Subject,Finding\nLP-1,panel behind furniture\nLP-1,Cat asleep on the panel\n", encoding="utf-8"
    )
    python(house, "-m", "workbook_tools", "new", "--rows", "5", "-o", "survey.xlsx", "--fill", "lists")
    assert ("Panel behind furniture",) in {
        (value,) for rows in cells(house / "survey.xlsx").values() for row in rows for value in row
    }
    code = (
        "from workbook_tools import check; "
        "print(*(p.read for p in check('survey.xlsx').problems if p.rule == 'finding-not-in-library'))"
    )
    assert python(house, "-c", code).strip() == "Cat asleep on the panel"
    python(house, "-m", "tests.schedule.golden_sentences")
    assert (
        "\n    Two panels behind furniture.\n" in (house / "tests/schedule/golden_sentences.txt").read_text()
    )
    assert touched(house) == {"templates/findings.toml", "tests/schedule/golden_sentences.txt"}


def test_a_template_is_one_file(house):
    place = "templates/our-firm.toml"
    add(house, place)
    assert "for the surveys of our firm" in python(house, "-m", "workbook_tools", "templates")
    python(house, "-m", "workbook_tools", "new", "--rows", "5", "-o", "survey.xlsx", "--template", "our-firm")
    names = {value for rows in cells(house / "survey.xlsx").values() for row in rows for value in row}
    assert {"Survey workbook of our firm", "nec-2020"} <= names
    assert any("Example Inspections (invented)" in str(name) for name in names)
    assert touched(house) == {place}


def test_a_code_profile_is_one_file(house):
    place = "workbook_tools/electrical/profiles/county-2026.toml"
    add(house, place)
    python(
        house,
        "-m",
        "workbook_tools",
        "new",
        "--rows",
        "5",
        "-o",
        "survey.xlsx",
        "--job",
        "Code profile=county code",
    )
    names = {value for rows in cells(house / "survey.xlsx").values() for row in rows for value in row}
    assert "county-2026" in names
    code = (
        "from workbook_tools.survey import read_survey; from workbook_tools.electrical import load_profile, needed_depth; "
        "job = read_survey('survey.xlsx').job; "
        "print(job.code_profile.value, needed_depth(load_profile(job.code_profile.value), 277, 'Grounded').inches)"
    )
    assert python(house, "-c", code).split() == ["county-2026", "48"]
    assert touched(house) == {place}


def test_a_rule_is_one_module_its_test_and_the_page_rewritten(house):
    module, (tests, fault) = "workbook_tools/rules/age.py", FAULT.groups()
    add(house, module)
    faults = (house / tests).read_text(encoding="utf-8")
    (house / tests).write_text(
        faults.replace("FAULTS = (\n", f"FAULTS = (\n    {fault.strip()},\n", 1), encoding="utf-8"
    )
    python(house, "-m", "workbook_tools.rules.catalogue_page")
    told = python(house, "-m", "workbook_tools", "explain", "transformer-past-life")
    assert "The client reads: 65 years old, past the usual life of a transformer." in told
    chosen = [
        f"tests/rules/test_{name}.py"
        for name in ("catalogue", "catalogue_page", "seeded_faults", "golden_problems")
    ]
    passed = python(
        house, "-m", "pytest", "-q", "-p", "no:cacheprovider", *chosen,
        "-k", "transformer-past-life or catalogue or every_rule or person_has_read or group",
    )  # fmt: skip
    assert int(re.search(r"(\d+) passed", passed)[1]) > 8
    assert touched(house) == {module, tests, "workbook_tools/rules/CATALOGUE.md"}
