"""Nothing that a person typed becomes a formula, a link or markup in the client's program.

The texts are published ones, with their sources, in tests/files/injection_payloads.py.
"""

import re
import zipfile

import pytest
from openpyxl import load_workbook

from tests.files.injection_payloads import PAYLOADS
from workbook_tools.checking import check_survey
from workbook_tools.delivery.proof import prove
from workbook_tools.rules.rule import as_typed
from workbook_tools.rules.typed import survey_of
from workbook_tools.schedule import build_schedule, write_schedule
from workbook_tools.schedule.recorder import printable

ODD = ("http://example.org", "mailto:a@example.org", "internal:Issues!A1", "file:///etc/hosts", "_x0041_ &amp; <b>", "a\x07b\x00c",
       "\ud800 half", "\ufffe", "'quoted", "  spaces  ", "1E3", "TRUE", "007", "x" * 40_000)  # fmt: skip


def everywhere(texts):
    job = dict.fromkeys(("property", "address", "client", "inspector", "scope_notes"), texts[0])
    return survey_of(
        as_typed(
            job=job,
            rooms=[{"room": t, "level": t, "access": "Locked", "remarks": t} for t in texts],
            equipment=[
                {"tag": t, "kind": t, "room": t, "fed_from": t, "rating_a": t, "voltage": t, "maker": t}
                for t in texts
            ],
            transformers=[
                {"tag": t, "kva": t, "primary_v": t, "secondary_v": t, "remarks": t} for t in texts
            ],
            clearances=[
                {"tag": t, "depth": t, "width": t, "items_above": t, "items_in_space": t, "remarks": t}
                for t in texts
            ],
            findings=[{"subject": t, "finding": t, "seen": t, "action": t} for t in texts],
            not_inspected=[{"item": t, "reason": t, "specialist": t} for t in texts],
        )
    )


GROUPS = [PAYLOADS[start : start + 18] for start in range(0, len(PAYLOADS), 18)] + [ODD[:-1], ODD[-1:]]


@pytest.mark.parametrize("texts", GROUPS, ids=range(len(GROUPS)))
def test_a_typed_text_stays_a_text(texts, tmp_path):
    checked = check_survey(everywhere(texts))
    schedule = build_schedule(checked, conditions=checked.problems, questions=checked.problems, draft=True)
    path = tmp_path / "schedule.xlsx"
    meant = write_schedule(schedule, path)
    assert prove(path, meant) > 50
    shown = 0
    for sheet in load_workbook(path):
        for row in sheet.iter_rows():
            for cell in row:
                assert cell.data_type != "f"
                # A link leads to a cell of this workbook that the tool wrote, and says what the cell says.
                assert cell.hyperlink is None or (
                    cell.hyperlink.target is None
                    and re.fullmatch(r"'(Schedule|Issues|Photos)'!A[0-9]+", cell.hyperlink.location)
                )
                shown += cell.data_type == "s"
    assert shown > 50
    with zipfile.ZipFile(path) as package:
        assert not any("externalLink" in name for name in package.namelist())


def test_printable_keeps_what_a_workbook_can_hold():
    assert printable("µ½ é 漢字 \U0001f50c") == "µ½ é 漢字 \U0001f50c"
    assert printable("a\x00b\x1fc\ud83dd") == "abcd"
