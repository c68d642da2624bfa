"""What the house measures, as numbers: `python tests/house/measures.py [ROOT]`.

Code lines of each package (no blank lines, comments, docstrings), circles between packages, rules
named outside `rules/`, field names that stand as text, `id()` calls, caches that live beside the
objects they speak of. ROOT is a source tree; left out, this one. Only text is read, nothing is run.
"""

import ast
import re
import sys
import tomllib
from collections import Counter
from pathlib import Path

__all__ = ["circles", "code_lines", "field_names", "imports", "measures", "modules", "slugs", "slugs_outside"]

PACKAGE = "workbook_tools"


def modules(root):
    """Return the Python files of the package, by dotted name."""
    return {
        ".".join(path.relative_to(root).with_suffix("").parts).removesuffix(".__init__"): path
        for path in sorted((root / PACKAGE).rglob("*.py"))
    }


def room(name):
    """Return the part of the package that a module belongs to: "rules", "cli", ..."""
    parts = name.split(".")
    return parts[1] if len(parts) > 1 else PACKAGE


def tree(path):
    return ast.parse(path.read_text(encoding="utf-8"))


def docstrings(parsed):
    """Yield the texts that stand as statements: docstrings and what is said under a constant."""
    for node in ast.walk(parsed):
        for statement in getattr(node, "body", []) if not isinstance(node, ast.Lambda | ast.IfExp) else []:
            if isinstance(statement, ast.Expr) and isinstance(statement.value, ast.Constant):
                yield statement.value


def code_lines(path):
    """Return how many lines hold code."""
    text = path.read_text(encoding="utf-8")
    said = {line for doc in docstrings(ast.parse(text)) for line in range(doc.lineno, doc.end_lineno + 1)}
    return sum(
        bool(line.strip()) and not line.strip().startswith("#") and number not in said
        for number, line in enumerate(text.splitlines(), 1)
    )


def imports(root):
    """Return which modules of ours each module imports, those for types and inside functions too."""
    known = modules(root)
    found = {}
    for name, path in known.items():
        wanted = set()
        for node in ast.walk(tree(path)):
            if isinstance(node, ast.Import):
                wanted |= {alias.name for alias in node.names}
            elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
                wanted |= {f"{node.module}.{alias.name}" for alias in node.names} | {node.module}
        found[name] = {other for other in wanted if other in known and other != name}
    return found


def circles(root):
    """Return the groups of rooms that import each other in a circle."""
    between = {}
    for name, others in imports(root).items():
        between.setdefault(room(name), set()).update(room(other) for other in others)
    between.pop(PACKAGE, None)
    reach = {here: set(there) for here, there in between.items()}
    for _ in reach:
        for there in reach.values():
            there |= {further for other in list(there) for further in reach.get(other, ())}
    pairs = {
        tuple(sorted((here, other)))
        for here, there in between.items()
        for other in there
        if other != here and here in reach.get(other, ())
    }
    return sorted(pairs)


def slugs(root):
    """Return the slugs of the rules, from their cards."""
    texts = "\n".join(path.read_text(encoding="utf-8") for path in (root / PACKAGE / "rules").glob("*.py"))
    return sorted(set(re.findall(r'^    slug="([a-z-]+)"', texts, re.MULTILINE)))


def slugs_outside(root):
    """Return how often each slug is named by a module outside `rules/`."""
    every = slugs(root)
    return Counter(
        word
        for name, path in modules(root).items()
        if room(name) != "rules"
        for word in re.findall(r"(?<![a-z-])[a-z][a-z-]*", path.read_text(encoding="utf-8"))
        if word in every
    )


def field_names(root):
    """Return the fields of the stock template's columns."""
    with open(root / "templates" / "sheets.toml", "rb") as file:
        sheets = tomllib.load(file)["sheets"]
    return {column["field"] for sheet in sheets.values() for column in sheet.get("columns", [])}


def field_literals(root):
    """Return how many field names stand as text where a row or a column is asked for one, outside examples."""
    fields = field_names(root)
    counted = Counter()
    for name, path in modules(root).items():
        if room(name) in ("electrical", "definitions"):
            continue
        for node in ast.walk(tree(path)):
            asked = []
            if isinstance(node, ast.Subscript):
                asked = [node.slice]
            elif isinstance(node, ast.Call):
                asked = [*node.args, *(keyword.value for keyword in node.keywords)]
            elif isinstance(node, ast.Tuple):
                asked = node.elts
            elif isinstance(node, ast.Compare):
                asked = [node.left, *node.comparators]
            counted[room(name)] += sum(
                isinstance(one, ast.Constant) and one.value in fields for one in asked if one is not None
            )
    return +counted


def measures(root):
    """Return every number with its name, as lines."""
    lines = Counter()
    calls, caches = Counter(), []
    for name, path in modules(root).items():
        text = path.read_text(encoding="utf-8")
        lines[room(name)] += code_lines(path)
        calls[room(name)] += len(re.findall(r"(?<![\w.])id\(", text))
        caches += [
            f"{name}.{found}" for found in re.findall(r"^(\w+): Weak\w+Dictionary", text, re.MULTILINE)
        ]
    outside, literals = slugs_outside(root), field_literals(root)
    guarded = sum("TYPE_CHECKING" in path.read_text(encoding="utf-8") for path in modules(root).values())
    yield f"code lines: {lines.total():,} ({', '.join(f'{n} {c:,}' for n, c in sorted(lines.items()))})"
    yield f"pairs of rooms in a circle: {len(circles(root))} {circles(root)}"
    yield f"rules named outside rules/: {len(outside)} of {len(slugs(root))}, {outside.total()} times"
    yield f"field names as text: {literals.total():,} {dict(literals)}"
    yield f"id() calls: {calls.total()} {dict(+calls)}"
    yield f"caches of a module about other objects: {len(caches)} {caches}"
    yield f"modules with imports for types alone: {guarded}"


if __name__ == "__main__":
    print(
        "\n".join(measures(Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).resolve().parents[2]))
    )
