"""What Lists holds of a code profile, whatever figures it has: every workbook opens, and says what Python says."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest

from tests.sampling import drawn
from tests.survey_workbook.workbook_lint import lint
from workbook_tools.commands import check
from workbook_tools.commands import new as new_workbook
from workbook_tools.electrical import PROFILE_NAMES
from workbook_tools.electrical.profile_files import PROFILE_FOLDER, read_profile_file, tables_of

YEARS = {"new": "", "old": "1960", "in between": "1990"}
AMENDED = ("as printed", "without metric", "with metric")
# One of each kind of amendment; the edition and the year are drawn.
SHAPES = [(profile, amended, year) for profile in PROFILE_NAMES for amended in AMENDED for year in YEARS]
CASES = drawn("profiles on Lists", SHAPES, lambda shape: shape[1])


def _template(folder: Path, profile: str, amendments: str) -> Path:
    folder.joinpath("county.toml").write_text('basis = "Ordinance 7 of an invented city"\n' + amendments)
    path = folder / "ours.toml"
    path.write_text(
        f'[template]\nextends = "office"\ntitle = "Ours"\ncode_profile = "{profile}"\namendments = "county.toml"\n'
    )
    return path


def _amended(profile: str, metric: bool) -> str:
    """Every length of a profile an inch greater, with the metric figure or without one."""
    tables = tables_of(read_profile_file(PROFILE_FOLDER / f"{profile}.toml"))
    said = []
    for name, table in tables.items():
        inches = {key: value + 1 for key, value in table.items() if key.endswith("_in")}
        if inches:
            said.append(f"[{name}]")
            said += [f"{key} = {value}" for key, value in inches.items()]
            said += [f"{key[:-3]}_mm = {round(value * 25)}" for key, value in inches.items() if metric]
    return "\n".join(said)


@pytest.mark.sampled
@pytest.mark.parametrize(("profile", "amended", "year"), CASES)
def test_any_profile_makes_a_workbook_that_opens(
    profile: str, amended: str, year: str, tmp_path: Path
) -> None:
    changes = "" if amended == "as printed" else _amended(profile, amended == "with metric")
    job = {"Property": "Invented", "Code profile": profile, "Year built": YEARS[year]}
    made = new_workbook(
        tmp_path / "survey.xlsx", template=_template(tmp_path, profile, changes), job=job, rows=2
    )
    assert lint(made.path) == []
    # Another reader opens it too.
    assert "Lists" in openpyxl.load_workbook(made.path, read_only=True).sheetnames
    places = {problem.sheet for problem in check(made.path).problems}
    assert "Lists" not in places
