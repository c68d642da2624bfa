"""The data beside the schedule, read by the reference implementation of its standard.

Data Package and Table Schema (DATAPACKAGE-2 in the sources); `frictionless` is the library of
the people who wrote them.
"""

import csv
import hashlib
import json
from io import StringIO
from pathlib import Path
from typing import Any

import frictionless
import pytest
from hypothesis import HealthCheck, given
from hypothesis import strategies as st

from tests.delivery.made_surveys import SHEETS, write_survey
from tests.files.injection_payloads import PAYLOADS
from tests.sampling import sampled_property
from workbook_tools.assessment import Assessment
from workbook_tools.delivery.tables import survey_tables
from workbook_tools.files.csv_text import unguarded
from workbook_tools.files.data_package import write_data
from workbook_tools.survey import read_survey

ABOUT = {"title": "Harbour House", "description": "An invented job.", "created": "2026-09-20T10:00:00Z"}


def data_of(tmp_path: Path, sheets: dict[str, Any] = SHEETS) -> Path:
    survey = read_survey(write_survey(tmp_path / "survey.xlsx", sheets), "office")
    write_data(survey_tables(survey, Assessment(survey)), tmp_path / "data", ABOUT)
    return tmp_path / "data"


def rows_of(data: Path, name: str) -> list[dict[str, Any]]:
    package = frictionless.Package(str(data / "datapackage.json"))
    return [row.to_dict() for row in package.get_resource(name).read_rows()]


def faults_of(data: Path) -> list[Any]:
    report = frictionless.validate(str(data / "datapackage.json"))
    return report.flatten(["type", "message"])


def test_the_package_is_valid_and_every_table_is_in_it(tmp_path):
    data = data_of(tmp_path)
    assert faults_of(data) == []
    package = json.loads((data / "datapackage.json").read_text())
    assert [resource["name"] for resource in package["resources"]] == [
        "job", "rooms", "equipment", "transformers", "clearances", "findings", "photos", "not_inspected", "as_typed",
    ]  # fmt: skip
    assert {f"{resource['name']}.csv" for resource in package["resources"]} == {
        p.name for p in data.glob("*.csv")
    }


def test_a_changed_file_is_found_by_its_hash_and_a_wrong_key_by_its_reference(tmp_path):
    data = data_of(tmp_path)
    rooms = data / "rooms.csv"
    rooms.write_bytes(rooms.read_bytes().replace(b"Boiler", b"Boiled"))
    assert [fault[0] for fault in faults_of(data)] == ["hash-count"]
    package = json.loads((data / "datapackage.json").read_text())
    package["resources"][1].pop("hash")
    rooms.write_bytes(rooms.read_bytes().replace(b"\n1,", b"\n7,"))
    (data / "datapackage.json").write_text(json.dumps(package))
    assert "foreign-key" in [fault[0] for fault in faults_of(data)]


def test_values_have_types_and_what_is_no_value_says_so(tmp_path):
    data = data_of(tmp_path)
    equipment = rows_of(data, "equipment")
    assert [(row["tag"], row["rating_a"], row["phase"]) for row in equipment] == [
        ("DP-1", 400, 3), ("T-1", None, None), ("RP-1", None, 3),
    ]  # fmt: skip
    assert [equipment[0]["volts_to_ground"], equipment[2]["volts_to_ground"]] == [277, 120]
    raw = list(csv.DictReader(StringIO((data / "equipment.csv").read_text(), newline="")))
    assert [row["rating_a"] for row in raw] == ["400", "", "N/V"]
    described = {
        f["name"]: f
        for f in json.loads((data / "datapackage.json").read_text())["resources"][2]["schema"]["fields"]
    }
    assert (described["rating_a"]["type"], described["rating_a"]["title"]) == ("number", "Rating (A)")
    assert described["rating_a"]["description"].endswith("[A]")


def test_a_length_is_there_as_typed_and_in_inches(tmp_path):
    clearances = rows_of(data_of(tmp_path), "clearances")
    first, second = clearances
    assert (first["depth"], first["depth_in"], first["needed_depth_in"]) == ("3'-2\"", 38, 42)
    assert (first["depth_enough"], first["width_enough"]) == (False, True)
    assert (second["depth"], second["depth_in"], second["depth_enough"]) == (None, None, None)
    # 1.07 m / 0.0254 m, exactly by definition of the inch (international yard and pound, 1959; from memory).
    assert float(second["width_in"]) == pytest.approx(1.07 / 0.0254, abs=1e-6)


