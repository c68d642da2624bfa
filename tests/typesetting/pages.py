"""What a test asks of a PDF.

texts(pdf)      the text of each page, one line
links(pdf)      each link: the page that it stands on and the page that it leads to, from 0
bookmarks(pdf)  every title with its depth
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import Any

from pypdf import PdfReader

__all__ = ["bookmarks", "links", "texts"]


@cache
def texts(pdf: PdfReader) -> list[str]:
    return [" ".join(page.extract_text().split()) for page in pdf.pages]


def links(pdf: PdfReader) -> list[tuple[int, int]]:
    page_of = {page.indirect_reference: number for number, page in enumerate(pdf.pages)}
    places = pdf.named_destinations
    found = []
    for number, page in enumerate(pdf.pages):
        for annotation in page.get("/Annots", ()):
            it = annotation.get_object()
            assert it["/Subtype"] == "/Link"
            assert "/Dest" in it, "a link that leads out of the document"
            place = it["/Dest"]
            to = places[str(place)].page if isinstance(place, str) else place[0]
            found.append((number, page_of[getattr(to, "indirect_reference", to)]))
    return found


def bookmarks(pdf: PdfReader) -> list[tuple[int, str]]:
    def under(entries: Any, depth: int) -> Iterator[tuple[int, str]]:
        for entry in entries:
            if isinstance(entry, list):
                yield from under(entry, depth + 1)
            else:
                yield depth, str(entry.title)

    return list(under(pdf.outline, 0))
