"""What a stranger at a terminal meets: help, mistakes, exit statuses, quiet pipes."""

import subprocess
import sys

import pytest

from workbook_tools import __version__
from workbook_tools.cli import main
from workbook_tools.cli.arguments import build_parser
from workbook_tools.cli.terminal import emphasised

COMMANDS = ("new", "templates", "check", "overview", "deliver", "explain", "demo", "completion")


def run(*words, **options):
    return subprocess.run(
        [sys.executable, "-m", "workbook_tools", *map(str, words)],
        capture_output=True, text=True, timeout=120, check=False, **options,
    )  # fmt: skip


def says(capsys, *words):
    """Return the exit status and the one sentence on standard error."""
    status = main([str(w) for w in words])
    out, err = capsys.readouterr()
    assert "Traceback" not in err + out
    return status, err


@pytest.mark.parametrize("command", COMMANDS)
def test_every_help_reads_like_an_answer_with_an_example(command, capsys):
    with pytest.raises(SystemExit) as left:
        main([command, "--help"])
    text = capsys.readouterr().out
    assert left.value.code == 0
    assert "example:" in text
    assert f"workbook-tools {command}" in text


def test_the_main_help_names_every_command(capsys):
    with pytest.raises(SystemExit):
        main(["--help"])
    text = capsys.readouterr().out
    assert all(f"    {command}" in text for command in COMMANDS)


def test_the_version(capsys):
    with pytest.raises(SystemExit):
        main(["--version"])
    assert capsys.readouterr().out == f"workbook-tools {__version__}\n"


@pytest.mark.parametrize(
    ("words", "offered"),
    [
        (["chek"], "check"),
        (["deliverr", "x"], "deliver"),
        (["new", "--tmplate", "office", "-o", "x.xlsx"], "--template"),
        (["check", "a.xlsx", "--phtos", "p"], "--photos"),
        (["explain", "working-dept-short"], "working-depth-short"),
        (["new", "--template", "offise", "-o", "x.xlsx"], "office"),
        (["completion", "bsh"], "bash"),
    ],
)
def test_a_mistyped_word_is_answered_with_the_nearest(words, offered, capsys, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    status, err = says(capsys, *words)
    assert status == 2
    assert offered in err
    assert err.count("\n") == 1


def test_a_wrong_job_answer_is_named(capsys, tmp_path):
    status, err = says(capsys, "new", "--job", "Property", "-o", tmp_path / "x.xlsx")
    assert (status, "KEY=VALUE" in err) == (2, True)
    assert not (tmp_path / "x.xlsx").exists()


def test_a_wrong_number_of_rows_is_named(capsys, tmp_path):
    status, err = says(capsys, "new", "--rows", "many", "-o", tmp_path / "x.xlsx")
    assert (status, "'many' is no number of rows" in err) == (2, True)


def test_no_command_prints_the_help():
    done = run()
    assert done.returncode == 2
    assert "commands:" in done.stdout


def test_nothing_is_coloured_when_piped_or_with_no_color(monkeypatch):
    class Screen:
        def isatty(self):
            return True

    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.setenv("TERM", "xterm")
    assert emphasised("x", Screen()) == "\033[1mx\033[0m"
    monkeypatch.setenv("NO_COLOR", "")
    assert emphasised("x", Screen()) == "x"
    assert "\033" not in run("templates").stdout


def test_a_reader_that_goes_away_is_no_fault():
    process = subprocess.Popen(
        [sys.executable, "-m", "workbook_tools", "explain"], stdout=subprocess.PIPE, stderr=subprocess.PIPE
    )
    assert process.stdout is not None
    process.stdout.close()
    assert process.stderr is not None
    assert b"Traceback" not in process.stderr.read()
    process.stderr.close()
    process.wait(30)


@pytest.mark.parametrize("shell", ["bash", "zsh", "tcsh"])
def test_completion_knows_every_command(shell, capsys):
    assert main(["completion", shell]) == 0
    text = capsys.readouterr().out
    assert all(command in text for command in COMMANDS)


def test_help_and_a_mistake_load_no_heavy_library():
    program = (
        "import sys; from workbook_tools.cli import main; main(['chek']); "
        "print(sorted({'pandas', 'pint', 'openpyxl', 'xlsxwriter', 'PIL'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert done.stdout == "[]\n"


def test_a_fault_of_our_own_is_one_sentence(capsys, monkeypatch):
    from workbook_tools.cli import calls

    def broken(call):
        raise TypeError("something of ours")

    monkeypatch.setitem(calls._COMMANDS, "templates", broken)
    monkeypatch.delenv("WORKBOOK_TOOLS_TRACEBACK", raising=False)
    status, err = says(capsys, "templates")
    assert status == 2
    assert "a fault in the tool itself (TypeError: something of ours)" in err


def test_every_option_says_what_it_does():
    parser = build_parser()
    for actions in [parser._actions, *(p._actions for p in _subparsers(parser))]:
        for action in actions:
            assert action.help or action.dest == "command", action


def _subparsers(parser):
    import argparse

    for action in parser._actions:
        if isinstance(action, argparse._SubParsersAction):
            yield from action.choices.values()


def test_amendments_that_do_not_hold_together_are_named(capsys, tmp_path):
    (tmp_path / "county.toml").write_text("[width]\nleast_in = 3\n")
    template = tmp_path / "ours.toml"
    template.write_text('[template]\nextends = "office"\ntitle = "Ours"\namendments = "county.toml"\n')
    status, err = says(capsys, "new", "--template", template, "-o", tmp_path / "x.xlsx")
    assert status == 2
    assert "[width] least_in is no number of the profile" in err
    assert not (tmp_path / "x.xlsx").exists()
