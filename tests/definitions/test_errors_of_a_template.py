"""Every fault of a template file gets one sentence that names file, table and key."""

from __future__ import annotations

from pathlib import Path

import pytest

from workbook_tools.definitions import check_rule_names, load_template
from workbook_tools.errors import Unusable

HEAD = '[template]\nextends = "base"\ntitle = "Survey of a firm"\n'


def sentence(folder: Path, text: str, head: str = HEAD) -> str:
    path = folder / "firm.toml"
    path.write_text(head + text, encoding="utf-8")
    with pytest.raises(Unusable) as raised:
        load_template(path)
    said = str(raised.value)
    assert "\n" not in said
    assert said.endswith(".")
    return said


COLUMN = '[sheets.rooms]\ncolumns = [{{ field = "shelf", heading = "Shelf", ask = "Which shelf.", {} }}]\n'
LIKE = '[vocabulary.kind]\nchoices = [{{ name = "{}", like = "{}" }}]\n'

FAULTS = {
    "unknown top table": ("[sheetz]\n", "[file] sheetz is no key of this table; did you mean sheets"),
    "unknown key": ('[firm]\ncolor = "#000000"\n', "[firm] color is no key of this table; did you mean colour"),
    "wrong type": ("[firm]\nname = 5\n", "[firm] name is 5; text was expected"),
    "true for text": ("[firm]\nname = true\n", "[firm] name is True; text was expected"),
    "colour": ('[firm]\naccent = "red"\n', "[firm] accent is 'red'; a colour is written like #22505A"),
    "paper": ('[firm]\npaper = "a5"\n', "[firm] paper is 'a5'; one of letter, a4 was expected"),
    "firm name": ("[firm]\nname = 7\n", "[firm] name is 7; text was expected"),
    "list of texts": ("[firm]\nlines = [1]\n", "[firm] lines holds 1; a list of texts was expected"),
    "table for text": ('[sheets]\nrooms = "Rooms"\n', "[sheets] rooms is 'Rooms'; a table was expected"),
    "column key": (COLUMN.format("heigth = 1"), "[sheets.rooms.columns.shelf] heigth is no key of this table"),
    "holds": (COLUMN.format('holds = "texts"'), "[sheets.rooms.columns.shelf] holds is 'texts'; one of text, tag,"),
    "width": (COLUMN.format("width = 0.5"), "[sheets.rooms.columns.shelf] width is 0.5; 1 to 250 characters"),
    "width infinite": (COLUMN.format("width = inf"), "[sheets.rooms.columns.shelf] width is inf; a number was expected"),
    "choice without vocabulary": (
        COLUMN.format('holds = "choice"'),
        "[sheets.rooms.columns.shelf] vocabulary is missing: a choice needs one",
    ),
    "vocabulary unknown": (
        COLUMN.format('vocabulary = "shelves"'),
        "[sheets.rooms.columns.shelf] vocabulary is 'shelves'; no [vocabulary.shelves] is defined",
    ),
    "live unknown": (COLUMN.format('live = "shelf_life"'), "[sheets.rooms.columns.shelf] live is 'shelf_life'; one of"),
    "live lacks a column": (
        COLUMN.format('live = "turns_ratio"'),
        "[sheets.rooms.columns.shelf] live is 'turns_ratio', which needs the column 'primary_v' on this sheet",
    ),
    "plausible": (COLUMN.format("plausible = [9, 3]"), "[sheets.rooms.columns.shelf] plausible is [9, 3]; [lowest, highest]"),
    "refers to": (COLUMN.format('refers_to = ["attic"]'), "refers_to names 'attic', which is no table sheet"),
    "like no stock kind": (
        LIKE.format("Kiln switch", "Disconnect swich"),
        "[vocabulary.kind.choices.Kiln switch] like is 'Disconnect swich', which is no stock kind; did you mean Disconnect switch",
    ),
    "like nothing near": (LIKE.format("Kiln switch", "Oven"), "like is 'Oven', which is no stock kind; one of Service disconnect,"),
    "like a kind of the firm": (LIKE.format("Kiln switch", "Kiln switch"), "like is 'Kiln switch', which is no stock kind"),
    "a stock kind like another": (
        LIKE.format("Panelboard", "Switchboard"),
        "[vocabulary.kind.choices.Panelboard] like is 'Switchboard', and Panelboard is a stock kind itself",
    ),
    "like for no kind": (
        LIKE.replace("kind", "yes_no").format("Perhaps", "Panelboard"),
        "[vocabulary.yes_no.choices.Perhaps] like is for a kind of equipment, in [vocabulary.kind] only",
    ),
    "required for": (COLUMN.format('required_for = ["Fridge"]'), "required_for names the kind 'Fridge', which"),
    "default": (
        COLUMN.format('holds = "choice", vocabulary = "yes_no", default = "Perhaps"'),
        "[sheets.rooms.columns.shelf] default is 'Perhaps', which [vocabulary.yes_no] does not have",
    ),
    "remove nothing": (
        '[sheets.rooms]\ncolumns = [{ field = "shelf", remove = true }]\n',
        "[sheets.rooms] columns removes field 'shelf', and there is none to remove",
    ),
    "after nothing": (COLUMN.format('after = "attic"'), "[sheets.rooms] columns puts field 'shelf' after 'attic', and there is none"),
    "no ask": (
        '[sheets.rooms]\ncolumns = [{ field = "shelf", heading = "Shelf" }]\n',
        "[sheets.rooms.columns.shelf] ask must say in 1 to 255 characters what to fill in",
    ),
    "long ask": (
        f'[sheets.rooms]\ncolumns = [{{ field = "shelf", heading = "Shelf", ask = "{"x" * 256}" }}]\n',
        "[sheets.rooms.columns.shelf] ask must say in 1 to 255 characters",
    ),
    "no heading": (
        '[sheets.rooms]\ncolumns = [{ field = "shelf", ask = "Which." }]\n',
        "[sheets.rooms.columns.shelf] heading is missing",
    ),
    "field name": (
        '[sheets.rooms]\ncolumns = [{ field = "A shelf", heading = "Shelf", ask = "Which." }]\n',
        "[sheets.rooms.columns.A shelf] field is 'A shelf'; small letters, digits and _ were expected",
    ),
    "column twice": (
        '[sheets.rooms]\ncolumns = [{ field = "shelf" }, { field = "shelf" }]\n',
        "[sheets.rooms] columns has field 'shelf' twice",
    ),
    "heading claimed twice": (
        COLUMN.format('also_called = ["FLOOR"]'),
        "[sheets.rooms] columns 'FLOOR' of 'shelf' already means 'level' ('floor')",
    ),
    "heading of a live cell": (
        COLUMN.format('also_called = ["row check"]'),
        "columns 'row check' of 'shelf' already means 'row_check' ('Row check')",
    ),
    "spelling says nothing": (COLUMN.format('also_called = ["()"]'), "also_called holds '()'; each needs at least one"),
    "identity removed": (
        '[sheets.equipment]\ncolumns = [{ field = "tag", remove = true }]\n',
        "[sheets.equipment] columns has no field 'tag', which tells one row from another",
    ),
    "sheet name long": (
        f'[sheets.rooms]\nname = "{"R" * 32}"\n',
        "[sheets.rooms] name is 'RRRRRRRRRRRRRRRRRRRRRRRRRRRRRRRR'; at most 31 characters",
    ),
    "sheet name sign": ('[sheets.rooms]\nname = "Rooms/Areas"\n', "[sheets.rooms] name is 'Rooms/Areas'; at most 31"),
    "sheet name taken": ('[sheets.rooms]\nname = "EQUIPMENT"\n', "[sheets.rooms] name is 'Equipment', which is the name of [sheets.equipment] too"),
    "layout": ('[sheets.rooms]\nlayout = "grid"\n', "[sheets.rooms] layout is 'grid'; one of guide, labels, table, lists"),
    "sheet of no order": ('[sheets.roof]\nname = "Roof"\n', "[sheets] roof is missing in [template] sheet_order"),
    "choice claimed twice": (
        '[vocabulary.yes_no]\nchoices = [{ name = "Maybe", also_called = ["n"] }]\n',
        "[vocabulary.yes_no] choices 'n' of Maybe already means No ('n')",
    ),
    "choice the rules need": (
        '[vocabulary.access]\nchoices = [{ name = "Entered", remove = true }]\n',
        "[vocabulary.access] choices lacks 'Entered', which the rules go by",
    ),
    "no choices": ("[vocabulary.colour]\nchoices = []\n", "[vocabulary.colour] choices is empty"),
    "choices no list": ('[vocabulary.colour]\nchoices = "red"\n', "[vocabulary.colour] choices is 'red'; a list was expected"),
    "choice no table": ("[vocabulary.colour]\nchoices = [3]\n", "[vocabulary.colour] choices holds 3; a list of tables"),
    "choice key": (
        '[vocabulary.colour]\nchoices = [{ name = "Red", also_call = ["r"] }]\n',
        "[vocabulary.colour.choices] also_call is no key of this table; did you mean also_called",
    ),
    "priorities": (
        '[vocabulary.priority]\nchoices = ["Whenever"]\n',
        "[vocabulary.priority] choices must be Act now, Correct soon, Upkeep, Record, most urgent first",
    ),
    "finding priority": (
        '[[findings]]\ncode = "X-1"\nname = "Bent pipe"\npriority = "Soon"\n',
        "[findings.X-1] priority is 'Soon'; one of Act now, Correct soon, Upkeep, Record was expected",
    ),
    "finding name": ('[[findings]]\ncode = "X-1"\npriority = "Record"\n', "[findings.X-1] name is missing"),
    "finding spelled twice": (
        '[[findings]]\ncode = "X-1"\nname = "Open knockout"\npriority = "Record"\n',
        "'Open knockout' of X-1 already means DEF-19",
    ),
    "finding contradicts nothing": (
        '[[findings]]\ncode = "X-1"\nname = "Bent pipe"\npriority = "Record"\ndisagrees_with = ["access=Flying"]\n',
        "[findings.X-1] disagrees_with holds 'access=Flying', which is no field=choice of this template",
    ),
    "rule without reason": ("[rules.duplicate-tag]\noff = true\n", "[rules.duplicate-tag] reason is missing"),
    "rule unchanged": ('[rules.duplicate-tag]\nreason = "x"\n', "[rules.duplicate-tag] off or priority is missing"),
    "rule priority": (
        '[rules.duplicate-tag]\npriority = "High"\nreason = "x"\n',
        "[rules.duplicate-tag] priority is 'High'; one of Act now",
    ),
}  # fmt: skip


