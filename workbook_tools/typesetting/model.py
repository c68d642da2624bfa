"""What a printed schedule is made of, before it is set: plain texts in the order in which they are read.

    Document    the whole of it: title, paper, colours, running lines, the first page, the chapters
    FirstPage   the three answers, what there is of each priority, the cautions
    Answer      one of the three, with its lines
    Chapter     a heading, a few words, and tables, cards, a picture or photos
    Table, Column, Band, Row, Run   a table; a band is a heading between rows, a run a few words that look alike
    Card        one issue
    Picture     one page of the supply picture: DrawnBox, DrawnWire, DrawnRoom
    Shown       a photo with its caption

Every id (`row-12`, `issue-3`, `photo-7`) is made of a kind and a position, never of anything typed, and each
stands in the document once; `to` names the id that a run leads to.

Not here: how any of it comes about (content), or how it looks (schedule.typ).
"""

from __future__ import annotations

from dataclasses import dataclass, field

__all__ = [
    "Answer",
    "Band",
    "Card",
    "Cards",
    "Chapter",
    "Colours",
    "Column",
    "Document",
    "DrawnBox",
    "DrawnRoom",
    "DrawnWire",
    "FirstPage",
    "Picture",
    "Row",
    "Run",
    "Shown",
    "Table",
    "Tile",
    "Words",
]


@dataclass(frozen=True, slots=True)
class Run:
    """A few words that look alike; `mark` is the sign of a priority before them."""

    text: str
    to: str = ""
    strong: bool = False
    mark: str = ""


Words = tuple[Run, ...]
"""One text: its runs, one after the other."""


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table; its width beside that of the others, and where its texts stand.

    A `box` is there to be ticked, a column with a `rule` to be written in.
    """

    heading: str
    width: float
    align: str = "left"
    box: bool = False
    rule: bool = False


@dataclass(frozen=True, slots=True)
class Row:
    """A row of a table. `whole` rows stay on one page; `short` is printed with more weight."""

    cells: tuple[Words, ...]
    id: str = ""
    whole: bool = True
    short: bool = False


@dataclass(frozen=True, slots=True)
class Band:
    """Rows under a heading of their own, which is repeated where they go on; "" for none."""

    title: str
    rows: tuple[Row, ...]
    mark: str = ""


@dataclass(frozen=True, slots=True)
class Table:
    """A table, and the heading above it; "" for none."""

    title: str
    columns: tuple[Column, ...]
    bands: tuple[Band, ...]


@dataclass(frozen=True, slots=True)
class Shown:
    """A photo: its file, its size [pixels], what is said under it and to whom who cannot see it.

    `id` is "" where the photo has been shown before.
    """

    id: str
    file: str
    width: int
    height: int
    caption: Words
    described: str


@dataclass(frozen=True, slots=True)
class Card:
    """One issue: its heading, its lines (each a label and a text), its photos or why there is none."""

    id: str
    mark: str
    number: str
    place: str
    priority: str
    lines: tuple[tuple[str, Words], ...]
    photos: tuple[Shown, ...]
    no_photo: str
    whole: bool = True


@dataclass(frozen=True, slots=True)
class Cards:
    """The issues of one priority."""

    title: str
    mark: str
    cards: tuple[Card, ...]


@dataclass(frozen=True, slots=True)
class DrawnBox:
    """A box of the supply picture [mm]; `urgent` ones have a thick edge, sources are filled."""

    x: float
    y: float
    wide: float
    high: float
    mark: str
    urgent: bool
    source: bool
    name: Run
    kind: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class DrawnWire:
    """A line of the supply picture, through some points [mm]."""

    points: tuple[tuple[float, float], ...]
    broken: bool


@dataclass(frozen=True, slots=True)
class DrawnRoom:
    """The ground of a room: rectangles (x, y, wide, high) [mm], and its name."""

    areas: tuple[tuple[float, float, float, float], ...]
    name: str
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Picture:
    """One page of the supply picture; `letters` and `small` are sizes [points]."""

    title: str
    wide: float
    high: float
    letters: float
    small: float
    rooms: tuple[DrawnRoom, ...]
    wires: tuple[DrawnWire, ...]
    boxes: tuple[DrawnBox, ...]


@dataclass(frozen=True, slots=True)
class Chapter:
    """A chapter: on a new page, a `wide` one on a page across; one that goes `on` stands whole below the one before."""

    id: str
    title: str
    note: str = ""
    wide: bool = False
    on: bool = False
    tables: tuple[Table, ...] = ()
    cards: tuple[Cards, ...] = ()
    pictures: tuple[Picture, ...] = ()
    legend: Words = ()
    photos: tuple[Shown, ...] = ()


@dataclass(frozen=True, slots=True)
class Tile:
    """How many issues of one priority there are."""

    mark: str
    name: str
    count: int


@dataclass(frozen=True, slots=True)
class Answer:
    """One of the three answers of the first page; a line with a mark stands out."""

    title: str
    lines: tuple[Words, ...]
    bullets: bool = False


@dataclass(frozen=True, slots=True)
class FirstPage:
    """What the owner reads before anything else."""

    by: str
    kind: str
    facts: tuple[tuple[str, str], ...]
    draft: str
    tiles: tuple[Tile, ...]
    answers: tuple[Answer, ...]
    cautions_title: str
    cautions: tuple[str, ...]
    contents: str


@dataclass(frozen=True, slots=True)
class Colours:
    """`ink` for letters on white, `fill` for surfaces, `on_fill` for letters on them (#RRGGBB)."""

    ink: str
    fill: str
    on_fill: str


@dataclass(frozen=True, slots=True)
class Document:
    """The printed schedule. `page` is "Page {} of {}": its number and how many there are come in their places."""

    title: str
    author: str
    subject: str
    paper: str
    colours: Colours
    draft: str
    property: str
    running: str
    caution: str
    page: tuple[str, str]
    first: FirstPage
    chapters: tuple[Chapter, ...] = field(default=())
