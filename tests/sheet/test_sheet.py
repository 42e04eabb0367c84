"""The sheet says what the recipe says, in every form, on a page or two.

Held against other libraries: pypdf reads the PDF back (tags as in ISO 32000-1 14.8, language, page size),
`html.parser` and `hashlib` the HTML (CSP level 3: a style allowed by its SHA-256). PDF/UA-1
(ISO 14289-1) is checked by Typst itself, which refuses to write what breaks it.
"""

from __future__ import annotations

import base64
import hashlib
import io
import random
import re
from datetime import date
from html.parser import HTMLParser
from typing import Any

import asking
import lots
import pytest

from coldspell.api import shipped
from coldspell.errors import ColdspellError
from coldspell.sheet.content import Adviser, Sheet, Wanted, sheet
from coldspell.write.recipe import Recipe

WHY = "type: uv run --all-groups pytest (the group surfaces)"
pytest.importorskip("typst", reason=WHY)
pytest.importorskip("segno", reason=WHY)
pytest.importorskip("jinja2", reason=WHY)
pypdf = pytest.importorskip("pypdf", reason=WHY)

from coldspell.sheet.page import page  # noqa: E402
from coldspell.sheet.typeset import PAGES, SIZES, Typesetter  # noqa: E402

AUTUMN, WINTER = date(2026, 10, 12), date(2026, 11, 30)
A4_MM, LETTER_MM = (210, 297), (215.9, 279.4)
"""ISO 216 and ANSI/ASME Y14.1."""
ADVISER = Adviser("A. Mender", "Seed counter of Exampletown", "Invented for a test: <b>not bold</b>.")


def asked(name: str, today: date = AUTUMN, **facts: Any) -> Recipe:
    return shipped().recipe(name, today=today, **facts)


def acorns(**facts: Any) -> Recipe:
    return asked(
        "northern red oak", seeds=40, moisture="fresh", collected="2026-10-12", sow="2027-04-15", **facts
    )


def sheet_of(recipe: Recipe, **wanted: Any) -> Sheet:
    return sheet(recipe, shipped().texts, Wanted(**{"adviser": ADVISER, **wanted}))


@pytest.fixture(scope="module")
def typesetter() -> Typesetter:
    return Typesetter()


def squeezed(text: str) -> str:
    """A text without blanks and the hyphens of broken lines."""
    return re.sub(r"[\s\u00a0\u00ad-]+", "", text)


def words_of(pdf: bytes) -> str:
    return squeezed(" ".join(one.extract_text() for one in pypdf.PdfReader(io.BytesIO(pdf)).pages))


def said(recipe: Recipe, content: Sheet) -> list[str]:
    """What must stand on any sheet of a recipe."""
    found = [recipe.verdict.sentence, *(step.text for step in recipe.steps)]
    found += [look.then_do for look in recipe.checks.looks if look.on_page] if recipe.checks else []
    found += [note.text for note in (*recipe.cautions, *recipe.offspring) if note.on_page]
    return [*found, *content.ticks, *content.short.band, ADVISER.name, ADVISER.office]


def test_a_pdf_has_the_whole_answer_and_is_tagged(typesetter: Typesetter) -> None:
    recipe = acorns()
    content = sheet_of(recipe, june_card=True)
    pdf = typesetter.pdf(content)
    reader = pypdf.PdfReader(io.BytesIO(pdf))
    root = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert str(root["/Lang"]).startswith("en")
    assert "/StructTreeRoot" in root
    assert reader.metadata.title.startswith("Northern red oak")
    assert len(reader.pages) <= PAGES
    text = words_of(pdf)
    for part in [*said(recipe, content), *(row[0] for row in (content.card.rows if content.card else ()))]:
        assert squeezed(part) in text, part


PAPERS = [("metric", "", A4_MM), ("us", "", LETTER_MM), ("us", "a4", A4_MM), ("both", "letter", LETTER_MM)]


