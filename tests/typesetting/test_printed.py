"""The printed demonstration: its order, links, bookmarks, tags; and drafts, papers, colours, hostile texts."""

from __future__ import annotations

import io
import re
import subprocess
import sys
import tempfile
from collections import Counter
from dataclasses import asdict, replace
from importlib import resources
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.typesetting.conftest import DAY
from tests.typesetting.pages import bookmarks, links, texts
from workbook_tools.definitions import PRIORITIES
from workbook_tools.schedule.headings import BASIS, WHAT_TO_DO, WHAT_WAS_SEEN, WHY_IT_MATTERS
from workbook_tools.schedule.model import SinceEquipment, SinceIssue, SinceLast
from workbook_tools.typesetting import MOST_LINES, print_schedule, typesetter
from workbook_tools.typesetting.characters import BOX
from workbook_tools.typesetting.content import document_of
from workbook_tools.typesetting.issue_cards import NO_PHOTO
from workbook_tools.typesetting.marks import mark_of


def print_of(schedule, folder: Path, *, said=()) -> PdfReader:
    path = folder / "schedule.pdf"
    assert print_schedule(schedule, path, DAY) == said
    return PdfReader(path)


def test_the_first_page_has_the_three_answers_and_all_of_the_cautions(printed, schedule):
    first = texts(printed)[0]
    answers = ("1 Where to switch off the building", "2 What to do first", "3 What was not looked at")
    places = [first.index(answer) for answer in answers]
    assert places == sorted(places)
    for text in (*schedule.services, *schedule.not_looked_at, *schedule.cautions):
        assert " ".join(text.split()) in first
    for condition in schedule.first:
        assert condition.action in first
        assert condition.id in first


def test_a_first_page_with_much_on_it_still_has_the_three_answers(small, schedule, tmp_path):
    long = " ".join(f"word{n}" for n in range(200))
    first = tuple(replace(c, priority="Act now", seen=long, action=long) for c in small.conditions[:6])
    full = replace(small, conditions=first, first=first, services=schedule.services * 2, draft=True)
    pdf = print_of(full, tmp_path)
    for answer in ("1 Where to switch off the building", "2 What to do first", "3 What was not looked at"):
        assert answer in texts(pdf)[0]
    assert small.not_looked_at[-1] in texts(pdf)[0]
    assert small.cautions[-1] in " ".join(texts(pdf)[:2])
    assert "word199" in " ".join(texts(pdf)[1:])


def test_every_page_has_the_caution_and_its_number(printed, schedule):
    pages = texts(printed)
    for number, text in enumerate(pages, 1):
        assert schedule.cautions[0] in text
        assert f"Page {number} of {len(pages)}" in text
        assert schedule.property in text
        assert "DRAFT" not in text


def test_no_page_is_nearly_empty(printed, schedule):
    running = len(schedule.cautions[0]) + len(schedule.property) + 30
    for page in texts(printed):
        assert len(page) > running + 120


def test_a_card_reads_in_order(printed, schedule):
    whole = " ".join(texts(printed))
    for condition in schedule.conditions:
        card = whole[whole.index(f"{condition.id} {condition.place} {condition.priority}") :]
        said = (
            f"{WHAT_WAS_SEEN} {condition.seen}", f"{WHY_IT_MATTERS} {condition.why}", f"{WHAT_TO_DO} {condition.action}",
            f"{BASIS} {condition.basis}",
        )  # fmt: skip
        places = [card.index(text) for text in said]
        assert places == sorted(places)
        assert places[-1] < 1500


def runs_of(value):
    """Return every run of a document that leads somewhere, and every id."""
    if isinstance(value, dict):
        if value.get("to"):
            yield "to", value["to"]
        if value.get("id"):
            yield "id", value["id"]
        for inner in value.values():
            yield from runs_of(inner)
    elif isinstance(value, list | tuple):
        for inner in value:
            yield from runs_of(inner)


def test_every_link_leads_to_a_place_that_stands_there_once(schedule, printed):
    said = list(runs_of(asdict(document_of(schedule))))
    ids = [one for kind, one in said if kind == "id"]
    assert len(ids) == len(set(ids))
    leading = [one for kind, one in said if kind == "to"]
    assert set(leading) <= set(ids)
    # A link that goes on in a second line, and one of the contents, are links of their own.
    assert len(links(printed)) >= len(leading)
    assert {f"photo-{photo.number}" for photo in schedule.photos} <= set(ids)


