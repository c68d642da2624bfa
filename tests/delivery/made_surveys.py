"""Small survey workbooks as somebody might send them back, for the tests of delivery."""

import datetime
from collections.abc import Mapping, Sequence
from io import BytesIO
from pathlib import Path
from typing import Any

import xlsxwriter
from openpyxl import Workbook, load_workbook
from PIL import Image

from workbook_tools import commands
from workbook_tools.delivery import Delivered

__all__ = ["DAY", "SHEETS", "deliver", "edit_review", "picture", "review_and_sign", "sign", "table",
           "write_survey"]  # fmt: skip

DAY = datetime.date(2026, 11, 1)
"""The day on which the tests deliver, whatever the clock says."""


def deliver(survey: Path, **options: Any) -> Delivered:
    """Deliver on `DAY`, and without photos where no folder is given."""
    options.setdefault("without_photos", "photos" not in options)
    return commands.deliver(survey, **{"today": DAY, **options})


SHEETS: dict[str, list[list[str]]] = {
    "Job": [["Property", "Harbour House (invented)"], ["Inspection date", "2026-09-16"],
            ["Inspector", "A. Inspector (invented)"], ["Code profile", "nec-2023"]],
    "Rooms": [["Room", "Access"], ["Boiler room", "Entered"], ["Roof", "Locked"]],
    "Equipment": [
        ["Tag", "Kind", "Room", "Fed from", "Rating (A)", "Voltage", "Phase", "Wires", "Maker", "Photos", "Key no."],
        ["DP-1", "Panelboard", "Boiler room", "Utility", "400", "480Y/277", "3", "4", "Marlowe", "QS_0104.jpg", "=K7"],
        ["T-1", "Transformer", "Boiler room", "DP-1", "", "", "", "", "Marlowe", "qs_0107", ""],
        ["RP-1", "Panelboard", "Boiler room", "T-1", "N/V", "208Y/120", "3", "4", "N/V", "QS_0104", ""],
    ],
    "Transformers": [
        ["Tag", "kVA", "Primary (V)", "Secondary (V)", "Phase", "Impedance (%)", "Nameplate photo"],
        ["T-1", "75", "480", "208Y/120", "3", "5.0", "QS_0108"],
    ],
    "Clearances": [
        ["Tag", "Opposite side", "Depth", "Width", "Height", "Equipment width"],
        ["DP-1", "Grounded", "3'-2\"", "36", "80", "24"],
        ["RP-1", "Clear", "knee high", "1.07 m", "N/V", "20"],
    ],
    "Findings": [
        ["Subject", "Finding", "Count", "What was seen", "Photos"],
        ["T-1", "Storage on transformer", "", "floor sealer on top", "QS_0107.jpg; QS_0109"],
        ["DP-1", "Open knockout", "2", "=1+1", "QS_0110"],
    ],
    "Photos": [["File", "Subject", "Caption"], ["QS_0104", "DP-1", "The panel in the boiler room"]],
    "Not inspected": [["Item", "Reason", "Suggested specialist"], ["Roof", "Locked", ""]],
}  # fmt: skip
"""One invented job, the heading row first; Job has labels and answers."""


def picture(colour: str = "red", size: tuple[int, int] = (80, 60), kind: str = "JPEG") -> bytes:
    file = BytesIO()
    Image.new("RGB", size, colour).save(file, kind)
    return file.getvalue()


def write_survey(
    path: Path,
    sheets: Mapping[str, Sequence[Sequence[str]]] = SHEETS,
    pictures: Sequence[tuple[Any, ...]] = (),
) -> Path:
    """Write the sheets; `pictures` are (sheet, row, column, bytes, "floating" or "in the cell"), from 0."""
    with xlsxwriter.Workbook(path, {"strings_to_formulas": False, "strings_to_urls": False}) as workbook:
        written = {}
        for name, rows in sheets.items():
            written[name] = workbook.add_worksheet(name)
            for at, row in enumerate(rows):
                for column, text in enumerate(row):
                    if text:
                        written[name].write_string(at, column, text)
        for name, row, column, content, how in pictures:
            options = {"image_data": BytesIO(content)}
            insert = written[name].insert_image if how == "floating" else written[name].embed_image
            insert(row, column, "picture.jpg", options)
    return path


def review_and_sign(
    survey: Path,
    review: Path,
    answers: Mapping[str, tuple[str, str]] | None = None,
    *,
    reviewer: str = "R. Reviewer (invented)",
    date: str = "2026-09-20",
    photos: Path | None = None,
    template: Path | None = None,
) -> Path:
    """Check a survey, answer by rule, by class or "*" for the rest, and sign, as a reviewer does in a spreadsheet program."""
    commands.check(survey, output=review, photos=photos, template=template)
    workbook = load_workbook(review)
    headings, rows = table(workbook["Problems"])
    given = answers or {}
    for row in rows:
        rule, class_ = (row[headings[name]].value for name in ("Rule", "Class"))
        if rule is not None:
            disposition, reason = given.get(rule) or given.get(class_) or given.get("*", ("", ""))
            row[headings["Disposition"]].value = disposition
            row[headings["Reason"]].value = reason
    _sign(workbook, reviewer, date)
    workbook.save(review)
    return review


def sign(review: Path, reviewer: str = "R. Reviewer (invented)", date: str = "2026-09-20") -> Path:
    """Write a name and a date on the sheet Sign-off."""
    workbook = load_workbook(review)
    _sign(workbook, reviewer, date)
    workbook.save(review)
    return review


def _sign(workbook: Workbook, reviewer: str, date: str) -> None:
    for row in workbook["Sign-off"].iter_rows():
        for label, answer in (("Reviewer", reviewer), ("Date", date)):
            if row[0].value == label:
                row[1].value = answer


def edit_review(review: Path, rule: str, **cells: str) -> Path:
    """Write cells of the first row of a rule, by heading with _ for blanks."""
    workbook = load_workbook(review)
    headings, rows = table(workbook["Problems"])
    row = next(row for row in rows if row[headings["Rule"]].value == rule)
    for heading, text in cells.items():
        row[headings[heading.replace("_", " ")]].value = text
    workbook.save(review)
    return review


def table(sheet: Any) -> tuple[dict[str, int], list[Any]]:
    """Return the columns of a sheet by heading, from 0, and its rows."""
    rows = list(sheet.iter_rows())
    first = next(n for n, row in enumerate(rows) if any(cell.value == "Disposition" for cell in row))
    return {cell.value: n for n, cell in enumerate(rows[first]) if cell.value}, rows[first + 1 :]