@pytest.mark.parametrize("fault", FAULTS)
def test_a_fault_names_file_table_and_key(fault: str, tmp_path: Path) -> None:
    text, expected = FAULTS[fault]
    said = sentence(tmp_path, text)
    assert said.startswith("firm.toml: [")
    assert expected in said


HEADS = {
    "extends unknown": ('[template]\nextends = "ofice"\n', "extends names 'ofice', which is neither a stock template nor"),
    "extends itself": ('[template]\nextends = "firm"\n', "[template] extends comes back to the same file"),
    "extends no text": ("[template]\nextends = 7\n", "[template] extends is 7; the name of a template was expected"),
    "extends a path": ('[template]\nextends = "../firm"\n', "extends names '../firm', which is neither"),
    "include missing": ('include = ["more.toml"]\n' + HEAD, "[file] include names 'more.toml', and there is no such file"),
    "include a path": ('include = ["../more.toml"]\n' + HEAD, "[file] include names '../more.toml', and there is no such"),
    "template no table": ("template = 5\n", "[file] template is 5; a table was expected"),
    "no title": ('[template]\nname = "x"\n', "[file] vocabulary is missing"),
    "choices of nothing": (
        HEAD + '[vocabulary.code_profile]\nfrom = "profiles"\n',
        "[vocabulary.code_profile] from is 'profiles'; 'code profiles' was expected",
    ),
    "profile": (HEAD + 'code_profile = "nec-2032"\n', "[template] code_profile is 'nec-2032'; one of "),
    "unit": (HEAD + 'dimension_unit = "yd"\n', "[template] dimension_unit is 'yd'; one of in, ft, mm, cm, m"),
    "order": (HEAD + 'sheet_order = ["start", "attic"]\n', "[template] sheet_order names 'attic', which [sheets] does not"),
    "order twice": (HEAD + 'sheet_order = ["start", "start"]\n', "[template] sheet_order names 'start' twice"),
    "order short": (
        HEAD + 'sheet_order = ["start", "job", "lists"]\n',
        "[template] sheet_order leaves out 'equipment', which no survey workbook can do without",
    ),
    "amendments": (HEAD + 'amendments = "city.toml"\n', "[template] amendments names 'city.toml', and there is no such"),
    "findings first": (HEAD + 'findings_first = ["DEF-1000"]\n', "[template] findings_first names 'DEF-1000', which is no code"),
    "sources": ('outside_sources = ["Utility 2"]\n' + HEAD, "[file] outside_sources holds 'Utility 2'; a name without"),
    "not TOML": ("[template\n", "firm.toml is no TOML file"),
    "too deep": ("a = " + "[" * 5000 + "]" * 5000, "firm.toml is no template: its lists or tables stand too deep"),
}  # fmt: skip


