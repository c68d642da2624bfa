"""Every promise in the table of DEVELOPERS.md names a test that there is."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
NAMED = re.findall(
    r"`(tests/[\w/]+\.py)::(test_\w+)` \|$",
    (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8"),
    re.MULTILINE,
)


def test_the_table_has_promises_to_everybody():
    assert len(NAMED) >= 12
    assert len(set(NAMED)) == len(NAMED)


@pytest.mark.parametrize(("file", "name"), NAMED)
def test_each_promise_is_held_by_a_test(file, name):
    tree = ast.parse((ROOT / file).read_text(encoding="utf-8"))
    tests = {node.name: node for node in tree.body if isinstance(node, ast.FunctionDef)}
    assert name in tests
    asked = (ast.Assert, ast.With)
    assert any(isinstance(node, asked) for node in ast.walk(tests[name])) or "holds(" in ast.unparse(
        tests[name]
    )
