"""Every odd or damaged file is read, and read right."""

import io
from collections import Counter

import pytest

from tests.spreadsheet.odd_files import CORPUS, write_corpus
from tests.spreadsheet.readings import cells_read, damage_read, formulas_read
from workbook_tools.spreadsheet import cell_name, read_picture, read_workbook


@pytest.fixture(scope="module")
def corpus(tmp_path_factory):
    folder = tmp_path_factory.mktemp("odd files")
    return {path.name: path for path in write_corpus(folder)}


def test_the_corpus_is_large_enough():
    assert len(CORPUS) >= 80
    assert min(Counter(name.rpartition(".")[2] for name in CORPUS).values()) >= 1


@pytest.mark.parametrize("name", CORPUS)
def test_an_odd_file_is_read(corpus, name):
    expected = CORPUS[name]
    workbook = read_workbook(corpus[name])
    assert cells_read(workbook) == expected.cells
    assert formulas_read(workbook) == list(expected.formulas)
    assert damage_read(workbook) == sorted(expected.damage)
    assert [sheet.name for sheet in workbook.sheets if sheet.hidden] == list(expected.hidden)
    merged = [
        f"{cell_name(r.top, r.left)}:{cell_name(r.bottom, r.right)}"
        for s in workbook.sheets
        for r in s.merged
    ]
    assert merged == list(expected.merged)
    for sheet in workbook.sheets:
        assert list(sheet.cells) == sorted(sheet.cells)  # in reading order


@pytest.mark.parametrize("name", [name for name, file in CORPUS.items() if file.pictures])
def test_a_picture_is_found_with_its_cell(corpus, name):
    image = pytest.importorskip("PIL.Image")
    workbook = read_workbook(corpus[name])
    assert [cell_name(p.row, p.column) if p.row else "" for p in workbook.pictures] == list(
        CORPUS[name].pictures
    )
    for picture in workbook.pictures:
        assert image.open(io.BytesIO(read_picture(workbook, picture))).size == (1, 1)


@pytest.mark.parametrize("name", [name for name, file in CORPUS.items() if file.damage])
def test_damage_is_told_in_sentences(corpus, name):
    for damage in read_workbook(corpus[name]).damage:
        assert damage.says.endswith(".")
        assert "\n" not in damage.says
        assert damage.says[0].isupper()
