"""The house keeps its order: rooms import downwards, the page tells it, and every fact has one room."""

import re
import shutil
import subprocess
import sys
from pathlib import Path

from tests.house.imports_table import PAGE, layers, table
from tests.house.measures import circles, modules, slugs, slugs_outside
from workbook_tools.rules import catalogue

ROOT = Path(__file__).resolve().parents[2]


def test_the_page_for_developers_tells_the_imports_as_they_are():
    assert table() in PAGE.read_text(encoding="utf-8")


def test_every_room_has_its_place_in_the_order():
    package = ROOT / "workbook_tools"
    rooms = {p.name for p in package.iterdir() if (p / "__init__.py").exists()}
    rooms |= {p.stem for p in package.glob("*.py")} - {"__init__", "__main__"}
    assert rooms == set(layers())


def test_no_room_imports_in_a_circle():
    assert circles(ROOT) == []


def test_no_rule_is_named_outside_the_rules():
    assert len(slugs(ROOT)) == len(catalogue())
    assert slugs_outside(ROOT) == {}


def test_imports_run_downwards():
    linter = shutil.which("lint-imports", path=Path(sys.executable).parent)
    assert linter is not None, "pip install --group test brings import-linter"
    done = subprocess.run([linter], cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout


def test_types_alone_are_a_reason_to_import_only_where_a_library_would_be_loaded():
    # The commands load what they need when they are called, and the package its commands when they are asked for;
    # a picture, a sheet or a frame of a library is named for its type.
    guarded = {
        name.removeprefix("workbook_tools.")
        for name, path in modules(ROOT).items()
        if re.search(r"^if TYPE_CHECKING:", path.read_text(encoding="utf-8"), re.MULTILINE)
    }
    assert {name for name in guarded if not name.startswith("commands.")} == {
        "delivery.proof",
        "demonstration.pictures",
        "portfolio.rolled_up",
        "photos.pictures",
        "schedule.recorder",
        "typesetting.typesetter",
        "workbook_tools",
    }
