"""What can be said on the command line.

parse(arguments)      the parsed call; a wrong one raises Unusable with the nearest right word
build_parser()        the parser itself, for help and shell completion
"""

from __future__ import annotations

import argparse
import re
from collections.abc import Sequence
from typing import Any, NoReturn

from workbook_tools.commands.new import ORDINARY_ROWS
from workbook_tools.errors import Unusable

__all__ = ["build_parser", "parse"]

_DESCRIPTION = """\
Survey workbooks for the electrical rooms of commercial buildings:
prepare one, fill it in on any device, check it, review it, deliver the client's schedule.
"""

_EPILOG = """\
a job from start to end:
  workbook-tools new --template office -o survey.xlsx          prepare; fill it in on site
  workbook-tools check survey.xlsx -o review.xlsx              what is wrong, and where
  workbook-tools deliver survey.xlsx --review review.xlsx -o delivery

  workbook-tools demo demo                                     all of it on an invented building

Exit status: 0 nothing to correct or report, 1 problems found, 2 the file or the call cannot be used.
The survey file is never written to. A visual survey: it rules on no design and no code compliance.
"""


class _Help(argparse.RawDescriptionHelpFormatter):
    """Keeps our line breaks, and each command beside what it does."""

    def __init__(self, prog: str, **options: Any) -> None:
        super().__init__(prog, max_help_position=28, **options)

    def add_argument(self, action: argparse.Action) -> None:
        super().add_argument(action)
        if isinstance(action, argparse._SubParsersAction):
            # argparse forgets that the commands are indented once more than their heading.
            self._action_max_length += 2


class _Parser(argparse.ArgumentParser):
    """Says what is wrong in one sentence, with the nearest right word."""

    def error(self, message: str) -> NoReturn:
        invalid = re.search(r"invalid choice: '?([^'(]*?)'? \(choose from (.*)\)", message)
        if invalid:
            typed, choices = invalid[1], [c.strip(" '\"") for c in invalid[2].split(",")]
            what = "command" if "COMMAND" in message else message.split(":")[0].removeprefix("argument ")
            message = f"there is no {what} {typed!r}{_nearest(typed, choices)}"
        unknown = re.fullmatch(r"unrecognized arguments: (.*)", message)
        if unknown:
            options = [o for o in self.every_option() if o.startswith("--")]
            first = unknown[1].split()[0]
            message = f"{first!r} is not understood here{_nearest(first.split('=')[0], options)}"
        raise Unusable(f"{message}{'' if message.endswith('?') else '.'} See {self.prog} --help.")

    def every_option(self) -> list[str]:
        options = list(self._option_string_actions)
        for action in self._actions:
            if isinstance(action, argparse._SubParsersAction):
                for parser in action.choices.values():
                    options += parser.every_option()
        return options


def _nearest(typed: str, choices: Sequence[str]) -> str:
    from difflib import get_close_matches

    near = get_close_matches(typed, choices, n=1, cutoff=0.5)
    return (
        f"; did you mean {near[0]}?"
        if near
        else f" (there are {', '.join(choices)})"
        if len(choices) < 12
        else ""
    )


def parse(arguments: Sequence[str] | None = None) -> argparse.Namespace:
    """Parse a call. Help and version print and leave; a wrong call raises Unusable.

    Examples
    --------
    >>> parse(["check", "survey.xlsx", "--json"]).json
    True
    """
    parser = build_parser()
    call = parser.parse_args(arguments)
    if call.command is None:
        parser.print_help()
        raise SystemExit(2)
    return call


