"""Job details from KEY=VALUE pairs."""

from __future__ import annotations

from pathlib import Path

import pytest

from workbook_tools.definitions import Template, load_template
from workbook_tools.errors import Unusable
from workbook_tools.filling import job_answers, read_fill


@pytest.fixture(scope="module")
def template() -> Template:
    return load_template("office")


@pytest.mark.parametrize(
    ("key", "field"),
    [
        ("Property", "property"), ("property", "property"), ("SITE", "property"), ("inspection_date", "inspection_date"),
        ("Inspection Date:", "inspection_date"), ("Date", "inspection_date"), ("report no", "report_no"), ("Job no.", "report_no"),
        ("prepared for", "client"), ("code edition", "code_profile"), ("year_built", "year_built"),
    ],
)  # fmt: skip
def test_a_key_is_a_heading_a_field_or_a_spelling(key: str, field: str, template: Template) -> None:
    assert job_answers({key: " x "}, template) == {field: "x"}


@pytest.mark.parametrize(
    ("key", "says"),
    [
        ("Propperty", "'Propperty' on the sheet Job. Did you mean Property?"),
        ("Inspecter", "Did you mean Inspector?"),
        ("colour of the door", "It asks for Property, Address, Client"),
        ("", "It asks for Property"),
    ],
)
def test_an_unknown_key_is_answered_with_the_nearest(key: str, says: str, template: Template) -> None:
    with pytest.raises(Unusable) as raised:
        job_answers({key: "x"}, template)
    assert says in str(raised.value)


def test_an_answer_given_twice_is_refused(template: Template) -> None:
    with pytest.raises(Unusable, match=r"Property is given twice \('Site' means it too\)"):
        job_answers({"Property": "a", "Site": "b"}, template)


def test_a_pair_goes_before_the_source(template: Template, tmp_path: Path) -> None:
    (tmp_path / "job.csv").write_text("Item,Value\nProperty,Old name\nClient,A client\n", encoding="utf-8")
    filling = read_fill(tmp_path, template, job={"Property": "New name"})
    assert filling.job == {"property": "New name", "client": "A client"}
