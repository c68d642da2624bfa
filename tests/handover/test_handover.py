"""The COBie sheets of a delivery: as published, of the demonstration, hostile texts, and of nothing.

The bakery is delivered with them in tests/delivery/test_bakery.py.
"""

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.delivery.made_surveys import SHEETS, deliver, write_survey
from tests.files.injection_payloads import PAYLOADS
from tests.handover.published import COLUMNS, faults, sheets_of
from tests.sampling import sampled_property
from workbook_tools.checking import check_survey
from workbook_tools.cli import main
from workbook_tools.definitions import load_template
from workbook_tools.delivery.proof import prove
from workbook_tools.errors import Unusable
from workbook_tools.handover import build_handover, write_handover
from workbook_tools.handover.model import SHEETS as WRITTEN
from workbook_tools.schedule import build_schedule
from workbook_tools.schedule.model import PhotoEntry
from workbook_tools.survey.from_texts import survey_of_texts
from workbook_tools.survey.reading import read_survey

DEMONSTRATION = Path(__file__).parents[2] / "demo_workbooks"
TEMPLATE = load_template("office")
FILES = {"schedule.xlsx": "Client schedule (workbook)"}


def built(survey):
    checked = check_survey(survey)
    return build_handover(checked, build_schedule(checked), FILES, "photos")


def as_read(handover):
    """Return the sheets as they would be written."""
    return {
        sheet.__name__: [
            {
                column.name: getattr(row, name)
                for column, name in zip(COLUMNS[sheet.__name__], sheet.__slots__, strict=True)
            }
            for row in handover.sheets[sheet]
        ]
        for sheet in WRITTEN
    }


def of_texts(tables, job=None):
    return built(survey_of_texts(TEMPLATE, tables, job or {}, first_row=5))


def attributes_of(sheets, name, sheet="Component"):
    return {
        row["Name"]: (row["Value"], row["Unit"])
        for row in sheets["Attribute"]
        if (row["SheetName"], row["RowName"]) == (sheet, name)
    }


def test_the_demonstration_is_as_published(tmp_path):
    survey = read_survey(DEMONSTRATION / "4-survey-mended.xlsx")
    listed = [row.tag for row in build_schedule(check_survey(survey)).rows[: len(survey.equipment)]]
    prove(tmp_path / "handover.xlsx", write_handover(built(survey), tmp_path / "handover.xlsx"))
    sheets = sheets_of(tmp_path / "handover.xlsx")
    assert faults(sheets) == []
    tags = sorted(row.called for row in survey.equipment)
    assert sorted(row["TagNumber"] for row in sheets["Component"]) == tags
    assert [
        row["Name"] for row in sheets["Component"]
    ] == listed  # what stands beside it is found by its place
    assert {row["Name"]: row["FloorName"] for row in sheets["Space"]} == {
        row.called: row.storey for row in survey.rooms
    }
    assert {row["Name"] for row in sheets["Floor"]} == {row.storey for row in survey.rooms}
    assert {row["Company"] for row in sheets["Contact"][1:]} == {
        row.maker.value for row in survey.equipment if row.maker.value
    }


def test_a_delivery_without_it_has_none(tmp_path):
    survey = write_survey(tmp_path / "survey.xlsx")
    made = deliver(survey, output=tmp_path / "delivery", draft=True)
    assert not (made.folder / "handover.xlsx").exists()
    assert not any("example.invalid" in line for line in made.lines)


def test_the_handover_is_no_survey(tmp_path):
    write_handover(of_texts({}), tmp_path / "handover.xlsx")
    with pytest.raises(Unusable, match="handover workbook"):
        read_survey(tmp_path / "handover.xlsx")


def test_the_same_survey_gives_the_same_bytes(tmp_path):
    survey = write_survey(tmp_path / "survey.xlsx")
    for name in ("one.xlsx", "two.xlsx"):
        write_handover(built(read_survey(survey)), tmp_path / name)
    assert (tmp_path / "one.xlsx").read_bytes() == (tmp_path / "two.xlsx").read_bytes()


def test_a_draft_asked_for_on_the_command_line_says_so(tmp_path, capsys):
    survey = write_survey(tmp_path / "survey.xlsx")
    folder = tmp_path / "delivery"
    assert main(["deliver", str(survey), "--draft", "--without-photos", "--handover", "-o", str(folder)]) == 0
    sheets = sheets_of(folder / "handover.xlsx")
    assert sheets["Facility"][0]["ProjectDescription"].startswith("DRAFT: ")
    assert faults(sheets) == []
    assert "Rows of Component: 3; of Type: 3; of Space: 2." in capsys.readouterr().out