def build_parser() -> argparse.ArgumentParser:
    """Return the parser of every command."""
    from workbook_tools import __version__

    parser = _Parser(
        prog="workbook-tools",
        description=_DESCRIPTION,
        epilog=_EPILOG,
        formatter_class=_Help,
        allow_abbrev=False,
    )
    parser.add_argument("--version", action="version", version=f"workbook-tools {__version__}")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", title="commands")

    def command(name: str, line: str, more: str, example: str) -> argparse.ArgumentParser:
        return commands.add_parser(
            name,
            help=line,
            description=f"{line[0].upper()}{line[1:]}.\n\n{more}",
            epilog=f"example:\n{example}",
            formatter_class=_Help,
            allow_abbrev=False,
        )

    new = command(
        "new",
        "make a survey workbook to fill in",
        "It opens in any spreadsheet program on a computer, tablet or phone; there are no macros in it.",
        "  workbook-tools new --template office --job Property='Harbour House' -o survey.xlsx\n"
        "  workbook-tools new --fill last_year.xlsx -o survey.xlsx     carry over a list or an earlier survey\n"
        "  workbook-tools new --fill panels.xlsx --fill assets.csv --placement-only placement.csv     see what goes where",
    )
    _template(
        new,
        "which workbook to make: a stock template (see: workbook-tools templates) or your own .toml file; "
        "left out, that of the survey given with --fill, else office",
    )
    new.add_argument(
        "--fill",
        metavar="FOLDER|FILE",
        action="append",
        default=[],
        help="fill in from a folder of CSV files, a CSV, JSON, Markdown or text file, or another workbook; says which "
        "heading it took for which, and drops nothing; given again, the lists are combined",
    )
    new.add_argument(
        "--placement-only",
        metavar="PLACEMENT.csv",
        help="write only where each column of the lists would go, and why, to be corrected by hand",
    )
    new.add_argument(
        "--placement",
        metavar="PLACEMENT.csv",
        help="obey this corrected file, also for the next list of the same client",
    )
    new.add_argument(
        "--job",
        metavar="KEY=VALUE",
        action="append",
        default=[],
        help="an answer for the Job sheet, such as Property='Harbour House'; may be given again",
    )
    new.add_argument(
        "--rows",
        type=_rows,
        default=ORDINARY_ROWS,
        help=f"rows to prepare on each sheet ({ORDINARY_ROWS} where left out)",
    )
    _output(new, "SURVEY.xlsx", "where to write the workbook", required=False)

    command(
        "templates",
        "list the stock templates",
        "A template of your own extends one of them; DEVELOPERS.md says how.",
        "  workbook-tools templates",
    )

    combine = command(
        "combine",
        "put the parts of one survey together",
        "Parts are copies of one survey workbook that different inspectors filled in. A row that stands in several\n"
        "parts becomes one; where two answer differently both rows stand, and the check asks. The column Written by\n"
        "says whose row it is, the sheet How this was combined lists what differs.",
        "  workbook-tools combine north.xlsx south.xlsx roof.xlsx -o whole.xlsx",
    )
    combine.add_argument("parts", metavar="PART", nargs="+", help="two or more parts, survey workbooks")
    _template(combine, "the template they were made from, where that is a file of your own")
    _output(combine, "SURVEY.xlsx", "where to write the whole survey workbook")

    check = command(
        "check",
        "say what is wrong with a filled-in survey, and where",
        "Reads whatever came back from whichever device, changes nothing in it, and lists every problem\n"
        "with its sheet, its cell and what to do. With -o it writes the review workbook; run again with the\n"
        "same -o, the answers given there are carried over, and a signature is taken off where what was signed\n"
        "has changed. A file that is not the review of this survey is never written over.\n\n"
        "Several files, and folders with all that lies in them, are checked on every core: a line for each\n"
        "survey, then the most urgent problems of each site. Reviews, schedules and other workbooks in a folder\n"
        "are passed over; a file that cannot be read is named and stops no other.",
        "  workbook-tools check survey.xlsx -o review.xlsx --photos photos\n"
        "  workbook-tools check jobs            every survey in a folder",
    )
    check.add_argument(
        "survey",
        metavar="SURVEY|FOLDER",
        nargs="+",
        help="the filled-in survey workbook (.xlsx, .xlsm or .ods); several, or a folder to look through",
    )
    _template(check, "the template it was made from, where that is a file of your own")
    _photos(check)
    check.add_argument("-o", "--output", metavar="REVIEW.xlsx", help="write the review workbook here")
    check.add_argument(
        "--json",
        action="store_true",
        help="print everything as one JSON object; of several surveys, as a list",
    )

    deliver = command(
        "deliver",
        "write the client's schedule, its photos and its data",
        "Needs the review workbook with the reviewer's name and date on its sheet Sign-off. Stops, and says\n"
        "what is open, where something is still to be corrected or anything that was signed has changed since:\n"
        "survey, template, code profile, rules, photos, answers. A review of another building is refused.",
        "  workbook-tools deliver survey.xlsx --review review.xlsx --photos photos -o delivery\n"
        "  workbook-tools deliver survey.xlsx --draft -o draft",
    )
    deliver.add_argument("survey", metavar="SURVEY", help="the filled-in survey workbook")
    deliver.add_argument(
        "--review",
        metavar="REVIEW.xlsx",
        action="append",
        help="the signed review workbook; given again, several are taken as one where they agree",
    )
    _template(deliver, "the template it was made from, where that is a file of your own")
    _photos(deliver)
    deliver.add_argument(
        "--without-photos", action="store_true", help="deliver without the photos that the survey names"
    )
    deliver.add_argument(
        "--draft", action="store_true", help="deliver before the sign-off, marked DRAFT on every page"
    )
    deliver.add_argument(
        "--since",
        metavar="LAST",
        help="the survey workbook of the visit before: the schedule says what has changed since",
    )
    deliver.add_argument(
        "--handover",
        action="store_true",
        help="add handover.xlsx: COBie sheets, from which facility systems take the equipment and the rooms",
    )
    _output(deliver, "FOLDER", "the folder to make for the client", _REPLACES_OURS)

    compare = command(
        "compare",
        "say what has changed since the survey before",
        "Equipment that is new, gone or changed, answer by answer; issues that are new, still there, mended, or not\n"
        "seen again. A tag that may have been changed is asked about, never guessed.",
        "  workbook-tools compare last_year.xlsx survey.xlsx -o changes.xlsx\n"
        "  workbook-tools compare last_year.xlsx survey.xlsx --same LP-3=LP-4 --json",
    )
    compare.add_argument("last", metavar="LAST", help="the earlier survey workbook")
    compare.add_argument("this", metavar="THIS", help="the later survey workbook of the same building")
    _template(compare, "the template they were made from, where that is a file of your own")
    compare.add_argument(
        "--same",
        metavar="OLD=NEW",
        action="append",
        default=[],
        help="last year's tag and what it is called now; may be given again",
    )
    _output(compare, "CHANGES.xlsx", "write a workbook of the changes here", required=False)
    compare.add_argument("--json", action="store_true", help="print everything as one JSON object")

    watch = command(
        "watch",
        "check the surveys in a folder as they arrive",
        "For a folder that is synced or shared: a survey that is new or has changed is checked once it is whole,\n"
        "its review is written beside it, and the page 'state of the surveys.html' tells the state of each.\n"
        "Answers in a review are carried over; a review that is open, or is none, is not written over. The surveys\n"
        "are only read. It goes on until you press Ctrl-C; what has not changed since is not checked again.",
        "  workbook-tools watch jobs\n  workbook-tools watch jobs --once     look once and end, as for a nightly task",
    )
    watch.add_argument("folder", metavar="FOLDER", help="the folder, with all the folders in it")
    _template(watch, "the template they were made from, where that is a file of your own")
    watch.add_argument("--once", action="store_true", help="look once and end")

    overview = command(
        "overview",
        "put the surveys of many sites into one workbook",
        "Reads every survey in a folder on every core and writes one workbook: the sites, their issues, counts\n"
        "by priority, kind of issue, kind of equipment, age and size, and what changed over the years where a\n"
        "site was surveyed more than once. A file that cannot be read stands on a sheet of its own.",
        "  workbook-tools overview jobs -o sites.xlsx --data sites",
    )
    overview.add_argument(
        "places", metavar="FOLDER|SURVEY", nargs="+", help="a folder to look through, or surveys"
    )
    _template(overview, "the template they were made from, where that is a file of your own")
    overview.add_argument(
        "--data", metavar="FOLDER", help="write the same as CSV files with their description into this folder"
    )
    _output(overview, "SITES.xlsx", "where to write the workbook")

    explain = command(
        "explain",
        "say what a rule looks at, why, how to mend it, and its source",
        "Without a rule it lists the whole catalogue by subject.",
        "  workbook-tools explain     every rule in a line; with its name behind it, one in full",
    )
    explain.add_argument("rule", metavar="RULE", nargs="?", help="the rule's name, as printed by check")

    demo = command(
        "demo",
        "do all of it on an invented building",
        "Writes the survey workbook, its review with dispositions and sign-off, and the delivery, and says\n"
        "where to look. The building, its people and makers are invented.",
        "  workbook-tools demo demo",
    )
    demo.add_argument("folder", metavar="FOLDER", help="the folder to make")
    demo.add_argument("--force", action="store_true", help=_REPLACES_OURS)

    completion = command(
        "completion",
        "print a shell completion script",
        "Put it where your shell looks for completions.",
        "  workbook-tools completion bash > ~/.local/share/bash-completion/completions/workbook-tools",
    )
    completion.add_argument("shell", choices=("bash", "zsh", "tcsh"), help="bash, zsh or tcsh")
    return parser


def _template(parser: argparse.ArgumentParser, says: str) -> None:
    parser.add_argument("--template", metavar="NAME|FILE", help=says)


def _photos(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--photos", metavar="FOLDER", help="the folder with the photos of the survey")


_REPLACES_OURS = "replace what this tool wrote there and nobody has changed; nothing of yours is deleted"


def _output(
    parser: argparse.ArgumentParser,
    metavar: str,
    says: str,
    force: str = "replace what stands there already",
    *,
    required: bool = True,
) -> None:
    parser.add_argument("-o", "--output", metavar=metavar, required=required, help=says)
    parser.add_argument("--force", action="store_true", help=force)


def _rows(text: str) -> int:
    if not text.isdecimal():
        raise argparse.ArgumentTypeError(f"{text!r} is no number of rows")
    return int(text)
