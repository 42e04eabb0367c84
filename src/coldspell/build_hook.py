"""What `hatch` runs when it builds the wheel: put the compiled library and rules beside their files.

An installed program then reads two files instead of nine hundred, and needs no YAML parser to answer.
Editable installs get none: in a checkout the files change.
"""

from __future__ import annotations

import contextlib
import sys
import tempfile
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface


class CompiledData(BuildHookInterface):  # type: ignore[misc]  # hatchling is there only while a wheel is built
    """Adds ``coldspell/shipped/species.msgpack`` and ``rules.msgpack``, which :mod:`coldspell.kept` reads."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Compile into a temporary folder; a fault of a file stops the build with its place."""
        if version == "editable":
            return
        sys.path.insert(0, str(Path(self.root, "src")))
        from coldspell.kept import encoded
        from coldspell.library.compile import compile_library
        from coldspell.rulebook import asked
        from coldspell.rules.load import compile_rules

        with contextlib.chdir(self.root):  # messages name files as they lie below it
            species = compile_library(Path("species"))
            compiled = {
                "species": species,
                "rules": compile_rules([Path("rules"), Path("src/coldspell/texts/en.yaml")], None, asked),
            }
        for fault in species.left_out:
            raise fault.error(Path(self.root, "species"))
        self._folder = tempfile.TemporaryDirectory()
        for kind, value in compiled.items():
            path = Path(self._folder.name, f"{kind}.msgpack")
            path.write_bytes(encoded(value))
            build_data["force_include"][str(path)] = f"coldspell/shipped/{kind}.msgpack"

    def finalize(self, version: str, build_data: dict[str, Any], artifact_path: str) -> None:
        """Clear the temporary folder."""
        if version != "editable":
            self._folder.cleanup()
