"""Whatever a source holds, every cell of it that is not blank is in the new workbook."""

from __future__ import annotations

from pathlib import Path

import pytest
import xlsxwriter
from hypothesis import HealthCheck, example, given
from hypothesis import strategies as st

from tests.sampling import sampled_property
from workbook_tools.commands import new as new_workbook
from workbook_tools.definitions import load_template
from workbook_tools.filling import Filling, read_fill
from workbook_tools.spreadsheet import read_workbook

TEMPLATE = load_template("retail")
HEADINGS = sorted({
    text for sheet in TEMPLATE.sheets for c in sheet for text in (c.heading, f"{c.heading} (mm)", f"The {c.heading}", *c.also_called)
} | {"Colour", "Key no.", "Total", "x", "Bus (A)"})  # fmt: skip
NAMES = st.sampled_from(
    [*(s.name for s in TEMPLATE.sheets), "Sheet1", "Panels", "Level 2", "Photos (2)", "History notes"]
)
CONTENTS = st.sampled_from([
    "LP-{}", "Boiler {}", "{}", "{} mm", "Panelboard {}", "Total {}", "note {} about the whole of the floor above", "N/V {}", "208Y/120 {}",
])  # fmt: skip

Drawn = dict[str, dict[tuple[int, int], str]]


@st.composite
def sources(draw: st.DrawFn) -> Drawn:
    """Draw sheets with headings somewhere near the top and cells below and beside, each with a number of its own."""
    drawn: Drawn = {}
    number = 0
    for name in draw(st.lists(NAMES, min_size=1, max_size=3, unique_by=str.casefold)):
        texts: dict[tuple[int, int], str] = {}
        top = draw(st.integers(1, 4))
        width = draw(st.integers(1, 7))
        for column in range(1, width + 1):
            if draw(st.booleans()) or column < 3:
                texts[top, column] = draw(st.sampled_from(HEADINGS))
        cells = st.tuples(st.integers(1, top + 5), st.integers(1, width + 1))
        for row, column in sorted(draw(st.sets(cells, max_size=14))):
            if row != top:
                number += 1
                texts[row, column] = draw(CONTENTS).format(f"#{number}#")
        if texts:
            drawn[name] = texts
    return drawn or {"Sheet1": {(1, 1): "#0#"}}


def write(path: Path, drawn: Drawn) -> None:
    with xlsxwriter.Workbook(path) as book:
        for name, texts in drawn.items():
            sheet = book.add_worksheet(name)
            for (row, column), text in texts.items():
                sheet.write_string(row - 1, column - 1, text)


def contents(drawn: Drawn) -> list[str]:
    return [text for texts in drawn.values() for text in texts.values() if "#" in text]


def said_in(filling: Filling) -> list[str]:
    texts = [text for rows in filling.tables.values() for row in rows for text in row.values()]
    texts += [*filling.job.values(), *(part for pair in filling.extra_job for part in pair)]
    sheets = [*filling.extra_sheets, *([filling.how_filled] if filling.how_filled else [])]
    texts += [text for sheet in sheets for row in sheet.rows for text in row]
    return texts


@sampled_property(
    max_examples=150,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(sources())
@example({"Equipment": {(1, 1): "circuit index", (1, 2): "ph", (2, 1): "LP-#1#", (3, 1): "LP-#2#"}})
@example({"Equipment": {(1, 1): "above equipment", (1, 2): "above equipment", (1, 3): "circuit index", (2, 1): "LP-#1#"}})  # fmt: skip
@example({"Rooms": {(1, 1): "LP-#5#", (4, 1): "Touch test", (4, 2): "% imp", (4, 3): "transformer", (4, 4): "Kind"}})  # fmt: skip
def test_every_cell_of_a_source_is_in_the_filling(tmp_path: Path, drawn: Drawn) -> None:
    write(tmp_path / "source.xlsx", drawn)
    filling = read_fill(tmp_path / "source.xlsx", TEMPLATE)
    said = said_in(filling)
    for text in contents(drawn):
        kept = [other for other in said if text.partition(": ")[2] in other and text in other]
        assert kept, text
    fields = {sheet.key: {c.field for c in sheet.typed} for sheet in TEMPLATE.sheets}
    for key, rows in filling.tables.items():
        allowed = fields[key] | set(filling.extra_columns.get(key, ()))
        assert all(row.keys() <= allowed for row in rows)
        assert not fields[key] & set(filling.extra_columns.get(key, ()))


@sampled_property(
    max_examples=6,
    fewest=2,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(sources())
def test_every_cell_of_a_source_is_in_the_new_workbook(tmp_path: Path, drawn: Drawn) -> None:
    write(tmp_path / "source.xlsx", drawn)
    made = tmp_path / "new.xlsx"
    new_workbook(made, template="retail", fill=tmp_path / "source.xlsx", rows=3, force=True)
    written = [cell.text for sheet in read_workbook(made).sheets for cell in sheet.cells.values()]
    for text in contents(drawn):
        assert any(text in other for other in written), text


@pytest.mark.parametrize("count", [1, 400])
def test_there_are_rows_for_every_row_of_the_source(count: int, tmp_path: Path) -> None:
    lines = ["Panel,Amps", *(f"LP-{n},225" for n in range(count))]
    (tmp_path / "list.csv").write_text("\n".join(lines), encoding="utf-8")
    filling = read_fill(tmp_path / "list.csv", TEMPLATE)
    assert len(filling.tables["equipment"]) == count
    new_workbook(tmp_path / "new.xlsx", template="retail", fill=tmp_path / "list.csv", rows=3)
    sheet = next(s for s in read_workbook(tmp_path / "new.xlsx").sheets if s.name == "Equipment")
    assert sum(c.text.startswith("LP-") for (_, column), c in sheet.cells.items() if column == 1) == count
