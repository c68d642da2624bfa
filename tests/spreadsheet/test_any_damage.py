"""Whatever happened to a file, reading ends in a Workbook or in one sentence.

The mutants are seeded, so that a failure can be made again from its name and seed.
"""

import contextlib
import datetime
import functools
import io
import random
import tempfile
import zipfile
from pathlib import Path

import pytest
import xlsxwriter
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.fuzz.mutations import MUTATIONS, mutate, rewritten
from tests.sampling import drawn, in_groups_of, sampled_property
from tests.spreadsheet.odd_files import CORPUS
from tests.spreadsheet.odd_xml import PNG
from workbook_tools.errors import Unusable
from workbook_tools.spreadsheet import Workbook, read_picture, read_workbook

BREAK_THE_ZIP = {"flip_bits", "flip_directory_bits", "cut_off", "cut_out", "zero_block", "junk_around"}
OTHERS = (
    *("shapes.ods", "dates-and-times.ods", "floating-pictures.xlsx"),
    *("strict.xlsx", "mixed-column.xlsx", "prefixed.xlsx"),
)
DRAWN = {way: drawn("damaged parts", range(24), in_groups_of(8, range(24))) for way in MUTATIONS}


def survey(path: Path) -> bytes:
    """Make a workbook with a bit of everything."""
    (path.parent / "dot.png").write_bytes(PNG)
    with xlsxwriter.Workbook(path) as book:
        typed, day = book.add_format({"num_format": "@"}), book.add_format({"num_format": "yyyy-mm-dd"})
        sheet = book.add_worksheet("Equipment")
        for row in range(30):
            sheet.write_row(row, 0, [f"DP-{row}", 1600 + row, "480Y/277", row % 2 == 0], typed)
            sheet.write_formula(row, 5, f"=B{row + 1}*2", None, 2 * (1600 + row))
        sheet.write_datetime("H1", datetime.datetime(2026, 11, 3), day)
        sheet.write_rich_string("H2", "208Y", book.add_format({"bold": True}), "/120")
        sheet.merge_range("H4:I5", "Title")
        sheet.embed_image("J1", path.parent / "dot.png")
        sheet.insert_image("J3", path.parent / "dot.png")
        book.add_worksheet("Lists").hide()
        book.set_custom_property("workbook-schema", "1")
    return path.read_bytes()


@functools.cache
def originals() -> tuple[bytes, ...]:
    """Give the healthy files; a function, so that no failure prints them."""
    with tempfile.TemporaryDirectory() as folder:
        made = survey(Path(folder) / "survey.xlsx")
    return (made, made, made, *(CORPUS[name].content for name in OTHERS))


@pytest.fixture(scope="module")
def scratch(tmp_path_factory):
    return tmp_path_factory.mktemp("mutants") / "mutant.xlsx"


def reading(path: Path, content: bytes) -> Workbook | str:
    """Read twice and compare; the sentence when refused."""
    path.write_bytes(content)
    outcomes: list[Workbook | str] = []
    for _ in range(2):
        try:
            workbook = read_workbook(path)
        except Unusable as refusal:
            outcomes.append(str(refusal))
            continue
        outcomes.append(workbook)
        for picture in workbook.pictures:
            with contextlib.suppress(Unusable):
                read_picture(workbook, picture)
    assert outcomes[0] == outcomes[1]
    assert path.read_bytes() == content
    return outcomes[0]


@pytest.mark.sampled
@pytest.mark.parametrize("way", sorted(MUTATIONS))
def test_a_mutant_is_read_or_refused(scratch, way):
    readings, seeds = 0, DRAWN[way]
    for seed in seeds:
        rng = random.Random(seed)
        outcome = reading(scratch, MUTATIONS[way](rng.choice(originals()), rng))
        readings += isinstance(outcome, Workbook)
        if isinstance(outcome, str):
            assert outcome.endswith(".")
            assert "\n" not in outcome
    if way not in BREAK_THE_ZIP | {"doctype"}:
        assert readings >= len(seeds) / 6  # what reaches the reader is mostly read, not refused


def test_the_same_seed_gives_the_same_mutant():
    for way, mutation in MUTATIONS.items():
        assert mutation(originals()[0], random.Random(5)) == mutation(originals()[0], random.Random(5)), way


def test_every_way_changes_something():
    for way, mutation in MUTATIONS.items():
        assert any(mutation(originals()[0], random.Random(seed)) != originals()[0] for seed in range(9)), way


@sampled_property(max_examples=150)
@given(which=st.integers(0, 8), seed=st.integers(0, 2**32), times=st.integers(1, 4))
def test_several_mutations_are_read_or_refused(scratch, which, seed, times):
    rng = random.Random(seed)
    content = originals()[which % len(originals())]
    for _ in range(times):
        content = mutate(content, rng)
    assert isinstance(reading(scratch, content), Workbook | str)


@sampled_property(max_examples=150)
@given(
    which=st.integers(0, 8),
    edits=st.lists(
        st.tuples(st.floats(0, 1), st.integers(0, 8), st.binary(max_size=6)), min_size=1, max_size=5
    ),
)
def test_any_edit_of_the_sheet_is_read_or_refused(scratch, which, edits):
    """Bytes replaced anywhere in the sheets' XML, in a sound zip: shrinks to the smallest edit."""

    def changed(parts):
        result = []
        for name, content in parts:
            if "sheet" in name or name == "content.xml":
                for where, length, new in edits:
                    place = int(where * len(content))
                    content = content[:place] + new + content[place + length :]
            result.append((name, content))
        return result

    content = rewritten(originals()[which % len(originals())], changed)
    assert isinstance(reading(scratch, content), Workbook | str)


@settings(max_examples=100, deadline=None)
@given(content=st.binary(max_size=400))
def test_any_bytes_are_refused_in_one_sentence(scratch, content):
    outcome = reading(scratch, content)
    assert isinstance(outcome, str)
    assert outcome.startswith("mutant.xlsx ")


@pytest.mark.sampled
@pytest.mark.parametrize(
    "name", drawn("odd files read twice", sorted(CORPUS), in_groups_of(6, sorted(CORPUS)))
)
def test_an_odd_file_reads_the_same_twice(scratch, name):
    assert isinstance(reading(scratch, CORPUS[name].content), Workbook)


def test_a_mutant_of_a_zip_is_a_sound_zip_where_it_says_so():
    """Changes to parts must reach the reader, not be caught by the checksum."""
    for way in set(MUTATIONS) - BREAK_THE_ZIP:
        content = MUTATIONS[way](originals()[0], random.Random(1))
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            assert archive.testzip() is None, way
