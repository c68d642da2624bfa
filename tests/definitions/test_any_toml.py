"""Whatever a template file holds, loading it ends in a Template or in one sentence."""

from __future__ import annotations

import copy
import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given
from hypothesis import strategies as st

from tests.sampling import drawn, in_groups_of, sampled_property
from workbook_tools.definitions import Template, load_template
from workbook_tools.definitions.checks import Checker
from workbook_tools.definitions.loading import _lay_over
from workbook_tools.definitions.stock import stock_folder
from workbook_tools.errors import Unusable

BASE = tomllib.loads((stock_folder() / "base.toml").read_text(encoding="utf-8"))
for included in BASE.pop("include"):
    BASE |= tomllib.loads((stock_folder() / included).read_text(encoding="utf-8"))
BASE["findings"] = BASE["findings"][:12]
TEXT = "".join(
    (stock_folder() / name).read_text(encoding="utf-8") for name in ("retail.toml", "industrial.toml")
).replace("[template]", "[template_2]", 1)

VALUES = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=6) | st.sampled_from(["tag", "kind", "Yes"]),
    lambda inner: st.lists(inner, max_size=3)
    | st.dictionaries(st.sampled_from(["name", "field", "code", "after", "remove", "columns", "choices", "x"]), inner, max_size=3),
    max_leaves=6,
)  # fmt: skip


def places(table: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    found = [path] if path else []
    entries = (
        table.items() if isinstance(table, dict) else enumerate(table) if isinstance(table, list) else ()
    )
    for key, value in entries:
        found += places(value, (*path, key))
    return found


PLACES = places(BASE)


def ends_in_a_template_or_a_sentence(load: Any) -> None:
    try:
        template = load()
    except Unusable as error:
        said = str(error)
        assert said.endswith(".")
        assert "\n" not in said
        assert len(said) < 2500
    else:
        assert isinstance(template, Template)
        assert template.by_key["equipment"].by_field["tag"].heading


@sampled_property(max_examples=400)
@given(st.lists(st.tuples(st.sampled_from(PLACES), VALUES, st.booleans()), min_size=1, max_size=3))
def test_a_table_with_wrong_values_ends_in_a_sentence(
    changes: list[tuple[tuple[Any, ...], Any, bool]],
) -> None:
    table = copy.deepcopy(BASE)
    for path, value, drop in changes:
        at = table
        try:
            for key in path[:-1]:
                at = at[key]
            if drop:
                del at[path[-1]]
            else:
                at[path[-1]] = value
        except (KeyError, IndexError, TypeError):
            continue
    path = Path("firm.toml")
    ends_in_a_template_or_a_sentence(lambda: Checker(path, [(path, table)]).template(_lay_over({}, table)))


@sampled_property(max_examples=150, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(child=st.dictionaries(st.sampled_from([*BASE, "include"]), VALUES | st.dictionaries(
    st.sampled_from(["rooms", "kind", "equipment", "extends", "columns", "name", "voltage"]), VALUES, max_size=2), max_size=3))  # fmt: skip
def test_a_child_with_anything_in_it_ends_in_a_sentence(child: dict[str, Any]) -> None:
    path = Path("firm.toml")
    files = [(path, child), (stock_folder() / "base.toml", BASE)]
    ends_in_a_template_or_a_sentence(
        lambda: Checker(path, files).template(_lay_over(_lay_over({}, BASE), child))
    )


@sampled_property(max_examples=150, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.integers(0, len(TEXT)), st.integers(0, 40), st.text(alphabet='"[]{}=\n,.a1#\\ \0é', max_size=4))
def test_a_text_with_a_slip_ends_in_a_sentence(tmp_path: Path, at: int, length: int, typed: str) -> None:
    path = tmp_path / "firm.toml"
    path.write_text(TEXT[:at] + typed + TEXT[at + length :], encoding="utf-8")
    ends_in_a_template_or_a_sentence(lambda: load_template(path))


KEYS = [place for place in PLACES if len(place) <= 3]


@pytest.mark.sampled
@pytest.mark.parametrize(
    "place", drawn("keys of a template", KEYS, in_groups_of(4, KEYS)), ids=lambda p: ".".join(map(str, p))
)
def test_a_table_without_one_of_its_keys_ends_in_a_sentence(place: tuple[Any, ...]) -> None:
    table = copy.deepcopy(BASE)
    at = table
    for key in place[:-1]:
        at = at[key]
    del at[place[-1]]
    path = Path("firm.toml")
    ends_in_a_template_or_a_sentence(lambda: Checker(path, [(path, table)]).template(_lay_over({}, table)))
