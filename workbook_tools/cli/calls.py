"""What each command calls and prints.

run(call)   runs the command of a parsed call and returns the exit status
"""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Callable

from workbook_tools.cli.terminal import emphasised, working
from workbook_tools.commands import (
    check,
    check_sites,
    combine,
    compare,
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

__all__ = ["run"]


def run(call: argparse.Namespace) -> int:
    """Run the command and return the exit status."""
    return _COMMANDS[call.command](call)


def _new(call: argparse.Namespace) -> int:
    if call.placement_only:
        return _placement(call)
    if not call.output:
        raise Unusable("Name the workbook to write with -o, or a placement file with --placement-only.")
    with working("Writing the survey workbook"):
        made = new(
            call.output,
            template=call.template,
            fill=call.fill,
            placement=call.placement,
            job=_pairs(
                "--job", call.job, "KEY=VALUE: write it like --job Property='Harbour House'.", blank=True
            ),
            rows=call.rows,
            force=call.force,
        )
    print(emphasised(f"{made.path} is ready to fill in (template {made.template})."))
    if made.filled is not None:
        print("\n".join(made.filled.lines))
    print("Open it in any spreadsheet program and begin with the sheet Start here.")
    return 0


def _placement(call: argparse.Namespace) -> int:
    with working("Reading the lists"):
        made = placement(call.placement_only, call.fill, template=call.template, force=call.force)
    if made.filled is not None:
        print("\n".join(made.filled.lines))
    print(emphasised(f"{made.path} says where each column goes. Correct it, then give it with --placement."))
    return 0


def _pairs(option: str, texts: list[str], wrong: str, *, blank: bool) -> dict[str, str]:
    """Return what stands behind an option as KEY=VALUE, given again and again; `blank` where a value may be."""
    pairs = {}
    for text in texts:
        key, sign, value = (part.strip() for part in text.partition("="))
        if not (sign and key and (value or blank)):
            raise Unusable(f"{option} {text!r} is no {wrong}")
        pairs[key] = value
    return pairs


def _templates(call: argparse.Namespace) -> int:
    lines = templates()
    width = max(map(len, lines))
    for name, line in lines.items():
        print(f"{emphasised(name.ljust(width))}  {line}")
    return 0


def _combine(call: argparse.Namespace) -> int:
    with working("Putting the parts together"):
        made = combine(call.parts, call.output, template=call.template, force=call.force)
    print(emphasised(f"{made.path} is the whole survey."))
    print("\n".join(made.lines))
    print(f"Check it next: workbook-tools check {made.path}")
    return 0


def _check(call: argparse.Namespace) -> int:
    from workbook_tools.checking import as_json, summary

    if len(call.survey) > 1 or os.path.isdir(call.survey[0]):
        return _check_sites(call)
    survey = call.survey[0]
    with working(f"Checking {survey}"):
        checked = check(survey, template=call.template, photos=call.photos, output=call.output)
    if call.json:
        import json

        print(json.dumps(as_json(checked), ensure_ascii=False, indent=1))
    else:
        print(summary(checked, emphasise=emphasised))
        if call.output:
            then = "it is answered and signed." if checked.signed else "answer each problem there, then sign."
            print(f"\nThe review workbook is {call.output}: {then}")
    return 1 if checked.needs_attention else 0


def _check_sites(call: argparse.Namespace) -> int:
    """Check several: each line, or each object of the list, is printed as soon as it is there."""
    from workbook_tools.sites import NotRead, SiteChecked
    from workbook_tools.sites.tally import line_of, one_as_json

    for given, option in ((call.output, "-o"), (call.photos, "--photos")):
        if given:
            raise Unusable(f"{option} is for one survey: name one file, or leave {option} out for several.")
    printed = 0

    def show(one: SiteChecked | NotRead) -> None:
        nonlocal printed
        if call.json:
            print("," if printed else "[", one_as_json(one), sep="\n", flush=True)
        else:
            print(line_of(one), flush=True)
        printed += 1

    tally, passed_over = check_sites(call.survey, each=show, template=call.template, whole=call.json)
    if call.json:
        print("]")
        if passed_over:
            print(passed_over, file=sys.stderr)
    else:
        print("\n".join(tally.lines(passed_over, emphasised)))
    return tally.status


def _watch(call: argparse.Namespace) -> int:
    """Watch a folder: each survey is printed as soon as it is checked, what hinders goes to standard error."""
    import gc

    from workbook_tools.watching.outcomes import line_of_outcome

    gc.enable()  # at rest for a command that soon ends: this one stays

    def say(sentence: str) -> None:
        print(f"workbook-tools: {sentence}", file=sys.stderr, flush=True)

    if not call.once:
        print(f"Watching {call.folder}; Ctrl-C ends it.", flush=True)
    return watch(
        call.folder,
        template=call.template,
        once=call.once,
        each=lambda path, outcome: print(line_of_outcome(path, outcome), flush=True),
        say=say,
    )


def _overview(call: argparse.Namespace) -> int:
    with working(f"Reading the surveys in {', '.join(call.places)}"):
        made = overview(
            call.places, output=call.output, data=call.data, template=call.template, force=call.force
        )
    first, *rest = made.lines
    print("\n".join([emphasised(first), *rest]))
    return made.status


def _deliver(call: argparse.Namespace) -> int:
    with working(f"Delivering {call.survey}"):
        delivered = deliver(
            call.survey,
            output=call.output,
            template=call.template,
            review=call.review,
            photos=call.photos,
            without_photos=call.without_photos,
            draft=call.draft,
            since=call.since,
            handover=call.handover,
            force=call.force,
        )
    first, *rest = delivered.lines
    print("\n".join([emphasised(first), *rest]))
    return 0


_NEW_TAG = "OLD=NEW: write last year's tag and this year's, as in --same LP-3=LP-4."


def _compare(call: argparse.Namespace) -> int:
    from workbook_tools.comparison import comparison_json

    with working("Comparing the two surveys"):
        found = compare(
            call.last,
            call.this,
            output=call.output,
            template=call.template,
            same=_pairs("--same", call.same, _NEW_TAG, blank=False),
            force=call.force,
        )
    if call.json:
        import json

        print(json.dumps(comparison_json(found), ensure_ascii=False, indent=1))
        return 0
    print(emphasised(f"{found.building or 'Property not named'}: {found.last}; now {found.this}."))
    print(f"Issues: {', '.join(f'{count} {state}' for state, count in found.states.items())}.")
    print(f"Equipment: {', '.join(f'{count} {change}' for change, count in found.pieces.items())}.")
    for change in found.equipment:
        if change.change == "renamed?":
            print(
                f"  Is {change.tag} what was called {change.was}? Then say so: --same {change.was}={change.tag}"
            )
    print("\n".join(found.said), end="\n" if found.said else "")
    if call.output:
        print(f"All of it is in {call.output}.")
    return 0


def _explain(call: argparse.Namespace) -> int:
    print(explain(call.rule or ""))
    return 0


def _demo(call: argparse.Namespace) -> int:
    with working("Surveying the invented building"):
        made = demo(call.folder, force=call.force)
    print("\n".join(made.lines))
    return 0


def _completion(call: argparse.Namespace) -> int:
    import shtab

    from workbook_tools.cli.arguments import build_parser

    print(shtab.complete(build_parser(), call.shell))
    return 0


_COMMANDS: dict[str, Callable[[argparse.Namespace], int]] = {
    "new": _new,
    "templates": _templates,
    "combine": _combine,
    "check": _check,
    "watch": _watch,
    "overview": _overview,
    "deliver": _deliver,
    "compare": _compare,
    "explain": _explain,
    "demo": _demo,
    "completion": _completion,
}
