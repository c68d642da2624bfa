"""What importing the electrical core loads, and that it stands alone.

Each question about loading is asked in an interpreter of its own.
"""

import ast
import os
import subprocess
import sys
from importlib import import_module
from pathlib import Path

import pytest

from workbook_tools import electrical

FOLDER = Path(electrical.__file__).parent
PACKAGE = "workbook_tools.electrical"
MODULES = sorted(path.stem for path in FOLDER.glob("*.py") if path.stem != "__init__")


def loaded_after(code):
    done = subprocess.run(
        [
            sys.executable,
            "-c",
            f"import sys; before = set(sys.modules)\n{code}\nprint(*sorted(set(sys.modules) - before))",
        ],
        env={**os.environ, "PYTHONPATH": str(FOLDER.parents[1])},
        capture_output=True,
        text=True,
        check=True,
        timeout=60,
    )
    return set(done.stdout.split())


def test_no_module_of_anybody_else_is_loaded():
    loaded = loaded_after(
        f"from {PACKAGE} import *\nread_voltage('480Y/277'); needed_depth('nec-2023', 277, 'Clear')"
    )
    roots = {name.partition(".")[0] for name in loaded}
    assert roots - set(sys.stdlib_module_names) == {"workbook_tools"}
    ours = {name for name in loaded if name.startswith("workbook_tools.")}
    # The package's face loads its commands when they are asked for.
    rooms = {name.split(".")[1] for name in ours}
    assert rooms == {"electrical"}


def test_pint_comes_only_for_a_unit_that_is_none_of_the_five():
    read = f"from {PACKAGE} import read_length; read_length('42 in').millimetres; read_length('1 m').inches"
    assert "pint" not in loaded_after(read)
    assert "pint" in loaded_after(f"{read}; read_length('1.5 yd')")


def test_the_core_imports_nothing_else_of_the_project():
    for path in FOLDER.glob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            names = [node.module or ""] if isinstance(node, ast.ImportFrom) else []
            names += [name.name for name in node.names] if isinstance(node, ast.Import) else []
            for name in names:
                root = name.partition(".")[0]
                assert (
                    name.startswith(f"{PACKAGE}.")
                    or root in sys.stdlib_module_names
                    or (root, path.name) == ("pint", "quantities.py")
                ), path


@pytest.mark.parametrize("module", ["__init__", *MODULES])
def test_only_pint_is_imported_inside_a_function_and_nothing_for_types_alone(module):
    tree = ast.parse((FOLDER / f"{module}.py").read_text("utf-8"))
    inside = [
        node for node in ast.walk(tree) if isinstance(node, ast.Import | ast.ImportFrom) and node.col_offset
    ]
    assert {ast.unparse(node) for node in inside} <= {"import pint"}
    assert "TYPE_CHECKING" not in {node.id for node in ast.walk(tree) if isinstance(node, ast.Name)}


def test_every_public_name_of_a_module_can_be_imported_from_the_package():
    own = {name for module in MODULES for name in import_module(f"{PACKAGE}.{module}").__all__}
    assert own == set(electrical.__all__)
    assert len(electrical.__all__) == len(own)
    assert set(electrical.__all__) <= set(dir(electrical))


def test_an_unknown_name_is_an_attribute_error():
    with pytest.raises(AttributeError, match="has no attribute 'wire_size'"):
        electrical.wire_size  # noqa: B018