def test_what_is_known_of_a_piece_stands_with_its_unit():
    rows = {
        "rooms": [{"room": "Boiler room", "level": "2", "access": "Entered"}],
        "equipment": [
            {"tag": "DP-1", "kind": "Panelboard", "room": "Boiler room", "fed_from": "Utility", "rating_a": "400 A",
             "voltage": "480Y/277", "phase": "3", "wires": "4", "maker": "Marlowe", "short_circuit_rating_ka": "22"},
            {"tag": "T-1", "kind": "Transformer", "room": "Boiler room", "fed_from": "DP-1", "maker": "N/V"},
        ],
        "transformers": [
            {"tag": "T-1", "kva": "75", "primary_v": "480", "secondary_v": "208Y/120", "impedance_percent": "5.75"}
        ],
    }  # fmt: skip
    sheets = as_read(of_texts(rows))
    assert faults(sheets) == []
    panel = attributes_of(sheets, "DP-1")
    assert panel["Rating"] == ("400", "A")
    assert panel["Voltage"] == ("480Y/277", "V")
    assert (panel["Phases"], panel["Wires"]) == (("3", "n/a"), ("4", "n/a"))
    assert panel["Short-circuit rating"] == ("22", "kA")
    plate = attributes_of(sheets, "T-1")
    assert plate["Rated power"] == ("75", "kVA")
    assert plate["Impedance"] == ("5.75", "%")
    types = {row["Name"]: row for row in sheets["Type"]}
    assert types["Panelboard - Marlowe - 400 A - 480Y/277 V"]["Manufacturer"] == "marlowe@example.invalid"
    assert types["Transformer - 75 kVA - 480 to 208Y/120 V"]["Manufacturer"] == "n/a"
    assert [row["Name"] for row in sheets["Floor"]] == ["Level 2"]
    assert {row["ComponentNames"] for row in sheets["System"] if row["Name"] == "Supply from Utility"} == {
        "DP-1",
        "T-1",
    }


def test_what_was_not_visible_is_not_known_and_says_so():
    sheets = as_read(of_texts({"equipment": [{"tag": "DP-1", "rating_a": "N/V", "voltage": "480Y/277"}]}))
    (rating,) = (row for row in sheets["Attribute"] if row["Name"] == "Rating")
    assert (rating["Value"], rating["Unit"], rating["Description"]) == ("n/a", "A", "Not visible on site.")
    assert "Wires" not in attributes_of(sheets, "DP-1")  # nobody answered


def test_tags_that_are_missing_or_there_twice_are_told_apart_and_told():
    rows = [{"tag": tag, "kind": "Panelboard"} for tag in ("DP-1", "dp-1", "", "")]
    handover = of_texts({"equipment": rows})
    names = [row["Name"] for row in as_read(handover)["Component"]]
    assert sorted(names) == [
        "DP-1", "Panelboard without a tag", "Panelboard without a tag (2)", "dp-1 (2)"
    ]  # fmt: skip
    (told,) = (line for line in handover.said if line.startswith("Names had to"))
    assert "dp-1 of Equipment row 6 is dp-1 (2)" in told
    assert "what has no name of Equipment row 7 is Panelboard without a tag;" in told
    assert "what has no name of Equipment row 8 is Panelboard without a tag (2)" in told


def test_a_photo_of_a_room_stands_with_the_room_and_one_of_nothing_with_the_building():
    rooms = [{"room": "Boiler room", "access": "Entered"}]
    checked = check_survey(survey_of_texts(TEMPLATE, {"rooms": rooms}, {"property": "Quay"}, first_row=5))
    photos = tuple(
        PhotoEntry(
            number=n, caption="", subject=subject, file=f"photo-{n:03}.jpg", picture=b"", width=1, height=1
        )
        for n, subject in enumerate(("Boiler room", "the street"), 1)
    )
    handover = build_handover(checked, replace(build_schedule(checked), photos=photos), FILES, "pictures")
    shown = [
        (row["Name"], row["SheetName"], row["RowName"], row["Directory"], row["File"])
        for row in as_read(handover)["Document"][1:]
    ]
    assert shown == [
        ("Photo 1", "Space", "Boiler room", "pictures", "photo-001.jpg"),
        ("Photo 2", "Facility", "Quay", "pictures", "photo-002.jpg"),
    ]


def test_a_label_plate_of_nothing_in_the_list_is_told():
    plates = [{"tag": "T-1", "kva": "75"}, {"tag": "T-9", "kva": "45"}]
    handover = of_texts({"equipment": [{"tag": "T-1", "kind": "Transformer"}], "transformers": plates})
    assert "Label plates of no transformer in the list, not in the sheets: 1." in handover.said
    assert attributes_of(as_read(handover), "T-1")["Rated power"] == ("75", "kVA")


