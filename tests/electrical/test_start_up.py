"""What importing the electrical core loads, and that it stands alone.

Each question is asked in an interpreter of its own. Byte code goes to a folder of the test, as it does for
an installed package.
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
EVERYTHING = "from workbook_tools.electrical import " + ", ".join(electrical.__all__)


@pytest.fixture(scope="module")
def run(tmp_path_factory):
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    environment["PYTHONPYCACHEPREFIX"] = str(tmp_path_factory.mktemp("bytecode"))
    environment["PYTHONPATH"] = str(FOLDER.parents[1])

    def in_an_interpreter(code):
        done = subprocess.run(
            [sys.executable, "-c", code],
            env=environment,
            capture_output=True,
            text=True,
            check=True,
            timeout=60,
        )
        return done.stdout

    return in_an_interpreter


def loaded_after(run, code):
    return set(
        run(
            f"import sys; before = set(sys.modules)\n{code}\nprint(*sorted(set(sys.modules) - before))"
        ).split()
    )


def test_no_module_of_anybody_else_is_loaded(run):
    loaded = loaded_after(
        run, f"{EVERYTHING}\nread_voltage('480Y/277'); needed_depth('nec-2023', 277, 'Clear')"
    )
    roots = {name.partition(".")[0] for name in loaded}
    assert roots - set(sys.stdlib_module_names) == {"workbook_tools"}
    ours = {name for name in loaded if name.startswith("workbook_tools.")}
    assert {name for name in ours if not name.startswith("workbook_tools.electrical")} == set()


def test_pint_comes_only_when_a_quantity_is_asked_for(run):
    read = "from workbook_tools.electrical import as_quantity, read_length; length = read_length('42 in')"
    assert "pint" not in loaded_after(run, f"{read}; length.millimetres")
    assert "pint" in loaded_after(run, f"{read}; as_quantity(length)")


def test_the_core_imports_nothing_else_of_the_project():
    for path in FOLDER.glob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            names = [node.module or ""] if isinstance(node, ast.ImportFrom) else []
            names += [name.name for name in node.names] if isinstance(node, ast.Import) else []
            for name in names:
                own = isinstance(node, ast.ImportFrom) and node.level == 1
                root = name.partition(".")[0]
                assert (
                    own or root in sys.stdlib_module_names or (root, path.name) == ("pint", "quantities.py")
                ), path


def test_every_public_name_of_a_module_can_be_imported_from_the_package():
    modules = {path.stem for path in FOLDER.glob("*.py")} - {"__init__", "named_tuples"}
    own = {
        name for module in modules for name in import_module(f"workbook_tools.electrical.{module}").__all__
    }
    assert own == set(electrical.__all__)
    assert set(electrical.__all__) <= set(dir(electrical))
    stub = (FOLDER / "__init__.pyi").read_text("utf-8").split("\n")
    assert {line for line in stub if line} == {f"from .{module} import *" for module in modules}


def test_an_unknown_name_is_an_attribute_error():
    with pytest.raises(AttributeError, match="has no attribute 'wire_size'"):
        electrical.wire_size  # noqa: B018
