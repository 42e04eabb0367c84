"""The compiled library between runs: current and whole, or absent; many processes, all kinds of disks."""

from __future__ import annotations

import os
import random
import shutil
import subprocess
import sys
import textwrap
from pathlib import Path

import pytest

from coldspell.errors import ColdspellError, LeftOutWarning
from coldspell.library.load import load_library

pytestmark = pytest.mark.long

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


def test_an_edit_is_seen(library: Path, tmp_path: Path) -> None:
    before = load_library([library], cache=tmp_path / "cache")
    file = library / "exemplum-arboreum.yaml"
    file.write_text(file.read_text().replace("family: Exemplaceae", "family: Aliaceae"))
    after = load_library([library], cache=tmp_path / "cache")
    assert before.digest != after.digest
    assert after.get("Exemplum arboreum").family == "Aliaceae"
    assert len(list((tmp_path / "cache").iterdir())) == 1


@pytest.mark.skipif(os.name == "nt", reason="Windows keeps no time of the last change of an entry")
def test_an_edit_of_the_same_size_that_sets_the_time_back_is_seen(library: Path, tmp_path: Path) -> None:
    load_library([library], cache=tmp_path / "cache")
    file = library / "exemplum-arboreum.yaml"
    then, text = file.stat(), file.read_text()
    file.write_text(text.replace("family: Exemplaceae", "family: Aliudusceae"))
    os.utime(file, ns=(then.st_atime_ns, then.st_mtime_ns))
    assert (file.stat().st_size, file.stat().st_mtime_ns) == (then.st_size, then.st_mtime_ns)
    assert load_library([library], cache=tmp_path / "cache").get("Exemplum arboreum").family == "Aliudusceae"


def test_files_that_come_and_go_are_seen(library: Path, tmp_path: Path) -> None:
    cache = tmp_path / "cache"
    before = load_library([library], cache=cache)
    new = library / "deep" / "exemplum-novum.yaml"
    new.parent.mkdir()
    new.write_text("name: Exemplum novum\nfamily: Exemplaceae\nrank: species\nplant: shrub\nunit: seed\n")
    assert "Exemplum novum" in load_library([library], cache=cache)
    new.unlink()
    after = load_library([library], cache=cache)
    assert "Exemplum novum" not in after
    assert after.digest == before.digest


def test_the_digest_depends_on_content_and_order_only(library: Path, tmp_path: Path) -> None:
    first = load_library([library]).digest
    other = Path(shutil.copytree(library, tmp_path / "elsewhere"))
    assert load_library([other]).digest == first
    (other / "exemplum-arboreum.yaml").rename(other / "other.yaml")
    assert load_library([other]).digest != first
    assert load_library([library, other]).digest != load_library([other, library]).digest


@pytest.mark.parametrize("damage", [b"", b"{", b"\x90", b"\x93\xa0\x00\xc4\x00", b"\xff" * 200])
def test_a_damaged_cache_is_made_anew(library: Path, tmp_path: Path, damage: bytes) -> None:
    cache = tmp_path / "cache"
    load_library([library], cache=cache)
    (file,) = cache.iterdir()
    file.write_bytes(damage)
    assert load_library([library], cache=cache).get("Exemplum arboreum").rank == "species"


def test_whatever_byte_is_damaged_no_record_is_wrong(library: Path, tmp_path: Path) -> None:
    cache = tmp_path / "cache"
    good = load_library([library], cache=cache)
    (file,) = cache.iterdir()
    data, rng = file.read_bytes(), random.Random(5)
    for at in sorted(rng.sample(range(len(data)), 60)):
        file.write_bytes(data[:at] + bytes([data[at] ^ rng.randint(1, 255)]) + data[at + 1 :])
        again = load_library([library], cache=cache)
        assert [again.get(name) for name in again.names] == [good.get(name) for name in good.names]
        assert again.bibliography == good.bibliography
        assert file.read_bytes() == data


@pytest.mark.skipif(os.name == "nt", reason="modes of files are those of POSIX")
def test_an_entry_that_others_can_write_is_not_read(library: Path, tmp_path: Path) -> None:
    cache = tmp_path / "cache"
    load_library([library], cache=cache)
    (file,) = cache.iterdir()
    file.write_bytes(file.read_bytes().replace(b"Exemplaceae", b"Plantedceae"))
    file.chmod(0o666)
    assert load_library([library], cache=cache).get("Exemplum arboreum").family == "Exemplaceae"


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes in folders here")
def test_a_pipe_in_the_place_of_an_entry_does_not_hang(library: Path, tmp_path: Path) -> None:
    cache = tmp_path / "cache"
    load_library([library], cache=cache)
    (file,) = cache.iterdir()
    file.unlink()
    os.mkfifo(file)
    assert load_library([library], cache=cache).get("Exemplum arboreum").family == "Exemplaceae"


def test_few_entries_are_kept(library: Path, tmp_path: Path) -> None:
    cache = tmp_path / "cache"
    cache.mkdir()
    (cache / ".new-left").touch()
    os.utime(cache / ".new-left", (0, 0))
    for number in range(20):
        load_library([Path(shutil.copytree(library, tmp_path / str(number)))], cache=cache)
    assert len(list(cache.iterdir())) == 16


def test_many_processes_at_once(library: Path, tmp_path: Path) -> None:
    cache = tmp_path / "cache"
    processes = [run(LOAD.format(str(library)), COLDSPELL_CACHE=str(cache)) for _ in range(4)]
    results = {process.communicate()[0] for process in processes}
    assert all(process.returncode == 0 for process in processes)
    assert len(results) == 1
    assert [path.suffix for path in cache.iterdir()] == [".msgpack"]


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
    heavy = "hashlib", "ruamel.yaml", "_ruamel_yaml", "jsonschema", "rich", "typer", "rapidfuzz"
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


def test_names_lead_to_the_record_that_counts(library: Path, tmp_path: Path) -> None:
    """Two libraries loaded together find what one folder with the same records finds."""
    own = tmp_path / "own"
    own.mkdir()
    changed = (library / "exemplum-arboreum.yaml").read_text().replace("Exemplum vetus", "Exemplum antiquum")
    (own / "exemplum-arboreum.yaml").write_text(changed)
    joined = Path(shutil.copytree(library, tmp_path / "joined"))
    shutil.copytree(own, joined, dirs_exist_ok=True)
    two, one = load_library([library, own]), load_library([joined])
    assert dict(two.index) == dict(one.index)
    assert list(two.index) == list(one.index)
    assert (two.names, two.units, two.words) == (one.names, one.units, one.words)


def test_a_name_twice_in_one_library(library: Path, tmp_path: Path) -> None:
    shutil.copy(library / "exemplum-arboreum.yaml", library / "again.yaml")
    with pytest.warns(LeftOutWarning, match="stands in two records") as caught:
        load_library([library], cache=tmp_path / "cache")
    assert "exemplum-arboreum.yaml:3:7" in str(caught[0].message)


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