@pytest.mark.parametrize(("units", "paper", "sides"), PAPERS)
def test_paper_follows_the_units_or_what_is_asked(
    typesetter: Typesetter, units: str, paper: str, sides: tuple[float, float]
) -> None:
    pdf = typesetter.pdf(sheet_of(asked("apple", WINTER, seeds=15, units=units), paper=paper))
    box = pypdf.PdfReader(io.BytesIO(pdf)).pages[0].mediabox
    assert [float(side) * 25.4 / 72 for side in (box.width, box.height)] == pytest.approx(sides, abs=0.2)


def test_the_same_sheet_gives_the_same_bytes(typesetter: Typesetter) -> None:
    content = sheet_of(acorns())
    assert typesetter.pdf(content) == Typesetter().pdf(content)


def test_a_picture_is_one_png(typesetter: Typesetter) -> None:
    png = typesetter.png(sheet_of(acorns()), ppi=40)
    assert png.startswith(b"\x89PNG\r\n\x1a\n")
    wide, high = (int.from_bytes(png[at : at + 4]) for at in (16, 20))
    assert wide == pytest.approx(A4_MM[0] / 25.4 * 40, abs=1)
    assert high > wide


def test_any_lot_fits_two_pages(typesetter: Typesetter) -> None:
    """Seeded draws over all records and states; letters no smaller than those that are tried."""
    made = 0
    for one in lots.draw(random.Random(3).sample(asking.names(), 24), 24):
        try:
            recipe = asked(one["name"], date.fromisoformat(one["today"]), **one["said"])
        except ColdspellError:
            continue
        content = sheet_of(recipe)
        assert min(typesetter.pages(content, size) for size in SIZES[-1:]) <= PAGES, one
        made += 1
    assert made > 15


def test_a_mixed_genus_prints_its_question(typesetter: Typesetter) -> None:
    recipe = asked("oak", WINTER)
    assert recipe.asks is not None
    text = words_of(typesetter.pdf(sheet_of(recipe)))
    for choice in recipe.asks.choices:
        assert squeezed(choice.answer[1:]) in text


def test_a_plant_without_a_record_prints_how_to_learn(typesetter: Typesetter) -> None:
    recipe = asked("Fictia ignota", WINTER, seeds=40)
    assert recipe.trial is not None
    content = sheet_of(recipe)
    assert content.short.trial is not None
    found, shown = words_of(typesetter.pdf(content)), squeezed(read(page(content)).text)
    for part in content.short.trial.parts:
        for told in (part.head, *(text for _, text in part.steps)):
            assert squeezed(told) in found, told
            assert squeezed(told) in shown, told


class _Read(HTMLParser):
    """Text, ids and what a page would fetch or run."""

    def __init__(self) -> None:
        super().__init__()
        self.text, self.ids, self.policy, self.forbidden = "", [], "", []  # type: ignore[var-annotated]
        self._style = False
        self.style = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        told = dict(attrs)
        self._style = tag == "style"
        if "id" in told:
            self.ids.append(told["id"])
        if told.get("http-equiv") == "Content-Security-Policy":
            self.policy = str(told["content"])
        self.forbidden += [name for name in told if name.startswith("on") or name in ("style", "src", "href")]
        self.forbidden += [tag] if tag in ("script", "link", "iframe", "img", "object") else []

    def handle_endtag(self, tag: str) -> None:
        self._style = False

    def handle_data(self, data: str) -> None:
        if self._style:
            self.style += data
        else:
            self.text += data


def read(html: str) -> _Read:
    found = _Read()
    found.feed(html)
    return found


def test_html_has_the_whole_answer_and_fetches_nothing() -> None:
    recipe = acorns()
    content = sheet_of(recipe, june_card=True)
    found = read(page(content))
    assert not found.forbidden
    digest = base64.b64encode(hashlib.sha256(found.style.encode()).digest()).decode()
    assert found.policy == f"default-src 'none'; style-src 'sha256-{digest}'"
    assert len(found.ids) == len(set(found.ids))
    text = squeezed(found.text)
    for part in [*said(recipe, content), ADVISER.note]:
        assert squeezed(part) in text, part


