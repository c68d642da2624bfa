"""The commands as functions: the library's face.

    new(output, ...)          make a survey workbook
    placement(output, fill)   where each column of lists would go, to be corrected
    combine(parts, output)    parts of one survey as one survey workbook
    check(path, ...)          what is wrong with a filled-in one; writes the review workbook
    check_sites(places, ...)  the same for many, side by side
    watch(folder, ...)        check what arrives in a folder, and tell the state of every survey
    overview(places, ...)     many sites and their issues in one workbook
    deliver(path, ...)        the client's folder
    compare(last, this, ...)  what has changed since the survey before
    explain(rule)             what a rule looks at, why, how to mend, its source
    templates()               the stock templates
    demo(folder)              all of it on an invented building

The command line has the same names and only parses, calls and prints. Each function imports
what it needs when it is called: `workbook-tools --help` and a bare `import workbook_tools`
need none of it.
"""

from workbook_tools.commands.check import check
from workbook_tools.commands.check_sites import check_sites
from workbook_tools.commands.combine import Combined, combine
from workbook_tools.commands.compare import compare
from workbook_tools.commands.deliver import deliver
from workbook_tools.commands.demo import Demonstration, demo
from workbook_tools.commands.explain import explain
from workbook_tools.commands.new import NewWorkbook, new, placement
from workbook_tools.commands.overview import overview
from workbook_tools.commands.templates import templates
from workbook_tools.commands.watch import watch

__all__ = [
    "Combined",
    "Demonstration",
    "NewWorkbook",
    "check",
    "check_sites",
    "combine",
    "compare",
    "deliver",
    "demo",
    "explain",
    "new",
    "overview",
    "placement",
    "templates",
    "watch",
]
