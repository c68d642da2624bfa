"""Survey workbooks for the electrical rooms of commercial buildings.

    new_workbook(output, template=..., fill=...)   make a survey workbook
    read_survey(path)                              a Survey from a filled-in workbook
    check(path, output=..., photos=...)            what is wrong with it; writes the review workbook
    deliver(path, output=..., review=...)          the client schedule and its data
    explain(rule)                                  what a rule looks at, why, how to mend, its source
    demo(folder)                                   all of it on an invented building
    load_template(name), stock_templates()         the definitions behind the workbook

The commands of the same names do the same things (`workbook-tools --help`). Functions load
what they need when first called, so that `import workbook_tools` stays quick.
"""

from __future__ import annotations

# Type checkers know the name; importing typing would take as long as starting the interpreter.
TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from workbook_tools.checking import check
    from workbook_tools.definitions import load_template, stock_templates
    from workbook_tools.delivery import deliver
    from workbook_tools.demonstration import demo
    from workbook_tools.errors import Unusable
    from workbook_tools.rules.explaining import explain
    from workbook_tools.survey import read_survey
    from workbook_tools.survey_workbook import new_workbook

__version__ = "0.1.0"

__all__ = [
    "Unusable",
    "__version__",
    "check",
    "deliver",
    "demo",
    "explain",
    "load_template",
    "new_workbook",
    "read_survey",
    "stock_templates",
]

_HOMES = {
    "Unusable": "errors",
    "check": "checking",
    "deliver": "delivery",
    "demo": "demonstration",
    "explain": "rules.explaining",
    "load_template": "definitions",
    "new_workbook": "survey_workbook",
    "read_survey": "survey",
    "stock_templates": "definitions",
}


def __getattr__(name: str) -> Any:
    if name in _HOMES:
        from importlib import import_module

        return getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
