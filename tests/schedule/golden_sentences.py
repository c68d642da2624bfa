"""What the client reads of each finding of the library: `python -m tests.schedule.golden_sentences` rewrites it.

golden_sentences.txt beside this file is read in full before it is committed. Nothing outside the
project is compared here: what makes a sentence right is that a reader finds it to be English.
What the client reads of each rule stands in the catalogue page.
"""

from pathlib import Path

from workbook_tools.definitions import load_template, stock_templates
from workbook_tools.rules.plain_english import sentence
from workbook_tools.schedule.sentences import finding_headline

PAGE = Path(__file__).with_name("golden_sentences.txt")


def finding_lines():
    seen = {}
    for name in stock_templates():
        for entry in load_template(name).findings:
            said = [sentence(finding_headline(entry, entry.name, count)) for count in (None, 1, 2)]
            seen.setdefault(entry.code, f"{entry.code} {entry.name}\n    " + "\n    ".join(said))
    return list(seen.values())


if __name__ == "__main__":
    PAGE.write_text("\n".join([*finding_lines(), ""]), encoding="utf-8")
