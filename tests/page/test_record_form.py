"""A record in a form: the checks of the command line, YAML of the same meaning, writing where allowed."""

from __future__ import annotations

import json
import random
import re
from collections.abc import Iterator
from datetime import date
from html import unescape
from pathlib import Path
from typing import Any

import pytest

pytest.importorskip("litestar", reason="type: uv run --all-groups pytest (the group surfaces)")

from ruamel.yaml import YAML

from coldspell.api import Library, shipped
from coldspell.cli.main import main
from coldspell.library.files import walk
from coldspell.library.load import shipped_dirs
from coldspell.web import record_file, record_page
from coldspell.web.record_form import TOPICS, parted, whole

pytestmark = pytest.mark.long

SOUND = {
    "schema": "2", "name": "Exemplum arboreum", "family": "Exemplaceae", "rank": "species",
    "plant": "broadleaf tree", "unit": "seed", "size": "small",
    "dormancy": "{class: physiological, cite: note}",
    "treatments": "- name: cold\r\n  steps: [{do: cold_moist, days: [60, 90]}]\r\n  cite: note",
    "cites": "note: {basis: practice}",
}  # fmt: skip
"""An invented record, as a browser sends it (lines end as in HTML 5)."""


def test_what_is_typed_means_what_the_file_means() -> None:
    """Every record taken apart and put together again is the same to a YAML reader of others (ruamel)."""
    read = YAML(typ="safe")
    files = [path for _, path in walk(shipped_dirs()[0]) if path.parent.name != "species"]
    for path in random.Random(14).sample(files, 30):
        text = path.read_text("utf-8")
        again = whole(parted(text)).text
        assert read.load(again) == read.load(text), path


def test_the_form_has_every_topic_of_the_format(client: Any) -> None:
    text = client.get("/record").text
    schema = Path(__file__).parents[2] / "docs" / "schemas" / "record-2.json"
    assert {topic.key for topic in TOPICS} == json.loads(schema.read_text("utf-8"))["properties"].keys() - {
        "schema"
    }
    assert all(f'name="{topic.key}"' in text for topic in TOPICS)
    filled = unescape(client.get("/record?name=Quercus rubra").text)
    assert "cite: [t4, p935, isu, usual]" in filled
    assert 'value="Fagaceae"' in filled


def test_a_fault_stands_beside_its_topic(client: Any) -> None:
    wrong = {**SOUND, "family": "Exemplum", "dormancy": "{class: asleep, cite: note}"}
    found = client.post("/record", data={**wrong, "do": "check"})
    assert found.status_code == 400
    for topic in ("family", "dormancy"):
        assert f'id="wrong-{topic}"' in found.text
    assert 'id="wrong-unit"' not in found.text


def test_a_sound_record_gives_yaml_and_a_file_and_writes_nothing(client: Any, app: Any) -> None:
    before = set(Path(shipped_dirs()[0]).iterdir())
    found = client.post("/record", data={**SOUND, "do": "check"})
    assert found.status_code == 200
    assert "No check finds a fault" in found.text
    assert "Write it" not in found.text
    kept = client.post("/record", data={**SOUND, "do": "file"})
    assert 'filename="exemplum-arboreum.yaml"' in kept.headers["content-disposition"]
    assert YAML(typ="safe").load(kept.text)["treatments"][0]["steps"] == [
        {"do": "cold_moist", "days": [60, 90]}
    ]
    assert client.post("/record", data={**SOUND, "do": "write"}).status_code == 403
    assert set(Path(shipped_dirs()[0]).iterdir()) == before