def test_issue_line_and_photo_lead_to_each_other(printed, schedule):
    pages, leading = texts(printed), set(links(printed))
    for condition in schedule.conditions:
        assert condition.rows
        card = next(n for n, text in enumerate(pages) if f"{condition.id} {condition.place}" in text)
        line = next(n for n, text in enumerate(pages) if f"[{condition.id}]" in text and n > card)
        work = next(n for n, text in enumerate(pages) if condition.id in text and card < n < line)
        assert {(card, line), (line, card), (work, card)} <= leading
        for number in condition.photos:
            assert f"Photo {number}. " in pages[card]
            assert (line, next(n for n, text in enumerate(pages) if f"Photo {number}. " in text)) in leading


def test_an_issue_without_a_photo_says_so(printed, schedule):
    without = sum(not condition.photos for condition in schedule.conditions)
    assert without
    assert " ".join(texts(printed)).count(NO_PHOTO) == without


def test_bookmarks_hold_every_answer_chapter_and_issue(printed, schedule):
    counts = Counter(depth for depth, _ in bookmarks(printed))
    titles = [title for _, title in bookmarks(printed)]
    assert titles[0] == schedule.property
    assert counts[2] == len(schedule.conditions)
    trades = len({item.trade for item in schedule.work})
    priorities = len({condition.priority for condition in schedule.conditions})
    assert counts[1] == 3 + priorities + trades
    assert counts[0] == 11


def test_it_is_tagged_for_screen_readers(printed, schedule):
    root = printed.trailer["/Root"]
    assert root["/Lang"] == "en-US"
    assert root["/MarkInfo"]["/Marked"]
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert printed.metadata.title == f"Electrical survey of {schedule.property}"
    assert printed.metadata.author == schedule.firm.name
    tags: Counter[str] = Counter()
    described = []
    waiting = [root["/StructTreeRoot"]]
    while waiting:
        tag = waiting.pop().get_object()
        if isinstance(tag, list):
            waiting += tag
        elif isinstance(tag, dict):
            tags[str(tag.get("/S", ""))] += 1
            if tag.get("/S") == "/Figure":
                described.append(str(tag["/Alt"]))
            waiting += [tag["/K"]] if "/K" in tag else []
    assert tags["/H1"] == 11
    assert tags["/H3"] == len(schedule.conditions)
    assert tags["/TH"] > 60
    assert tags["/Link"] > 200
    assert all(described)
    assert {re.match(r"Photo (\d+):", text)[1] for text in described} == {
        str(p.number) for p in schedule.photos
    }  # type: ignore[index]


def test_every_face_is_in_the_file(printed):
    faces = [
        font["/DescendantFonts"][0].get_object()["/FontDescriptor"].get_object()
        for page in printed.pages
        for font in (one.get_object() for one in page["/Resources"]["/Font"].values())
    ]
    assert faces
    for face in faces:
        assert {"/FontFile2", "/FontFile3"} & set(face)
        assert "IBMPlexSans" in face["/FontName"]


