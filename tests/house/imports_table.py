"""The table of DEVELOPERS.md that says which room imports which: `python tests/house/imports_table.py` rewrites it.

The first sentence of each room's docstring says what it answers; the imports are read out of its modules.
"""

import ast
import re
import tomllib
from pathlib import Path

from tests.house.measures import imports, modules, room

ROOT = Path(__file__).resolve().parents[2]
PAGE = ROOT / "DEVELOPERS.md"
HEAD = "| room | answers | imports of ours |\n| --- | --- | --- |\n"
END = "\n\n"

__all__ = ["layers", "table"]


def layers():
    """Return the rooms from the top to the bottom, as the layers declared in pyproject.toml name them."""
    with open(ROOT / "pyproject.toml", "rb") as file:
        contracts = tomllib.load(file)["tool"]["importlinter"]["contracts"]
    (found,) = (contract["layers"] for contract in contracts if contract["type"] == "layers")
    return [name.strip() for layer in found for name in layer.split("|")]


def answers(name):
    """Return the first sentence of a room's docstring."""
    path = modules(ROOT)[f"workbook_tools.{name}"]
    said = ast.get_docstring(ast.parse(path.read_text(encoding="utf-8"))) or ""
    return re.split(r"(?<=\.)\s", " ".join(said.split("\n\n")[0].split()))[0].rstrip(".")


def table():
    """Return the table, the room that imports most on top."""
    order = layers()
    found = {name: set() for name in order}
    for module, others in imports(ROOT).items():
        if room(module) in found:
            found[room(module)] |= {room(other) for other in others} - {room(module), "workbook_tools"}
    rows = (
        f"| `{name}` | {answers(name)} | {', '.join(n for n in order if n in found[name]) or 'none'} |"
        for name in order
    )
    return HEAD + "\n".join(rows)


def main():
    text = PAGE.read_text(encoding="utf-8")
    start = text.index(HEAD)
    PAGE.write_text(text[:start] + table() + text[text.index(END, start) :], encoding="utf-8")


if __name__ == "__main__":
    main()
