"""The words of a heading in the form in which headings of foreign lists are compared.

    words_of(text)        its words in one spelling: no case, accents, plural, order or abbreviation
    readable(text)        on one line, with what was broken, glued or underscored set apart again
    WEAK                  words that may stand beside another without changing what it means

"Manufac-/turer", "PanelLocation", "pnl_loc." and "LOCATION OF PANELS" are told apart from nothing:
the words are the same. Abbreviations are common practice of the trade.

Not here: what the words mean (homes), units in headings (the survey's heading_words).
"""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

__all__ = ["AS_THEY_ARE", "WEAK", "readable", "words_of"]

_BROKEN = re.compile(r"(?<=[a-z])[-\u00ad]\s*\n\s*(?=[a-z])|\u00ad")
_GLUED = re.compile(r"(?<=[a-z])(?=[A-Z][a-z]+)|(?<=[a-z]{2})(?=[A-Z]+\b)|(?<=[A-Z])(?=[A-Z][a-z]{2})")
_DOTTED = re.compile(r"\b(?:[A-Za-z]\.){2,}")
_BEHIND_A_BREAK = re.compile(r"(?<=[a-z])-\s+(?=[a-z])")
_WORD = re.compile(r"%|#|[^\W\d_]+|\d+")

_SAME = {
    "number": "no nos num nr nbr n # numero nummer anzahl ref reference",
    "name": "nom nombre nome",
    "equipment": "equip eqpt eqp panel panels pnl pnls panelboard pnlbd board switchboard swbd asset gear apparatus "
    "tablero cuadro tableau quadro verteiler mcc",
    "transformer": "xfmr xfmrs xformer xfrmr xfr trafo transf tx transformador transformateur transformatore",
    "location": "loc located ubicacion ubicazione emplacement localisation standort posizione",
    "room": "rm raum locale stanza sala cuarto",
    "level": "lvl floor flr fl storey story piso planta nivel niveau etage geschoss stockwerk piano livello",
    "building": "bldg bld batiment edificio gebaude",
    "manufacturer": "mfr mfgr mfg manuf manufac maker make manufactured manufacture manufacturing "
    "fabricante fabricant hersteller costruttore marca marque fabrikat constructeur produttore",
    "voltage": "volt volts v vac vlt tension tensione voltaje spannung",
    "ampere": "amp amps a amperes amperage ampacity current corriente corrente courant strom intensidad intensite amperaje amperaggio",
    "phase": "ph phases phs ø φ fase fasi phasen",
    "wire": "w wires hilo hilos fil fils fili leiter",
    "rating": "rated rate rtg",
    "breaker": "bkr brkr cb brk",
    "circuit": "ckt cct cir",
    "description": "desc descr descripcion descrizione beschreibung",
    "short": "s",
    "electrical": "elec elect electric electrico electrique elettrico",
    "primary": "pri prim",
    "secondary": "sec secy",
    "impedance": "imp z",
    "percent": "% pct",
    "clearance": "clr clear clearances working",
    "height": "ht hgt",
    "width": "wd wdth wide",
    "depth": "dpth dp deep",
    "enclosure": "encl cabinet cab",
    "source": "src alimentador",
    "system": "sys",
    "maximum": "max",
    "available": "avail",
    "fault": "flt",
    "interrupting": "interrupt interruption",
    "capacity": "cap",
    "quantity": "qty",
    "type": "typ types tipo art",
    "comment": "comments cmts cmt comentario commentaire commento",
    "remark": "remarks rmks rmk observacion observaciones bemerkung bemerkungen remarque osservazione osservazioni anmerkung anmerkungen",
    "note": "notes nota notas",
    "service": "svc serv",
    "disconnect": "disc",
    "protection": "prot",
    "feed": "feeder einspeisung",
    "fed": "alimentado alimente alimentato gespeist versorgt",
    "from": "fm frm desde por par da dal aus von",
    "upstream": "upstrm",
    "photograph": "photo photos photographs picture pictures image images",
    "year": "yr ano annee anno",
    "identification": "id ident identifier",
    "conductor": "conductors",
    "main": "mains mn",
    "nominal": "nominale nominaux",
}  # fmt: skip
"""The words of headings by what else they are called: abbreviations, and other languages (from memory)."""

_CALLED = {said: word for word, others in _SAME.items() for said in others.split()}
_NO_WORDS = frozenset(
    ["of", "the", "in", "for", "at", "to", "on", "and", "or", "by", "a", "an", "its", "is", "de", "du", "des", "la", "le", "les", "el", "los", "las", "da", "di", "del", "della", "dei", "l", "d", "der", "die", "das", "des", "und", "et", "y", "e", "en"]
) - {"a", "by"}  # fmt: skip
AS_THEY_ARE = frozenset(
    (
        "bus",
        "gas",
        "access",
        "serves",
        "feeds",
        "supplies",
        "across",
        "this",
        "is",
        "class",
        "loads",
        "spaces",
    )
)
"""Words whose ending means something: "spaces" are counted, "space" is a room."""

WEAK = frozenset(
    ("equipment", "electrical", "name", "existing", "value", "data", "info", "nominal", "building", "actual", "site", "field")
)  # fmt: skip
"""Words that may stand beside another without changing what it means ("Panel location", "Name of maker")."""


def readable(text: str) -> str:
    r"""Return a heading on one line, as a person would have typed it.

    Examples
    --------
    >>> readable("Manufac-\nturer"), readable("busRatingAmps"), readable("SHORT_CIRCUIT RATING")
    ('Manufacturer', 'bus Rating Amps', 'SHORT CIRCUIT RATING')
    """
    text = unicodedata.normalize("NFKC", text)
    text = _BROKEN.sub("", text)
    text = _DOTTED.sub(lambda found: found[0].replace(".", ""), text)
    return " ".join(_GLUED.sub(" ", text.replace("_", " ")).split())


@lru_cache(maxsize=16384)
def words_of(text: str) -> tuple[str, ...]:
    """Return the words of a heading in one spelling and one order.

    Examples
    --------
    >>> words_of("LOCATION OF PANELS") == words_of("pnl_loc.") == words_of("PanelLocation")
    True
    >>> words_of("Feeds"), words_of("Fed from")
    (('feeds',), ('fed', 'from'))
    """
    plain = unicodedata.normalize("NFKD", readable(text).casefold())
    plain = "".join(c for c in plain if not unicodedata.combining(c))
    said = [_one_spelling(word) for word in _WORD.findall(plain) if word not in _NO_WORDS]
    return tuple(sorted(set(said)))


def _one_spelling(word: str) -> str:
    if word in AS_THEY_ARE:
        return word
    if word not in _CALLED and len(word) > 3 and word.endswith("s") and not word.endswith("ss"):
        word = word[:-1]
    return _CALLED.get(word, word)