@pytest.mark.office
def test_another_program_finds_nothing_wrong_with_the_file(office, made):
    done = subprocess.run(
        [office.program("qpdf"), "--check", made / "schedule.pdf"],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    assert "No syntax or stream encoding errors found" in done.stdout


@pytest.mark.office
def test_another_reader_reads_it_in_the_same_order(office, made, schedule):
    said = subprocess.run(
        [office.program("pdftotext"), made / "schedule.pdf", "-"], capture_output=True, text=True, check=True
    ).stdout
    whole = " ".join(said.split())
    answers = ("Where to switch off the building", "What to do first", "What was not looked at", "Cautions")
    places = [whole.index(answer) for answer in answers]
    assert places == sorted(places)
    places = [whole.index(f"{condition.id} {condition.place}") for condition in schedule.conditions]
    assert places == sorted(places)


def test_a_draft_says_so_on_every_page(small, tmp_path):
    for text in texts(print_of(replace(small, draft=True), tmp_path)):
        assert "DRAFT" in text


@pytest.mark.parametrize(("paper", "size"), [("letter", (612, 792)), ("a4", (595, 842))])
def test_it_is_printed_on_the_firms_paper(small, tmp_path, paper, size):
    pdf = print_of(replace(small, firm=replace(small.firm, paper=paper, colour="#F2D24B")), tmp_path)
    boxes = {tuple(sorted((round(p.mediabox.width), round(p.mediabox.height)))) for p in pdf.pages}
    assert boxes == {size}
    # Black letters stand on a pale colour, and the colour itself only letters white paper where it is dark enough.
    drawn = pdf.pages[0].get_contents().get_data().decode("latin-1")  # type: ignore[union-attr]
    assert not re.search(r"0\.949\d* 0\.823\d* 0\.294\d* rg\s*BT", drawn)


HOSTILE = (
    '#read("/etc/passwd")', "#panic()", "*a* _b_ `c` $x^2$ <lab> @ref", "= h", "- i", "// c", "/* d */", "[x] {y}", "\\ ~ --",
    "https://example.org/a", '"quoted" \'single\'', "#let x = 1", "#import \"@preview/x:1.0.0\"", "&amp; <b>",
)  # fmt: skip


def everywhere(schedule, text):
    """Return a small schedule with one text wherever something is typed."""
    return replace(
        schedule,
        property=text,
        facts=(("Client", text),),
        services=(text,),
        rows=tuple(
            replace(row, tag=text, kind=text, room=text, maker=text, fed_from=text, issues=text, issue_ids=())
            for row in schedule.rows[:2]
        ),
        conditions=tuple(
            replace(c, place=text, seen=text, action=text, basis=text, phrase=text)
            for c in schedule.conditions[:2]
        ),
        first=(),
        work=tuple(replace(item, tag=text, room=text, task=text) for item in schedule.work[:2]),
        limits=(replace(schedule.limits[0], group=text, what=text, reason=text),),
        not_looked_at=(text,),
    )


def test_hostile_texts_are_printed_as_typed(small, tmp_path):
    text = " ".join(HOSTILE)
    pdf = print_of(everywhere(small, text), tmp_path)
    said = "".join("".join(page.split()) for page in texts(pdf)).replace("\u200b", "")
    assert said.count("".join(text.split())) > 15
    assert "root:" not in said
    assert pdf.metadata.title == f"Electrical survey of {text}"
    links(pdf)


def test_what_nobody_sees_never_reaches_a_page(small, tmp_path):
    pdf = print_of(everywhere(small, "left\u202eright\u2066 a\u00adb\x07c\u200fd\ufeff\u2028e"), tmp_path)
    for page in texts(pdf):
        assert not set(page) & set("\u202e\u2066\u00ad\x07\u200f\ufeff\u2028")
    assert "leftright abcd e" in texts(pdf)[0]


def test_what_no_font_shows_is_boxed_counted_and_said(small, tmp_path):
    said = (
        f"3 characters cannot be shown in the PDF (\u4f60, \u597d and \U0001f600): {BOX} stands in their place. "
        "The workbook has them."
    )
    pdf = print_of(
        everywhere(small, "a\u4f60\u597d\U0001f600\u4f60 \u00e9\u03a9\u0436"), tmp_path, said=(said,)
    )
    assert f"a{BOX * 4} \u00e9\u03a9\u0436" in texts(pdf)[0]
    assert pdf.trailer["/Root"]["/MarkInfo"]["/Marked"]


def test_a_word_without_an_end_stays_on_the_page(small, tmp_path):
    pdf = print_of(everywhere(small, "W" * 400), tmp_path)
    for page in pdf.pages:
        spots: list[float] = []
        page.extract_text(visitor_text=lambda t, cm, tm, *_: spots.append(tm[4]) if t.strip() else None)  # noqa: B023
        assert max(spots) < page.mediabox.width - 40


def test_a_text_longer_than_a_page_goes_on_over_its_end(small, tmp_path):
    long = " ".join(f"word{n}" for n in range(3000))
    one = replace(small, conditions=(replace(small.conditions[0], seen=long),), first=())
    whole = " ".join(texts(print_of(one, tmp_path)))
    assert "word0 " in whole
    assert "word2999" in whole


def test_texts_from_right_to_left_keep_their_places(small, tmp_path):
    pdf = print_of(replace(small, facts=(("Client", "\u05d0\u05d1"), ("Inspector", "after"))), tmp_path)
    assert re.search("Client .*[\u05d0\u05d1]{2}.* Inspector after", texts(pdf)[0])


def test_the_same_schedule_gives_the_same_bytes_in_every_folder(small, tmp_path, monkeypatch):
    made = []
    for name in ("one", "another place"):
        (tmp_path / name).mkdir()
        monkeypatch.setattr(tempfile, "tempdir", str(tmp_path / name))
        print_schedule(small, tmp_path / name / "schedule.pdf", DAY)
        made.append((tmp_path / name / "schedule.pdf").read_bytes())
        assert [path.name for path in (tmp_path / name).iterdir()] == ["schedule.pdf"]
    assert made[0] == made[1]
    assert PdfReader(io.BytesIO(made[0])).metadata.creation_date.date() == DAY  # type: ignore[union-attr]


def test_where_the_rules_for_screen_readers_cannot_be_kept_it_is_printed_all_the_same(
    small, tmp_path, monkeypatch
):
    # The two exclude each other, so the first try fails.
    monkeypatch.setattr(typesetter, "_STANDARDS", ["ua-1", "a-4"])
    pdf = print_of(small, tmp_path, said=(typesetter.NOT_ACCESSIBLE,))
    assert len(pdf.pages) > 4


def test_where_it_cannot_be_set_at_all_a_sentence_says_so(small, tmp_path, monkeypatch):
    monkeypatch.setattr(typesetter, "_DATA", "elsewhere.json")
    assert print_schedule(small, tmp_path / "schedule.pdf", DAY) == (typesetter.NOT_SET,)
    assert not (tmp_path / "schedule.pdf").exists()


def test_a_schedule_too_long_for_an_ordinary_memory_is_left_to_the_workbook(small, tmp_path):
    for many in (
        replace(small, rows=small.rows[:1] * (MOST_LINES + 1)),
        replace(small, rows=tuple(replace(row, issues="x" * 400_000) for row in small.rows)),
    ):
        (said,) = print_schedule(many, tmp_path / "schedule.pdf", DAY)
        assert said.startswith("No PDF was made: the schedule is longer than what is typeset (")
        assert not (tmp_path / "schedule.pdf").exists()


def test_what_has_changed_since_the_survey_before_is_a_chapter(small, tmp_path):
    one = small.conditions[0]
    since = SinceLast(
        "October 1, 2025", "October 6, 2026", (("new", 1),), (("still there", 1),),
        (SinceEquipment("changed", "RP-1", "Rating", "100", "225 A"),),
        (SinceIssue("still there", one.id, one.priority, one.place, one.seen, "the same finding"),), ("Few tags agree.",),
    )  # fmt: skip
    pdf = print_of(replace(small, since=since), tmp_path)
    page = next(number for number, text in enumerate(texts(pdf)) if "Since last year" in text and number)
    for said in (
        "Before: October 1, 2025. Now: October 6, 2026.",
        "Few tags agree.",
        "the same finding",
        "RP-1 Rating 100 225 A",
    ):
        assert said in texts(pdf)[page]
    assert (page, 1) in links(pdf)


def test_without_the_library_a_sentence_says_so(small, tmp_path, monkeypatch):
    monkeypatch.setitem(sys.modules, "typst", None)
    assert print_schedule(small, tmp_path / "schedule.pdf", DAY) == (typesetter.NO_TYPESETTER,)
    assert not (tmp_path / "schedule.pdf").exists()


def test_without_the_font_package_the_librarys_own_letters_do(small, tmp_path, monkeypatch):
    monkeypatch.setattr(typesetter, "_FONT_PACKAGE", "no_such_package")
    assert small.property in texts(print_of(small, tmp_path))[0]


def test_the_template_runs_nothing_and_fetches_nothing():
    template = resources.files("workbook_tools.typesetting").joinpath("schedule.typ").read_text("utf-8")
    code = re.sub(r"//.*", "", template)
    for word in ("eval(", "read(", "import", "include", "plugin(", "toml(", "yaml(", "xml(", "csv(", "cbor("):
        assert word not in code
    assert re.findall(r"json\((.*?)\)", code) == ['"content.json"']


def test_every_character_of_the_templates_has_a_shape():
    import typst

    root = Path(__file__).resolve().parents[2]
    files = [*(root / "templates").glob("*.toml"), *(root / "workbook_tools" / "schedule").glob("*.py")]
    used = {c for path in files for c in path.read_text("utf-8") if not c.isascii()}
    assert len(used) > 10
    fonts = typst.Fonts(include_system_fonts=False, font_paths=typesetter._fonts())
    assert typesetter._without_a_shape(typst.Compiler(font_paths=fonts), used) == []


def test_priorities_are_told_apart_by_shape():
    assert len({mark_of(priority) for priority in PRIORITIES}) == len(PRIORITIES)