def test_a_room_whose_name_would_read_as_two_is_told_and_kept_as_typed():
    handover = of_texts(
        {
            "rooms": [{"room": "Riser, north", "access": "Entered"}],
            "equipment": [{"tag": "DP-1", "room": "Riser, north"}],
        }
    )
    sheets = as_read(handover)
    assert [(row["Name"], row["Description"]) for row in sheets["Space"]] == [
        ("Riser; north", "Riser, north")
    ]
    assert sheets["Component"][0]["Space"] == "Riser; north"
    assert any("Riser, north is Riser; north" in line for line in handover.said)


def test_what_the_label_sheet_does_not_know_is_not_known():
    sheets = as_read(
        built(survey_of_texts(TEMPLATE, {}, {"address": "N/V", "building_use": "N/A"}, first_row=5))
    )
    (facility,) = sheets["Facility"]
    assert (facility["SiteDescription"], facility["Description"]) == ("n/a", "n/a")


def test_a_firms_own_address_is_taken_and_no_other_invented():
    firm = replace(TEMPLATE.firm, name="Our firm (invented)", lines=("1 Quay", "mail: desk@firm.example"))
    rows = {"equipment": [{"tag": "DP-1"}]}
    survey = survey_of_texts(replace(TEMPLATE, firm=firm), rows, {}, first_row=5)
    handover = built(survey)
    sheets = as_read(handover)
    assert [row["Email"] for row in sheets["Contact"]] == ["desk@firm.example"]
    assert not any("example.invalid" in line for line in handover.said)


def test_a_survey_with_nothing_has_one_building_and_headings(tmp_path):
    handover = of_texts({})
    write_handover(handover, tmp_path / "handover.xlsx")
    sheets = sheets_of(tmp_path / "handover.xlsx")
    assert faults(sheets) == []
    assert {name for name, rows in sheets.items() if rows} == {"Contact", "Facility", "Document"}
    assert sheets["Facility"][0]["Name"] == "Property not named"
    assert any("has no date" in line for line in handover.said)


def test_hostile_texts_stay_texts(tmp_path):
    rows = [
        [text.strip() or "x", "Panelboard", text, "Utility", "400", "480Y/277", "3", "4", text]
        for text in PAYLOADS
    ]
    path = tmp_path / "handover.xlsx"
    survey = write_survey(
        tmp_path / "survey.xlsx", {**SHEETS, "Equipment": [SHEETS["Equipment"][0][:9], *rows]}
    )
    prove(path, write_handover(built(read_survey(survey)), path))
    sheets = sheets_of(path)
    assert faults(sheets) == []
    assert len(sheets["Component"]) == len(PAYLOADS)


def test_a_long_text_is_cut_and_told():
    handover = of_texts({"equipment": [{"tag": "T" * 300, "room": "R" * 300, "kind": "Panelboard"}] * 2})
    assert faults(as_read(handover)) == []
    assert any(line.startswith("Texts longer than 255") for line in handover.said)


WORDS = st.sampled_from(
    ["DP-1", "dp-1", "DP-1 (2)", "n/a", "N/A", "N/V", "", " ", ",", "A, B", "???", "…", "=1+1", "Roof", "ROOF", "2", "\u200b",
     "Utility", "x" * 260, "x" * 261, "Straße", "STRASSE", "İ"]
) | st.text(max_size=12)  # fmt: skip


@sampled_property(max_examples=300)
@given(
    st.lists(st.fixed_dictionaries({"tag": WORDS, "kind": WORDS, "room": WORDS, "fed_from": WORDS, "maker": WORDS,
                                    "rating_a": WORDS, "voltage": WORDS}), max_size=6),
    st.lists(st.fixed_dictionaries({"room": WORDS, "level": WORDS, "access": WORDS}), max_size=4),
    st.lists(st.fixed_dictionaries({"subject": WORDS, "finding": WORDS, "seen": WORDS}), max_size=3),
    WORDS,
)  # fmt: skip
def test_whatever_was_typed_every_reference_leads_to_a_row(equipment, rooms, findings, name):
    tables = {"equipment": equipment, "rooms": rooms, "findings": findings}
    handover = of_texts(tables, {"property": name, "inspector": name, "address": name})
    sheets = as_read(handover)
    assert faults(sheets) == []
    survey = survey_of_texts(TEMPLATE, tables, {}, first_row=5)
    assert len(sheets["Component"]) == len(survey.equipment)
