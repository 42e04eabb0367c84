"""A library read by its stamp: never an old answer, whatever is done to a file; no reading without need."""

from __future__ import annotations

import os
import shutil
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from coldspell.library import load, stamp
from coldspell.library.files import digest, read_libraries
from coldspell.library.load import Library, load_library
from coldspell.library.stamp import stamp_of, stamped_digest

GOOD = Path(__file__).parent.parent / "records" / "good" / "full"
RECORD = "exemplum-arboreum.yaml"

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="there files are always read")


@pytest.fixture
def library(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A library whose files count as settled after a twentieth of a second."""
    monkeypatch.setattr(stamp, "_YOUNG_NS", 50_000_000)
    folder = Path(shutil.copytree(GOOD, tmp_path / "library"))
    time.sleep(0.1)
    return folder


def loaded(library: Path, tmp_path: Path) -> Library:
    return load_library([library], cache=tmp_path / "cache", by_stamp=True)


def in_place(file: Path) -> None:
    """Another family of as many letters, written into the file as it lies."""
    data = file.read_bytes()
    at = data.index(b"Exemplaceae")
    with file.open("r+b") as open_file:
        open_file.seek(at)
        open_file.write(b"Alioplaceae")
    assert file.stat().st_size == len(data)


def with_its_old_time(file: Path) -> None:
    """The same edit, and the time of writing put back."""
    before = file.stat()
    in_place(file)
    os.utime(file, ns=(before.st_atime_ns, before.st_mtime_ns))
    assert file.stat().st_mtime_ns == before.st_mtime_ns


def replaced(file: Path) -> None:
    """The edited file moved over the old one, with its size and time, as an editor or `mv` does."""
    other = Path(shutil.copy2(file, file.with_suffix(".new")))
    with_its_old_time(other)
    other.replace(file)


def mapped(file: Path) -> None:
    """The same edit through mapped memory."""
    import mmap

    with file.open("r+b") as open_file, mmap.mmap(open_file.fileno(), 0) as memory:
        at = memory.find(b"Exemplaceae")
        memory[at : at + 11] = b"Alioplaceae"


def linked(file: Path) -> None:
    """A link to an edited copy elsewhere."""
    other = Path(shutil.copy2(file, file.parent.parent / "elsewhere.yaml"))
    with_its_old_time(other)
    file.unlink()
    file.symlink_to(other)


@pytest.mark.parametrize("edit", [in_place, with_its_old_time, replaced, mapped, linked])
def test_an_edit_that_keeps_the_size_is_noticed(
    library: Path, tmp_path: Path, edit: Callable[[Path], None]
) -> None:
    before = loaded(library, tmp_path)
    assert before.get("Exemplum arboreum").family == "Exemplaceae"
    assert loaded(library, tmp_path).digest == before.digest
    edit(library / RECORD)
    for _ in range(2):  # while the file is young, and after
        after = loaded(library, tmp_path)
        assert after.get("Exemplum arboreum").family == "Alioplaceae"
        assert after.digest == digest(read_libraries([library])) != before.digest
        time.sleep(0.1)


def test_an_edit_in_the_next_instant_is_noticed(tmp_path: Path) -> None:
    """With the clock as it is shipped: what was written a moment ago is read, not trusted."""
    library = Path(shutil.copytree(GOOD, tmp_path / "library"))
    for number in range(40):
        text = (library / RECORD).read_text()
        family = f"{'ABCD'[number % 4]}xemplaceae"
        (library / RECORD).write_text(text.replace(text.split("family: ")[1].split("\n")[0], family))
        assert loaded(library, tmp_path).get("Exemplum arboreum").family == family
    assert stamp_of([library]) is None
    assert not list((tmp_path / "cache").glob("stamp-*"))


def test_files_that_come_go_or_change_places_are_noticed(library: Path, tmp_path: Path) -> None:
    other = library / "other.yaml"
    seen = {loaded(library, tmp_path).digest}
    shutil.copy(library / RECORD, other)
    other.write_text(other.read_text().replace("Exemplum arboreum", "Exemplum alterumm"))
    time.sleep(0.1)
    seen.add(loaded(library, tmp_path).digest)
    (library / RECORD).rename(library / "between")
    other.rename(library / RECORD)
    (library / "between").rename(other)
    time.sleep(0.1)
    seen.add(loaded(library, tmp_path).digest)
    other.rename(library / "another.yaml")
    time.sleep(0.1)
    seen.add(loaded(library, tmp_path).digest)
    (library / "another.yaml").unlink()
    time.sleep(0.1)
    seen.add(loaded(library, tmp_path).digest)
    assert len(seen) == 5


def test_a_known_stamp_spares_the_reading(
    library: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = loaded(library, tmp_path)
    assert first.digest == load_library([library], cache=tmp_path / "cache").digest

    def fail(*_: object) -> None:
        raise AssertionError("files were read")

    monkeypatch.setattr(stamp, "read_libraries", fail)
    monkeypatch.setattr(load, "read_libraries", fail)
    again = loaded(library, tmp_path)
    assert again.digest == first.digest
    assert again.get("Exemplum arboreum") == first.get("Exemplum arboreum")
    with pytest.raises(AssertionError, match="files were read"):
        load_library([library], cache=tmp_path / "cache")


@pytest.mark.parametrize("damage", [b"", b"0" * 36, b"\xff" * 9])
def test_a_damaged_stamp_is_made_anew(library: Path, tmp_path: Path, damage: bytes) -> None:
    right = loaded(library, tmp_path).digest
    (kept,) = (tmp_path / "cache").glob("stamp-*")
    kept.write_bytes(damage)
    assert stamped_digest([library], tmp_path / "cache") == right


def test_a_time_in_the_future_is_not_trusted(library: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert stamp_of([library]) is not None
    past = time.time_ns() - 3_600_000_000_000
    monkeypatch.setattr(time, "time_ns", lambda: past)
    assert stamp_of([library]) is None


def test_a_library_that_changes_while_it_is_read_is_refused(
    library: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(load, "stamped_digest", lambda *_: "of another moment")
    with pytest.raises(load.InternalFault, match="changed while it was being read"):
        loaded(library, tmp_path)
