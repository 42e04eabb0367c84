"""A photograph or logo as a picture of the sheet: in SVG, so that each form of sheet takes it alike."""

from __future__ import annotations

from base64 import b64encode
from html import escape
from pathlib import Path

from coldspell.errors import ColdspellError, Place

_PNG = b"\x89PNG\r\n\x1a\n"
_SIZED = {*range(0xC0, 0xD0)} - {0xC4, 0xC8, 0xCC}
"""Segments of a JPEG that hold its size (ITU-T T.81, table B.1)."""


def picture(path: Path, title: str) -> tuple[str, float, float]:
    """The SVG and its width and height [pixels].

    Raises
    ------
    ColdspellError
        It is neither PNG nor JPEG, whatever its name says.
    """
    data = path.read_bytes()
    if data.startswith(_PNG):
        kind, size = "png", (int.from_bytes(data[16:20], "big"), int.from_bytes(data[20:24], "big"))
    elif data.startswith(b"\xff\xd8"):
        kind, size = "jpeg", _jpeg(data)
    else:
        kind, size = "", (0, 0)
    if 0 in size:
        raise ColdspellError("this is neither PNG nor JPEG", Place(str(path)), "save it as one of these")
    width, height = size
    inside = f'href="data:image/{kind};base64,{b64encode(data).decode("ascii")}"'
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" role="img">'
        f'<title>{escape(title)}</title><image width="{width}" height="{height}" {inside}/></svg>'
    )
    return svg, float(width), float(height)


def _jpeg(data: bytes) -> tuple[int, int]:
    """Width and height from the first segment that holds them; noughts where none does."""
    at = 2
    while at + 9 < len(data) and data[at] == 0xFF:
        marker, length = data[at + 1], int.from_bytes(data[at + 2 : at + 4], "big")
        if marker in _SIZED:
            return int.from_bytes(data[at + 7 : at + 9], "big"), int.from_bytes(data[at + 5 : at + 7], "big")
        at += 2 + length
    return 0, 0