def test_the_code_reads_back_as_its_days() -> None:
    """By the structure of the symbol: it is as large as segno makes one for the same text (ISO/IEC 18004)."""
    segno = pytest.importorskip("segno")
    content = sheet_of(acorns())
    size = segno.make(content.code.says, error="m", micro=False).symbol_size(border=2)[0]
    assert f'viewBox="0 0 {size} {size}"' in content.code.svg
    for day in ("13 Oct", "15 Apr", "10 May"):
        assert day in content.code.says


def test_notes_name_no_option_of_the_command_line() -> None:
    recipe = asked("apple", WINTER, seeds=15)
    assert "--" in " ".join(recipe.notes)
    assert "--" not in sheet_of(recipe).short.notes
    unknown = asked("Fictia ignota", WINTER, seeds=40)
    assert unknown.trial is not None
    assert "--" in " ".join(note.text for note in unknown.trial.first)
    shown = sheet_of(unknown).short.trial
    assert shown is not None
    assert shown.first
    assert "--" not in " ".join(text for _, text in shown.first)


@pytest.mark.parametrize("missing", ["typst", "segno", "jinja2"])
def test_a_missing_library_is_one_line_to_type(missing: str, monkeypatch: pytest.MonkeyPatch) -> None:
    import sys

    from coldspell.sheet.make import Maker

    monkeypatch.setitem(sys.modules, missing, None)
    with pytest.raises(ColdspellError) as told:
        Maker("html" if missing == "jinja2" else "pdf").made(acorns(), shipped().texts, Wanted())
    assert missing in str(told.value)
    assert 'uv tool install --force ".[sheet,page,season]"' in str(told.value)


TWO_PAGES: dict[str, tuple[date, dict[str, Any]]] = {
    "northern red oak": (AUTUMN, {"seeds": 40, "moisture": "fresh", "sow": "2027-04-15"}),
    "common hawthorn": (WINTER, {"seeds": 200, "moisture": "dried"}),
    "tulip tree": (WINTER, {"seeds": 500, "moisture": "dried", "cut": "5/50"}),
    "black walnut": (date(2026, 11, 20), {"seeds": 5000, "moisture": "fresh", "winter": "cold"}),
    "unknown": (WINTER, {"seeds": 40}),
}
FOOT_MM, EMPTY_MM = 14, 22
"""The lower margin, and how much a page may leave empty over it where another one follows (our choice)."""


@pytest.mark.parametrize("name", sorted(TWO_PAGES))
def test_the_first_of_two_pages_is_filled(typesetter: Typesetter, name: str) -> None:
    """By the places of its letters, as pypdf reads them back; drawings count by their labels."""
    today, facts = TWO_PAGES[name]
    pages = pypdf.PdfReader(io.BytesIO(typesetter.pdf(sheet_of(asked(name, today, **facts))))).pages
    assert len(pages) == 2
    lows: list[float] = []

    def visit(text: str, matrix: list[float], inner: list[float], *_: object) -> None:
        if text.strip():
            lows.append(float(inner[4] * matrix[1] + inner[5] * matrix[3] + matrix[5]) * 25.4 / 72)

    pages[0].extract_text(visitor_text=visit)
    assert min(low for low in lows if low > FOOT_MM) < FOOT_MM + EMPTY_MM, sorted(lows)[:5]


def test_no_line_of_html_ends_within_a_quantity() -> None:
    from coldspell.sheet.unbroken import unbroken

    assert unbroken("Keep <it> at 2–5 °C, 1.5 l; on 3 acorns. (p) Or 12–24 hours. [1,2]") == (
        'Keep &lt;it&gt; at <span class="whole">2–5 °C</span>, <span class="whole">1.5 l</span>; on 3 '
        'acorns.&nbsp;(p) Or <span class="whole">12–24</span> hours.&nbsp;[1,2]'
    )
