"""The pages tell the truth: every command in them runs, every name in them exists."""

from __future__ import annotations

import datetime
import re
import shlex
import shutil
import tomllib
from pathlib import Path

import openpyxl
import pytest

from tests.documentation.readme import ROOT, commands, fenced
from workbook_tools.cli import main

README, DEVELOPERS = ROOT / "README.md", ROOT / "DEVELOPERS.md"
PAGES = [README, DEVELOPERS, ROOT / "demo_workbooks" / "README.md"]


def ours(line: str) -> bool:
    return line.startswith("workbook-tools ")


@pytest.fixture(scope="module")
def desk(tmp_path_factory):
    """Lay out what a reader of the README has at hand: last year's survey and photos, and a folder of surveys."""
    folder = tmp_path_factory.mktemp("desk")
    demo = ROOT / "demo_workbooks"
    shutil.copy(demo / "4-survey-mended.xlsx", folder / "last_year.xlsx")
    shutil.copytree(demo / "photos", folder / "photos")
    (folder / "jobs" / "wharf").mkdir(parents=True)
    shutil.copy(demo / "4-survey-mended.xlsx", folder / "jobs" / "wharf" / "survey.xlsx")
    (folder / "panels.csv").write_text("Panel,Amps,Supply point\nLP-1,225,DP-1\n", encoding="utf-8")
    (folder / "assets.json").write_text('[{"tag": "DP-1", "bus amps": 400}]', encoding="utf-8")
    return folder


TODAY = datetime.date.today().isoformat()
"""Whatever the clock says, the survey was made, reviewed and delivered on that day."""


def inspected_today(survey: Path, target: Path) -> None:
    shutil.copy(survey, target)
    write_beside(target, "Job", **{"Inspection date": TODAY})


def write_beside(workbook: Path, sheet: str, **answers: str) -> None:
    book = openpyxl.load_workbook(workbook)
    for row in book[sheet].iter_rows():
        if row[0].value in answers:
            row[1].value = answers[row[0].value]
    book.save(workbook)


def test_every_command_of_the_readme_runs_in_the_order_shown(desk, monkeypatch, capsys):
    monkeypatch.chdir(desk)
    lines = [line for line in commands(README) if ours(line)]
    assert len(lines) >= 6
    for line in lines:
        if line.startswith("workbook-tools check survey.xlsx"):
            # The inspector and the reviewer have done their parts between the lines.
            inspected_today(ROOT / "demo_workbooks" / "4-survey-mended.xlsx", desk / "survey.xlsx")
        if line.startswith("workbook-tools deliver survey.xlsx --review"):
            write_beside(desk / "review.xlsx", "Sign-off", Reviewer="R. Reviewer (invented)", Date=TODAY)
        status = main(shlex.split(line)[1:])
        said = capsys.readouterr().err
        assert status in ((0, 1) if " check " in line else (0,)), f"{line}\n{said}"
        assert "Traceback" not in said
    assert (desk / "delivery").is_dir()


def test_the_first_two_commands_install_and_do_what_they_promise():
    demo, test = fenced(README)[:2]
    assert "pip install" in demo
    assert "workbook-tools demo demo" in demo
    assert "pip install" in test
    assert "pytest" in test


@pytest.mark.parametrize("page", PAGES, ids=lambda page: str(page.relative_to(ROOT)))
def test_every_link_and_picture_is_there(page):
    links = re.findall(r"\]\(([^)#]+)\)", page.read_text(encoding="utf-8"))
    missing = [link for link in links if "://" not in link and not (page.parent / link.strip("<>")).exists()]
    assert missing == []


@pytest.mark.parametrize("page", PAGES, ids=lambda page: str(page.relative_to(ROOT)))
def test_every_file_and_module_named_is_there(page):
    text = page.read_text(encoding="utf-8")
    named = set(re.findall(r"`((?:workbook_tools|tests|templates|\.ci)/[\w./]+)`", text))
    named -= set(re.findall(r"^In `([^`]+)`:$", text, re.MULTILINE))  # what is to be added
    modules = {
        "workbook_tools/" + m.replace(".", "/")
        for m in re.findall(r"python -m workbook_tools\.([\w.]+)", text)
    }
    missing = [n for n in named if not (ROOT / n).exists()]
    missing += [
        m for m in modules if not (ROOT / f"{m}.py").exists() and not (ROOT / m / "__main__.py").exists()
    ]
    assert missing == []


def test_every_runtime_dependency_is_explained():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    names = [re.split(r"[>=<~\[ ]", requirement)[0] for requirement in project["dependencies"]]
    text = DEVELOPERS.read_text(encoding="utf-8")
    why = text[text.index("## Why each library") : text.index("## Set up, run, prove")]
    assert [name for name in names if f"**{name}**" not in why] == []


def test_every_rule_is_in_the_catalogue_page_and_in_explain():
    from workbook_tools.rules import catalogue
    from workbook_tools.rules.explaining import catalogue_text

    page = (ROOT / "workbook_tools" / "rules" / "CATALOGUE.md").read_text(encoding="utf-8")
    printed = catalogue_text()
    assert [slug for slug in catalogue() if slug not in page or slug not in printed] == []
