"""What a seed lot needs before it is sown: dated, sourced recipes from species records and rules.

>>> import coldspell
>>> coldspell.record("northern red oak").name
'Quercus rubra'
"""

from __future__ import annotations

TYPE_CHECKING = False  # as type checkers know it; `typing` would be two thirds of this import
if TYPE_CHECKING:
    from typing import Any

    from coldspell.api import Library, find, page, plans, recipe, record, to_json
    from coldspell.errors import ColdspellError

__version__ = "0.1.0"
__all__ = ["ColdspellError", "Library", "find", "page", "plans", "recipe", "record", "to_json"]


def __getattr__(name: str) -> Any:
    """Load the interface when one of its names is first asked for: the import itself costs nothing."""
    if name == "ColdspellError":
        from coldspell.errors import ColdspellError

        return ColdspellError
    if name in __all__:
        from coldspell import api

        return getattr(api, name)
    raise AttributeError(f"module 'coldspell' has no attribute {name!r}")


def __dir__() -> list[str]:
    """The names of the interface, loaded or not."""
    return sorted([*globals(), *__all__])
