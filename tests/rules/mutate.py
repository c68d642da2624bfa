"""Do the tests notice a slip in a rule? Small changes to `workbook_tools/rules/`, drawn with a seed.

    python tests/rules/mutate.py 60 7                        60 changes, drawn with seed 7
    python tests/rules/mutate.py 20 7 supply.py values.py    ... in these modules alone
    python tests/rules/mutate.py --list 60 7                 what would be changed; nothing is run
    python tests/rules/mutate.py 60 7 --at supply.py:32      of the sixty, what was changed on this line

Each change goes into a temporary copy of the package, and the tests run against that copy in a
process of their own. One line is printed for each: where, what was changed, "killed" where a test
failed or hung, "survived" where all of them passed; then the share killed. A survivor is either a
change that nobody could notice or a behaviour that no test states.

    <      <=      comparisons, and `in`, `==`, `is None` the other way round
    and    or      `not` left out
    1      2       True and False swapped; texts emptied or altered
    continue, return left out
    f(a, b)        f(b, a)

What is only printed on the card of a rule (what, why, mend, source, its examples, what the client
is to do) is left alone: the catalogue page is compared with it word for word. So are annotations,
decorators, docstrings and `__all__`.

Ends with 1 where a change survived. Sixty take about ten minutes.
"""

from __future__ import annotations

import argparse
import ast
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from importlib.util import cache_from_source
from pathlib import Path
from random import Random

ROOT = Path(__file__).resolve().parents[2]
RULES = Path("workbook_tools/rules")
COPIED = ("workbook_tools", "templates", "tests", "pyproject.toml")

TESTS = (
    "tests/rules/test_catalogue.py::test_the_catalogue_page_is_what_the_rules_say",
    "tests/rules/test_golden_problems.py",
    "tests/rules/test_planted_and_lawful.py",
    "tests/rules/test_seeded_faults.py",
    "tests/rules/test_blanks_are_no_pass.py",
    "tests/rules/test_one_problem_one_rule.py",
    "tests/rules/test_bakery.py",
    "tests/rules/test_kinds_of_a_firm.py",
    "tests/checking/test_check_survey.py",
    "tests/schedule/test_golden_sentences.py",
    "tests/schedule/test_clearance_results.py",
    "tests/schedule/test_said_to_the_owner.py",
    "tests/rules",
    "workbook_tools/rules",
    "tests/schedule/test_services.py",
    "tests/schedule/test_bakery_schedule.py",
    "tests/definitions/test_firm_template.py",
    "tests/delivery/test_gate.py",
)
"""The quickest and likeliest first: the run ends at the first that fails."""

COUNT_WORK = (
    "tests/rules/test_supply_loops.py::test_a_loop_of_ten_thousand_neither_hangs_nor_recurses",
    "tests/rules/test_any_survey.py::test_ten_times_the_rows_take_about_ten_times_the_work",
    "tests/rules/test_any_survey.py::test_a_thousand_mistyped_tags_cost_no_more_than_ten_times_a_hundred",
)
"""Left out: they tell how much is done, not what is said, and take as long as all the others."""

TEST_SECONDS, RUN_SECONDS = 60, 600
"""A change may make a loop endless: so long may one test take, and so long all of them."""

SHORT = 70
"""So much of a piece of code is printed."""

CARD_TEXTS = {
    "slug", "class_", "priority", "subject", "what", "why", "mend", "source", "fires", "passes", "do", "one", "many",
}  # fmt: skip

OTHER_WAY = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
    ast.In: ast.NotIn, ast.NotIn: ast.In, ast.Is: ast.IsNot, ast.IsNot: ast.Is,
}  # fmt: skip


@dataclass(frozen=True)
class Change:
    """One change to a parsed module: its line, what it does in words, and doing it."""

    line: int
    says: str
    make: Callable[[], None]


class _Put(ast.NodeTransformer):
    """Puts one node in the place of another."""

    def __init__(self, old: ast.AST, new: ast.AST) -> None:
        self.old, self.new = old, new

    def visit(self, node: ast.AST) -> ast.AST:
        return self.new if node is self.old else self.generic_visit(node)


def changes(module: ast.Module, dice: Random) -> list[Change]:
    """Return every change that can be made to a module; the dice choose what happens to a text."""
    found: list[Change] = []

    def put(old: ast.expr | ast.stmt, new: ast.expr | ast.stmt, says: str = "") -> None:
        says = says or f"{_short(old)}  ->  {_short(new)}"
        found.append(
            Change(old.lineno, says, lambda: ast.fix_missing_locations(_Put(old, new).visit(module)) and None)
        )

    for node in _looked_at(module, _example_names(module)):
        if isinstance(node, ast.Compare):
            for place, operator in enumerate(node.ops):
                turned = [*node.ops]
                turned[place] = OTHER_WAY[type(operator)]()
                put(node, ast.Compare(node.left, turned, node.comparators))
        elif isinstance(node, ast.BoolOp):
            put(node, ast.BoolOp(ast.Or() if isinstance(node.op, ast.And) else ast.And(), node.values))
        elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not):
            put(node, node.operand)
        elif isinstance(node, ast.Constant):
            changed = _other_constant(node.value, dice)
            if changed is not None:
                put(node, ast.Constant(changed), f"{node.value!r}  ->  {changed!r}")
        elif isinstance(node, ast.Continue):
            put(node, ast.Pass(), "continue left out")
        elif isinstance(node, ast.Return):
            put(node, ast.Pass(), f"{ast.unparse(node)}  left out")
        elif isinstance(node, ast.Call):
            for place, (one, next_one) in enumerate(zip(node.args, node.args[1:], strict=False)):
                if not isinstance(one, ast.Starred) and not isinstance(next_one, ast.Starred):
                    swapped = [*node.args]
                    swapped[place : place + 2] = [next_one, one]
                    says = f"{_short(node.func)}(...): {_short(one)} and {_short(next_one)} swapped"
                    put(node, ast.Call(node.func, swapped, node.keywords), says)
    return found


