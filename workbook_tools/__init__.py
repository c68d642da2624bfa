"""Survey workbooks for the electrical rooms of commercial buildings.

    new(output, template=..., fill=...)            make a survey workbook
    placement(output, fill)                        where each column of lists would go, to be corrected
    check(path, output=..., photos=...)            what is wrong with it; writes the review workbook
    check_sites(places, each=...)                  the same for every survey in folders, side by side
    watch(folder, once=...)                        checks what arrives in a folder, tells the state of every survey
    overview(places, output=...)                   the surveys of many sites in one workbook
    deliver(path, output=..., review=...)          the client schedule and its data
    explain(rule)                                  what a rule looks at, why, how to mend, its source
    templates()                                    the stock templates
    demo(folder)                                   all of it on an invented building
    Unusable                                       the one error: one sentence for the person at the keyboard

The commands of the same names do the same things (`workbook-tools --help`). What lies behind
them: `survey.read_survey`, `checking.check_survey`, `definitions.load_template`.
"""

TYPE_CHECKING = False  # as typing has it; importing that takes as long as all the rest here
if TYPE_CHECKING:
    from workbook_tools.commands import (
        check,
        check_sites,
        deliver,
        demo,
        explain,
        new,
        overview,
        placement,
        templates,
        watch,
    )
    from workbook_tools.errors import Unusable

__version__ = "0.1.0"

__all__ = ["Unusable", "__version__", "check", "check_sites", "deliver", "demo", "explain", "new", "overview",
           "placement", "templates", "watch"]  # fmt: skip


def __getattr__(name: str) -> object:
    """Import a command when it is first asked for, so that a program is ready at once."""
    if name not in __all__:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    if name == "Unusable":
        from workbook_tools import errors as home
    else:
        from workbook_tools import commands as home  # type: ignore[no-redef]
    return getattr(home, name)
