"""Reading XML parts of a workbook: streamed, guarded, damage-tolerant.

    read_elements   calls back for every element, and again after a broken place
    read_tree       a small part as nested Nodes
    local           a name without its prefix; LocalNames and local_attributes for many

A DOCTYPE is refused: no program writes one into a workbook, and entities are the way
in for hostile files. Names are compared without prefix and namespace, so strict,
transitional and oddly prefixed files read alike.

Not here: the zip around the parts (package).
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from pyexpat import ExpatError, ParserCreate, XMLParserType

__all__ = [
    "DEEPEST",
    "DoctypeFound",
    "LocalNames",
    "Node",
    "local",
    "local_attributes",
    "read_elements",
    "read_tree",
]

MOST_BREAKS = 200  # broken places after which a part is given up

# Against parts made to do harm. Sheets are some ten elements deep and know some hundred names; a
# tag is at most some kilobytes long, and older parsers begin a token again with every piece read.
DEEPEST = 256
MOST_NAMES = 50_000
LONGEST_TOKEN = 4_000_000
MOST_NODES = 500_000  # of a part that is held as a tree


class DoctypeFound(Exception):
    """The part declares a document type; the file must be refused."""


Start = Callable[[str, dict[str, str]], None]


def local(name: str) -> str:
    """Give a name without its prefix: `local("x:row")` is "row"."""
    return name[name.rfind(":") + 1 :]


class LocalNames(dict[str, str]):
    """Names without prefix, worked out once for each name."""

    def __missing__(self, name: str) -> str:
        """Work one out."""
        self[name] = found = local(name)
        return found


def local_attributes(attributes: dict[str, str]) -> dict[str, str]:
    """Attributes by their names without prefix."""
    return {local(name): value for name, value in attributes.items()}


def read_elements(
    chunks: Iterable[bytes],
    start: Start,
    end: Callable[[str], None],
    text: Callable[[str], object],
    broke: Callable[[str], dict[bytes, bytes]] | None = None,
) -> list[str]:
    """Read one part and call back for each element; return what broke.

    `broke` hears of every broken place, and gives the tags at which reading may go on
    (`b"<row"`), each with the opening tags to put before it, for a new parser.

    Returns
    -------
    breaks : list of str
        The parser's words for every broken place, empty for a healthy part.

    Raises
    ------
    DoctypeFound
        The part declares a document type.
    """
    source = iter(chunks)
    breaks: list[str] = []
    pending = b""
    while True:
        parser = _parser(start, end, text)
        chunk, before = pending, 0
        stalled, token = 0, -1
        try:
            if chunk:
                parser.Parse(chunk, False)
            for following in source:
                before += len(chunk)
                chunk = following
                parser.Parse(chunk, False)
                stalled = stalled + len(chunk) if parser.CurrentByteIndex == token else 0
                token = parser.CurrentByteIndex
                if stalled > LONGEST_TOKEN or len(parser.intern) > MOST_NAMES:
                    raise ValueError("a tag or comment without end, or names without number")
            parser.Parse(b"", True)
            return breaks
        except (ExpatError, ValueError, LookupError) as error:
            breaks.append(str(error))
        openings = broke(breaks[-1]) if broke is not None else None
        if openings is None or len(breaks) >= MOST_BREAKS:
            _drain(source)
            return breaks
        tail = chunk[max(parser.ErrorByteIndex - before, -1) + 1 :]
        pending = _resume(tail, source, openings)
        if not pending:
            return breaks


def _parser(start: Start, end: Callable[[str], None], text: Callable[[str], object]) -> XMLParserType:
    parser = ParserCreate()
    parser.buffer_text = True
    parser.StartElementHandler = start
    parser.EndElementHandler = end
    parser.CharacterDataHandler = text
    parser.StartDoctypeDeclHandler = _refuse_doctype
    return parser


def _refuse_doctype(*_: object) -> None:
    raise DoctypeFound


def _drain(source: Iterator[bytes]) -> None:
    """Read to the end, so that the checksum of the part is compared."""
    for _ in source:
        pass


def _resume(tail: bytes, source: Iterator[bytes], openings: dict[bytes, bytes]) -> bytes:
    """Bytes from the next wanted tag on, as far as they are read, after its opening tags."""
    wanted = re.compile(b"(" + b"|".join(map(re.escape, openings)) + rb")[\s/>]")
    longest = max(map(len, openings))
    while (found := wanted.search(tail)) is None:
        following = next(source, None)
        if following is None:
            return b""
        tail = tail[-longest - 1 :] + following
    return openings[found[1]] + tail[found.start() :]


class Node:
    """One element of a small part; names without prefix."""

    __slots__ = ("attributes", "children", "tag", "text")

    def __init__(self, tag: str, attributes: dict[str, str]) -> None:
        self.tag = tag
        self.attributes = attributes
        self.children: list[Node] = []
        self.text = ""

    def walk(self, *tags: str) -> Iterator[Node]:
        """Every element below that bears one of the tags, in document order."""
        waiting = self.children[::-1]
        while waiting:
            node = waiting.pop()
            if node.tag in tags:
                yield node
            waiting.extend(reversed(node.children))

    def first(self, *tags: str) -> Node | None:
        """First element below that bears one of the tags."""
        return next(self.walk(*tags), None)


def read_tree(chunks: Iterable[bytes]) -> tuple[Node, list[str]]:
    """Read a small part into nodes below a nameless root; what broke comes with it."""
    root = Node("", {})
    stack = [root]
    words: list[str] = []
    nodes = 0

    def start(tag: str, attributes: dict[str, str]) -> None:
        nonlocal nodes
        nodes += 1
        if nodes > MOST_NODES or len(stack) > DEEPEST:
            raise ValueError("too many elements, or too deep")
        words.clear()
        node = Node(local(tag), local_attributes(attributes))
        stack[-1].children.append(node)
        stack.append(node)

    def end(_: str) -> None:
        node = stack.pop()
        if not node.children:
            node.text = "".join(words)
        words.clear()

    return root, read_elements(chunks, start, end, words.append)
