"""What a survey workbook holds, said once.

    load_template(name_or_path)   a checked Template, its `extends` chain followed
    stock_templates()             the templates that ship with the tool, each with its line
    Template, Sheet, Column, Choice, Vocabulary, FindingType, Firm, RuleSetting

The writer, the reader, the rules, the messages and the documentation all read these
objects: a heading, a choice or a plausible range is written in a template file only.

Not here: thresholds of a code (electrical.code_profiles) and how a sheet looks.
"""

from workbook_tools.definitions.loading import check_rule_names, load_template
from workbook_tools.definitions.model import (
    PRIORITIES,
    Choice,
    Column,
    FindingType,
    Firm,
    Priority,
    RuleSetting,
    Sheet,
    Template,
    Vocabulary,
    plain,
    spelling,
)
from workbook_tools.definitions.stock import stock_templates

__all__ = [
    "PRIORITIES",
    "Choice",
    "Column",
    "FindingType",
    "Firm",
    "Priority",
    "RuleSetting",
    "Sheet",
    "Template",
    "Vocabulary",
    "check_rule_names",
    "load_template",
    "plain",
    "spelling",
    "stock_templates",
]
