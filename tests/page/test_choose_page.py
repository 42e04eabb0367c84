"""The page of what to choose without a browser: wishes, the list with reasons, as the program says it."""

from __future__ import annotations

import csv
import io
import re
from datetime import date
from html import unescape
from typing import Any

import pytest

pytest.importorskip("litestar", reason="type: uv run --all-groups pytest (the group surfaces)")

from coldspell.api import shipped
from coldspell.counter.choose import Wishes

TODAY = date(2026, 11, 30)
"""As `app` has it."""


def listed(text: str) -> list[str]:
    """The botanical names of the table, in its order."""
    return re.findall(r'<th scope="row"><a href="/recipe\?name=([^"&]+)', text)


def names(text: str) -> list[str]:
    return [name.replace("+", " ").replace("%C3%97", "×") for name in listed(text)]


def test_nothing_is_listed_before_it_is_asked(client: Any) -> None:
    text = client.get("/choose").text
    assert not listed(text)
    assert 'name="when" value="now" checked' in text
    assert 'href="/choose"' in client.get("/").text


def test_the_page_lists_what_the_program_chooses(client: Any) -> None:
    found = shipped().choose(Wishes(plant="conifer", harmless=True), today=TODAY)
    text = client.get("/choose?when=now&plant=conifer&harmless=yes").text
    assert names(text) == [one.name for one in found][:40]
    assert f"Kinds that fit: {len(found)}." in text
    rows = unescape(re.sub(r"<[^>]+>", " ", text))
    assert f"{round(found[0].plants or 0)} plants of 100" in rows


def test_what_does_not_fit_the_first_page_stands_on_the_next(client: Any) -> None:
    found = [one.name for one in shipped().choose(Wishes(plant="shrub"), today=TODAY)]
    first = client.get("/choose?when=now&plant=shrub").text
    second = client.get("/choose?when=now&plant=shrub&page=2").text
    assert names(first) + names(second) == found[:80]
    assert "page=2" in first


def test_what_somebody_has_goes_along_to_the_answer(client: Any) -> None:
    text = unescape(client.get("/choose?when=now&plant=nut+tree&moisture=dried&today=2027-01-19").text)
    assert "&moisture=dried&today=2027-01-19" in text
    link = re.search(r'href="(/recipe\?name=[^"]+)"', text)
    assert link is not None
    assert client.get(unescape(link[1])).status_code == 200


def test_days_with_nobody_there_and_a_day_in_words(client: Any) -> None:
    closed = ((date(2026, 12, 20), date(2027, 1, 6)),)
    wanted = shipped().choose(Wishes(plant="grass", closed=closed, plants_by=date(2027, 6, 30)), today=TODAY)
    span = "closed-from=2026-12-20&closed-to=2027-01-06&closed-from=&closed-to="
    address = f"/choose?when=now&plant=grass&{span}"
    text = client.get(f"{address}&plants-by=end+of+June").text
    assert names(text) == [one.name for one in wanted][:40]
    assert "Up by 30 June 2027." in text
    assert text.count('name="closed-from"') == 2  # the span that was said, and room for another


def test_the_whole_list_as_csv(client: Any) -> None:
    found = shipped().choose(Wishes(gather=True), today=TODAY)
    answer = client.get("/choose.csv?when=gather")
    assert answer.headers["content-type"].startswith("text/csv")
    rows = list(csv.DictReader(io.StringIO(answer.text)))
    assert [row["name"] for row in rows] == [one.name for one in found]


def test_the_place_is_asked_for_and_what_the_law_says_there_stands_with_the_kind(client: Any) -> None:
    ask = "/choose?when=any&plant=broadleaf+tree"
    assert 'name="place"' in client.get("/choose").text
    silent = client.get(ask).text
    assert "Union concern" not in silent
    assert "No note is no permission" not in silent
    found = shipped().choose(Wishes(start=False, plant="broadleaf tree"), today=TODAY)
    at = next(at for at, one in enumerate(found) if one.name == "Ailanthus altissima") // 40 + 1
    assert at > 1
    pages = [client.get(f"{ask}&place=Bavaria,+Germany&page={page}").text for page in (1, at)]
    row = next(row for row in pages[1].split("<tr>") if "<i>Ailanthus altissima</i>" in row)
    assert "European Union: On the list of invasive alien species of Union concern" in row
    assert "place=Bavaria%2C+Germany" in row  # and goes along to the answer
    assert all('value="Bavaria, Germany"' in text for text in pages)
    assert all("No note is no permission" in text for text in pages)
    rows = csv.DictReader(
        io.StringIO(client.get(ask.replace("/choose", "/choose.csv") + "&place=Germany").text)
    )
    assert {row["name"]: row["law"] for row in rows}["Ailanthus altissima"].startswith("European Union")


@pytest.mark.parametrize(
    ("address", "says"),
    [
        ("when=never", "when cannot be"),
        ("when=now&plant=tree", "plant cannot be"),
        ("when=now&plants-by=soon", "is not a date"),
        ("when=now&closed-from=2027-01-06&closed-to=2026-12-20", "comes before"),
        ("when=now&closed-from=2027-01-06", "one of two days is missing"),
        ("when=now&moisture=wet", "moisture cannot be"),
        ("when=now&colour=red", "unknown fact"),
    ],
)
def test_what_cannot_be_is_said_beside_the_form(client: Any, address: str, says: str) -> None:
    found = client.get(f"/choose?{address}")
    assert found.status_code == 400
    assert says.casefold() in unescape(found.text).casefold()
    assert not listed(found.text)


def test_nothing_fits(client: Any) -> None:
    text = client.get("/choose?when=now&plant=cycad&plants-by=2026-12-05").text
    assert "No kind on record fits" in text
