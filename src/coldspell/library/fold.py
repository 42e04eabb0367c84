"""Reduce a typed name to what counts: no case, accents, hyphens, plurals, quotation marks."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache

_RANKS = {"ssp": "subsp", "subspecies": "subsp", "variety": "var", "forma": "f"}
_LETTERS = str.maketrans({"×": " ", "œ": "oe", "Œ": "oe", "æ": "ae", "Æ": "ae", "ø": "o", "Ø": "o", "ł": "l"})
_UMLAUTS = str.maketrans({"ä": "ae", "ö": "oe", "ü": "ue", "Ä": "ae", "Ö": "oe", "Ü": "ue"})
_VARIETY = r"""(?x)
        (?:^|(?<=\s)) (?: '(?P<a>[^']+)' | [‘’](?P<b>[^‘’]+)[’‘] | [“”"„](?P<c>[^“”"„]+)[“”"] ) (?=\s|$)
        | (?<=\s) [cC][vV] \.? \s+ (?P<d>\S.*)$"""
_MARKS = frozenset("'‘’“”\"„")
_DROPPED = dict.fromkeys(map(ord, "'’`."))


@lru_cache(maxsize=16_384)  # a whole library has half as many names
def fold(text: str) -> str:
    """Reduce a name to what counts: lower case, no accents, hyphens, apostrophes, points or hybrid signs.

    >>> fold("Weißdorn"), fold("Chêne-liège"), fold("Cornus sericea ssp. occidentalis")
    ('weissdorn', 'chene liege', 'cornus sericea subsp occidentalis')
    """
    plain = text.translate(_LETTERS).casefold()
    if not plain.isascii():
        plain = _without_accents(plain)
    plain = plain.translate(_DROPPED)
    words = "".join(character if character.isalnum() else " " for character in plain).split()
    return " ".join(_RANKS.get(word, word) for word in words if word != "x")


def _without_accents(text: str) -> str:
    from unicodedata import combining, normalize  # most names have none

    return "".join(character for character in normalize("NFKD", text) if not combining(character))


def singular(folded: str) -> str:
    """Return a folded English common name with its last word in the singular."""
    head, _, last = folded.rpartition(" ")
    if len(last) > 4 and last.endswith("ies"):
        last = last[:-3] + "y"
    elif len(last) > 4 and last.endswith(("ches", "shes", "xes", "sses")):
        last = last[:-2]
    elif len(last) > 3 and last.endswith("s") and not last.endswith(("ss", "us", "is")):
        last = last[:-1]
    return f"{head} {last}".strip()


def spellings(common: str) -> Iterator[str]:
    """Yield the folded spellings under which a common name is found: one word or two, ä or ae.

    >>> list(spellings("sweet chestnuts")), list(spellings("Mährische Eberesche"))[-1]
    (['sweet chestnut', 'sweetchestnut'], 'maehrischeeberesche')
    """
    for text in dict.fromkeys((common, _umlauts_written_out(common))):
        folded = singular(fold(text))
        yield from dict.fromkeys((folded, folded.replace(" ", "")))


def _umlauts_written_out(text: str) -> str:
    if text.isascii():
        return text
    from unicodedata import normalize

    return normalize("NFC", text).translate(_UMLAUTS)


def parted(text: str) -> tuple[str, str]:
    """Part a name from that of a garden variety, which stands in quotation marks or after "cv.".

    A text that is in quotation marks as a whole is the name itself.

    >>> parted("Malus domestica 'Example'"), parted("lamb's ears"), parted("'white oak'")
    (('Malus domestica', 'Example'), ("lamb's ears", ''), ('white oak', ''))
    """
    marked = not _MARKS.isdisjoint(text) or "cv" in text.casefold().replace(".", " ").split()
    found = re.search(_VARIETY, text) if marked else None
    if found is None:
        return text, ""
    variety = next(group for group in found.groups() if group).strip()
    rest = f"{text[: found.start()]} {text[found.end() :]}".strip()
    return (rest, variety) if fold(rest) else (variety, "")