@pytest.mark.parametrize("fault", HEADS)
def test_a_fault_of_the_head_is_named(fault: str, tmp_path: Path) -> None:
    text, expected = HEADS[fault]
    assert expected in sentence(tmp_path, "", head=text)


def test_the_file_that_holds_the_fault_is_named(tmp_path: Path) -> None:
    (tmp_path / "house.toml").write_text(HEAD + '[firm]\naccent = "red"\n', encoding="utf-8")
    said = sentence(tmp_path, '[firm]\nname = "A branch"\n', head='[template]\nextends = "house"\n')
    assert said.startswith("house.toml: [firm] accent is 'red'")


def test_an_included_file_with_a_fault_is_named(tmp_path: Path) -> None:
    (tmp_path / "more.toml").write_text('[[findings]]\ncode = "X-1"\nname = "Bent pipe"\n', encoding="utf-8")
    said = sentence(tmp_path, "", head='include = ["more.toml"]\n' + HEAD)
    assert said == "more.toml: [findings.X-1] priority is missing."


@pytest.mark.parametrize("name", ["ofice", "", "no such.toml", "a/b", "x\0.toml", "y" * 400 + ".toml"])
def test_a_template_that_is_not_there_is_said_in_a_sentence(name: str) -> None:
    with pytest.raises(Unusable, match=r"There is no (stock template|template file)"):
        load_template(name)


def test_a_wrong_name_is_answered_with_the_nearest() -> None:
    with pytest.raises(Unusable, match="Did you mean office"):
        load_template("ofice")


@pytest.mark.parametrize("data", [b"\xff\xfe\x00t", b"\x80abc", b"a = 1\0", b"\xef\xbb\xbf[template"])
def test_bytes_that_are_no_template_are_said_in_a_sentence(data: bytes, tmp_path: Path) -> None:
    path = tmp_path / "firm.toml"
    path.write_bytes(data)
    with pytest.raises(Unusable, match=r"firm\.toml is no"):
        load_template(path)


def test_a_rule_that_there_is_not_is_named_with_the_nearest(tmp_path: Path) -> None:
    path = tmp_path / "firm.toml"
    path.write_text(HEAD + '[rules.duplicate-tags]\noff = true\nreason = "Not ours."\n', encoding="utf-8")
    template = load_template(path)
    with pytest.raises(
        Unusable, match=r"firm\.toml: \[rules\.duplicate-tags\] names no rule .* duplicate-tag\."
    ):
        check_rule_names(template, ["duplicate-tag", "unknown-tag"])