@pytest.mark.parametrize(
    ("data", "status"),
    [
        ({"name": "../../etc/passwd", "do": "check"}, 400),
        ({"name": "", "do": "check"}, 400),
        ({**SOUND, "cites": "note: &a {basis: practice}\nother: *a"}, 400),
        ({**SOUND, "dormancy": "{{{{" * 500}, 400),
        ({**SOUND, "author": "<script>alert(1)</script>"}, 200),
        ({**SOUND, "hazards": "<script>alert(1)</script>"}, 400),
        ({str(number): "" for number in range(101)}, 400),
        ({"name": "x" * record_page.MOST_RECORD}, 413),
    ],
)
def test_what_cannot_be_is_refused_and_never_markup(client: Any, data: dict[str, str], status: int) -> None:
    found = client.post("/record", data=data)
    assert found.status_code == status
    assert "<script>alert" not in found.text


def test_only_a_form_is_taken(client: Any) -> None:
    assert (
        client.post("/record", content=b"{}", headers={"content-type": "application/json"}).status_code == 415
    )
    assert client.post("/record", files={"file": b"x"}).status_code == 415
    assert client.put("/record").status_code == 405


@pytest.fixture
def own(tmp_path: Path, app: Any) -> Iterator[tuple[Any, Path, str]]:
    """The page as it is started with --write and a library of one's own: client, folder, token."""
    from litestar.testing import TestClient

    from coldspell.web.server import make_app

    folder = tmp_path / "own"
    folder.mkdir()
    writing = make_app(Library(folder), {}, lambda: date(2026, 11, 30), [folder], folder)
    with TestClient(app=writing, base_url="http://127.0.0.1:8000") as found:
        token = re.search(r'name="token" value="([^"]+)"', found.get("/record").text)
        assert token is not None
        yield found, folder, token[1]


def test_with_write_a_sound_record_is_written_read_again_and_never_over_another(
    own: tuple[Any, Path, str],
) -> None:
    client, folder, token = own
    path = folder / "exemplum" / "exemplum-arboreum.yaml"
    given = {**SOUND, "do": "write", "token": token}
    for wrong in ({**given, "token": ""}, {**given, "token": "x" * 32}):
        assert client.post("/record", data=wrong).status_code == 403
    assert (
        client.post("/record", data=given, headers={"origin": "http://elsewhere.example"}).status_code == 403
    )
    elsewhere = {"host": "elsewhere.example:8000", "origin": "http://elsewhere.example:8000"}
    assert client.post("/record", data=given, headers=elsewhere).status_code == 403  # led here by its name
    assert client.post("/record", data={**given, "family": "no"}).status_code == 400
    assert list(folder.iterdir()) == []
    assert client.post("/record", data=given).status_code == 200
    assert path.read_text("utf-8").startswith("schema: 2\nname: Exemplum arboreum\n")
    assert "Chill" in client.get("/recipe?name=Exemplum arboreum").text  # the library was read anew
    assert client.post("/record", data=given).status_code == 409  # made meanwhile: not overwritten
    seen = re.search(r'name="seen" value="([^"]+)"', client.get("/record?name=Exemplum arboreum").text)
    assert seen is not None
    mended = {**given, "size": "medium", "seen": seen[1]}
    assert client.post("/record", data=mended).status_code == 200
    assert "size: medium" in path.read_text("utf-8")
    assert client.post("/record", data={**mended, "size": "small"}).status_code == 409  # changed meanwhile
    assert [one.name for one in path.parent.iterdir()] == [path.name]


def test_a_shipped_record_is_mended_in_the_library_of_ones_own(own: tuple[Any, Path, str]) -> None:
    client, folder, token = own
    shipped_file = shipped().records.file("Quercus rubra")
    before = shipped_file.read_bytes()
    given = {"schema": "", **parted(before.decode()), "seen": "", "do": "write", "token": token}
    assert client.post("/record", data=given).status_code == 200
    assert (folder / "quercus" / "quercus-rubra.yaml").is_file()
    assert shipped_file.read_bytes() == before


def test_nothing_is_written_into_an_installed_package(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(record_file, "is_installed", lambda kind: True)
    assert main(["page", "--write", "--port", "0"]) == 2
    assert "--library DIR" in capsys.readouterr().err
    assert main(["page", "--write", "--host", "0.0.0.0"]) == 2
    assert "this machine alone" in capsys.readouterr().err
