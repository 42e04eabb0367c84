"""The compiled library between runs: whole or absent, however many processes, whatever the disk allows."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import textwrap
from pathlib import Path

import pytest

from coldspell.errors import ColdspellError
from coldspell.library.files import digest, read_libraries
from coldspell.library.load import load_library

GOOD = Path(__file__).parent.parent / "records" / "good" / "full"


@pytest.fixture
def library(tmp_path: Path) -> Path:
    return Path(shutil.copytree(GOOD, tmp_path / "library"))


def run(code: str, **environment: str) -> subprocess.Popen[str]:
    env = {**os.environ, **environment}
    return subprocess.Popen(
        [sys.executable, "-c", textwrap.dedent(code)],
        env=env, text=True, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    )  # fmt: skip


LOAD = """
    from pathlib import Path
    from coldspell.library.load import load_library
    library = load_library([Path({0!r})])
    print(library.digest, len(library), library.get("Exemplum arboreum").family)
"""


def test_a_changed_byte_is_seen(library: Path, tmp_path: Path) -> None:
    before = load_library([library], cache=tmp_path / "cache")
    file = library / "exemplum-arboreum.yaml"
    file.write_text(file.read_text().replace("family: Exemplaceae", "family: Aliaceae"))
    after = load_library([library], cache=tmp_path / "cache")
    assert before.digest != after.digest
    assert after.get("Exemplum arboreum").family == "Aliaceae"


def test_the_digest_depends_on_paths_and_order(library: Path, tmp_path: Path) -> None:
    first = digest(read_libraries([library]))
    other = Path(shutil.copytree(library, tmp_path / "elsewhere"))
    assert digest(read_libraries([other])) == first
    (other / "exemplum-arboreum.yaml").rename(other / "other.yaml")
    assert digest(read_libraries([other])) != first
    assert digest(read_libraries([library, other])) != digest(read_libraries([other, library]))


@pytest.mark.parametrize("damage", [b"", b"{", b"{}" + b"\0" * 4, b"\xff" * 200])
def test_a_damaged_cache_is_made_anew(library: Path, tmp_path: Path, damage: bytes) -> None:
    cache = tmp_path / "cache"
    load_library([library], cache=cache)
    (file,) = cache.iterdir()
    file.write_bytes(damage)
    assert load_library([library], cache=cache).get("Exemplum arboreum").rank == "species"


def test_many_processes_at_once(library: Path, tmp_path: Path) -> None:
    cache = tmp_path / "cache"
    processes = [run(LOAD.format(str(library)), COLDSPELL_CACHE=str(cache)) for _ in range(8)]
    results = {process.communicate()[0] for process in processes}
    assert all(process.returncode == 0 for process in processes)
    assert len(results) == 1
    assert [path.suffix for path in cache.iterdir()] == [".json"]


@pytest.mark.parametrize("where", ["/proc/nowhere", "/dev/null/cache"])
def test_a_cache_that_cannot_be_written_only_costs_time(library: Path, where: str) -> None:
    process = run(LOAD.format(str(library)), COLDSPELL_CACHE=where)
    out, err = process.communicate()
    assert process.returncode == 0, err
    assert "Exemplaceae" in out


def test_a_read_only_home(library: Path, tmp_path: Path) -> None:
    home = tmp_path / "home"
    home.mkdir(mode=0o500)
    environment = {"HOME": str(home), "COLDSPELL_CACHE": "off"}
    process = run(LOAD.format(str(library)), **environment)
    assert process.communicate()[0].endswith("Exemplaceae\n")
    assert list(home.iterdir()) == []


def test_xdg_cache_home_is_used(library: Path, tmp_path: Path) -> None:
    environment = dict(os.environ)
    environment.pop("COLDSPELL_CACHE", None)
    environment["XDG_CACHE_HOME"] = str(tmp_path / "xdg")
    code = textwrap.dedent(LOAD.format(str(library)))
    subprocess.run([sys.executable, "-c", code], env=environment, check=True, capture_output=True)
    assert len(list((tmp_path / "xdg" / "coldspell").iterdir())) == 1


def test_a_warm_start_imports_no_parser(library: Path, tmp_path: Path) -> None:
    cache = str(tmp_path / "cache")
    heavy = "ruamel.yaml", "_ruamel_yaml", "jsonschema", "rich", "typer", "rapidfuzz"
    code = (
        LOAD.format(str(library)) + f"    import sys\n    print([m for m in {heavy} if m in sys.modules])\n"
    )
    assert run(code, COLDSPELL_CACHE=cache).wait() == 0
    assert run(code, COLDSPELL_CACHE=cache).communicate()[0].endswith("[]\n")


def test_a_later_library_replaces_whole_records(library: Path, tmp_path: Path) -> None:
    own = tmp_path / "own" / "deep" / "down"
    own.mkdir(parents=True)
    (own / "exemplum-arboreum.yaml").write_text(
        "name: Exemplum arboreum\nfamily: Exemplaceae\nrank: species\nplant: shrub\nunit: seed\n"
    )
    (tmp_path / "own" / "bibliography.yaml").write_text("- {id: own, type: book, title: Own notes}\n")
    loaded = load_library([library, tmp_path / "own"], cache=tmp_path / "cache")
    record = loaded.get("Exemplum arboreum")
    assert (record.plant, record.storage, record.treatments) == ("shrub", None, ())
    assert loaded.bibliography["own"]["title"] == "Own notes"
    assert loaded.file("Exemplum arboreum") == own / "exemplum-arboreum.yaml"


def test_a_name_twice_in_one_library(library: Path, tmp_path: Path) -> None:
    shutil.copy(library / "exemplum-arboreum.yaml", library / "again.yaml")
    with pytest.raises(ColdspellError, match="stands in two records") as caught:
        load_library([library], cache=tmp_path / "cache")
    assert "exemplum-arboreum.yaml:3:7" in str(caught.value)


def test_links_and_endings(library: Path, tmp_path: Path) -> None:
    (library / "loop").symlink_to(library)
    with pytest.raises(ColdspellError, match="leads back"):
        load_library([library], cache=tmp_path / "cache")
    (library / "loop").unlink()
    (library / "other.yml").write_text("name: x\n")
    with pytest.raises(ColdspellError, match=r"end in \.yaml"):
        load_library([library], cache=tmp_path / "cache")
    with pytest.raises(ColdspellError, match="no such library"):
        load_library([tmp_path / "absent"], cache=tmp_path / "cache")
