"""The description of the API as it is served."""

from __future__ import annotations

from typing import Any

from litestar import Request
from litestar.openapi.plugins import JsonRenderPlugin


class Described(JsonRenderPlugin):
    """The document of the framework, with unions as the types of the program mean them.

    The framework writes every union as ``oneOf``, by which a whole number is not a number where a union has
    both: it fits two of them.
    """

    def render(self, request: Request[Any, Any, Any], openapi_schema: dict[str, Any]) -> bytes:
        """The document as JSON."""
        return self.render_json(request, any_of(openapi_schema))


def any_of(part: Any) -> Any:
    """A part of the document with ``anyOf`` for each ``oneOf`` of schemas."""
    if isinstance(part, dict):
        return {
            "anyOf" if key == "oneOf" and isinstance(value, list) else key: any_of(value)
            for key, value in part.items()
        }
    return [any_of(one) for one in part] if isinstance(part, list) else part