def _short(node: ast.AST) -> str:
    text = ast.unparse(node)
    return text if len(text) <= SHORT else f"{text[:SHORT]}..."


def _other_constant(value: object, dice: Random) -> object:
    if isinstance(value, bool):
        return not value
    if isinstance(value, int | float):
        return value + 1
    if isinstance(value, str):
        return f"{value}x" if not value or dice.random() < 0.5 else ""
    return None


def _looked_at(node: ast.AST, examples: set[str]) -> Iterator[ast.AST]:
    """Yield the nodes that may be changed."""
    yield node
    for name, value in ast.iter_fields(node):
        if name in ("annotation", "returns", "decorator_list", "format_spec"):
            continue
        for part in value if isinstance(value, list) else [value]:
            if isinstance(part, ast.AST) and not _left_alone(part, examples):
                yield from _looked_at(part, examples)


def _left_alone(node: ast.AST, examples: set[str]) -> bool:
    if isinstance(node, ast.Expr):
        return isinstance(node.value, ast.Constant)
    if isinstance(node, ast.keyword):
        return node.arg in CARD_TEXTS
    if isinstance(node, ast.Assign):
        names = {target.id for target in node.targets if isinstance(target, ast.Name)}
        return bool(names & (examples | {"__all__"}))
    return isinstance(node, ast.Import | ast.ImportFrom)


def _example_names(module: ast.Module) -> set[str]:
    """Return the constants of which the examples of the cards are made."""
    assigned = {
        target.id: statement.value
        for statement in module.body
        if isinstance(statement, ast.Assign)
        for target in statement.targets
        if isinstance(target, ast.Name)
    }

    def named(node: ast.AST) -> set[str]:
        return {one.id for one in ast.walk(node) if isinstance(one, ast.Name)} & assigned.keys()

    examples: set[str] = set()
    for node in ast.walk(module):
        if isinstance(node, ast.keyword) and node.arg in ("fires", "passes"):
            examples |= named(node)
    while more := {inner for name in examples for inner in named(assigned[name])} - examples:
        examples |= more
    return examples


def drawn(count: int, seed: int, modules: list[str]) -> list[tuple[Path, Change, str]]:
    """Return the changes: the module, the change, and the source text with it."""
    dice = Random(seed)
    places = []
    for path in sorted((ROOT / RULES).glob("*.py")):
        if not modules or path.name in modules:
            parsed = ast.parse(path.read_text(encoding="utf-8"))
            places += [(path, place) for place in range(len(changes(parsed, Random(seed))))]
    chosen = []
    for path, place in sorted(dice.sample(places, min(count, len(places)))):
        parsed = ast.parse(path.read_text(encoding="utf-8"))
        change = changes(parsed, Random(seed))[place]
        change.make()
        chosen.append((path.relative_to(ROOT), change, ast.unparse(parsed)))
    return chosen


def passes(copy: Path, *, keep_compiled: bool = False) -> bool:
    """Whether all tests pass against a copy; one that hangs does not."""
    command = [
        sys.executable, "-m", "pytest", "-x", "-q", "-p", "no:cacheprovider", f"--timeout={TEST_SECONDS}",
        *(f"--deselect={test}" for test in COUNT_WORK), *TESTS,
    ]  # fmt: skip
    environment = {**os.environ, "PYTHONPATH": str(copy)}
    environment["PYTHONDONTWRITEBYTECODE"] = "" if keep_compiled else "1"
    try:
        done = subprocess.run(
            command,
            cwd=copy,
            env=environment,
            capture_output=True,
            text=True,
            timeout=RUN_SECONDS,
            check=False,
        )
    except subprocess.TimeoutExpired:
        return False
    return done.returncode == 0


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("count", type=int, help="how many changes")
    parser.add_argument("seed", type=int, help="which ones: the same seed draws the same")
    parser.add_argument("modules", nargs="*", help="file names in workbook_tools/rules; all of them if none")
    parser.add_argument("--list", action="store_true", help="print what would be changed, and run nothing")
    parser.add_argument(
        "--at", nargs="+", metavar="FILE:LINE", help="of those drawn, only the ones on these lines"
    )
    asked = parser.parse_args()
    mutants = drawn(asked.count, asked.seed, asked.modules)
    if asked.at:
        mutants = [mutant for mutant in mutants if f"{mutant[0].name}:{mutant[1].line}" in asked.at]
    if asked.list:
        print("\n".join(f"{path}:{change.line}: {change.says}" for path, change, _text in mutants))
        return 0
    survived = 0
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder)
        for name in COPIED:
            source = ROOT / name
            (shutil.copytree if source.is_dir() else shutil.copy2)(source, copy / name)
        if not passes(copy, keep_compiled=True):
            print("The tests fail as they are: nothing can be said about a change.")
            return 1
        for path, change, text in mutants:
            original = (copy / path).read_bytes()
            (copy / path).write_text(text, encoding="utf-8")
            # What was compiled from another text of the same second must not be taken for this one.
            Path(cache_from_source(str(copy / path))).unlink(missing_ok=True)
            noticed = not passes(copy)
            (copy / path).write_bytes(original)
            survived += not noticed
            print(f"{path}:{change.line}: {change.says}: {'killed' if noticed else 'SURVIVED'}", flush=True)
    killed = len(mutants) - survived
    print(f"{killed} of {len(mutants)} killed ({killed / max(1, len(mutants)):.0%}), seed {asked.seed}")
    return int(survived > 0)


if __name__ == "__main__":
    raise SystemExit(main())