def test_what_cannot_be_read_stands_as_typed_with_its_place(tmp_path):
    data = data_of(tmp_path)
    typed = {(row["sheet"], row["cell"]): row for row in rows_of(data, "as_typed")}
    assert typed["Clearances", "C3"]["typed"] == "knee high"
    assert typed["Clearances", "C3"]["outcome"] == "unreadable"
    assert (typed["Clearances", "C3"]["table"], typed["Clearances", "C3"]["table_row"]) == ("clearances", 2)
    raw = list(csv.DictReader(StringIO((data / "clearances.csv").read_text(), newline="")))
    assert raw[1]["depth"] == "(not readable)"


def test_an_unknown_column_is_carried_through(tmp_path):
    data = data_of(tmp_path)
    assert [row["extra_key_no"] for row in rows_of(data, "equipment")] == ["'=K7", None, None]
    fields = json.loads((data / "datapackage.json").read_text())["resources"][2]["schema"]["fields"]
    assert [f["title"] for f in fields if f["name"] == "extra_key_no"] == ["Key no."]


def test_rows_are_tied_by_number_however_a_tag_is_typed(tmp_path):
    sheets = SHEETS | {
        "Findings": [
            SHEETS["Findings"][0],
            ["dp - 1", "Open knockout", "", "", ""],
            ["ROOF", "x", "", "", ""],
        ]
    }
    findings = rows_of(data_of(tmp_path, sheets), "findings")
    assert [(row["subject"], row["equipment_row"], row["room_row"]) for row in findings] == [
        ("dp - 1", 1, None),
        ("ROOF", None, 2),
    ]


def test_columns_that_would_have_one_name_get_two(tmp_path):
    headings = ["Room", "Access", "Key no.", "Key (no)", "Schlüssel", "钥匙", "="]
    sheets = SHEETS | {
        "Rooms": [
            headings,
            ["Boiler room", "Entered", "1", "2", "3", "4", "5"],
            ["Roof", "Locked", "", "", "", "", ""],
        ]
    }
    data = data_of(tmp_path, sheets)
    assert faults_of(data) == []
    first = rows_of(data, "rooms")[0]
    extra = [first[name] for name in first if name.startswith("extra_")]
    assert extra == ["1", "2", "3", "4", "5"]
    assert "extra_schlussel" in first


@given(
    st.lists(
        st.tuples(st.sampled_from(PAYLOADS), st.sampled_from([*PAYLOADS, "N/V", "", "12"])),
        min_size=1,
        max_size=6,
    )
)
@sampled_property(max_examples=12, fewest=3, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_whatever_was_typed_the_package_is_valid_and_gives_it_back(tmp_path_factory, pairs):
    rows = [["R", *SHEETS["Equipment"][1][1:9], remark, kva] for remark, kva in pairs]
    headings = [*SHEETS["Equipment"][0][:9], "Remarks", "Short-circuit rating (kA)"]
    data = data_of(tmp_path_factory.mktemp("any"), SHEETS | {"Equipment": [headings, *rows]})
    assert faults_of(data) == []
    typed = [
        row["typed"]
        for row in rows_of(data, "as_typed")
        if row["heading"] == "Remarks" and row["table"] == "equipment"
    ]
    survey = read_survey(data.parent / "survey.xlsx", "office")
    assert [unguarded(text) for text in typed] == [row.remarks.typed for row in survey.equipment]
    assert [unguarded(text).strip() for text in typed] == [remark.strip() for remark, _ in pairs]


def test_the_hash_is_that_of_the_file(tmp_path):
    data = data_of(tmp_path)
    for resource in json.loads((data / "datapackage.json").read_text())["resources"]:
        content = (data / resource["path"]).read_bytes()
        assert resource["hash"] == f"sha256:{hashlib.sha256(content).hexdigest()}"
        assert resource["bytes"] == len(content)
