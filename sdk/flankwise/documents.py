"""What the service gives as text: a drawing, a sheet. Both are plain `str`, and show themselves."""

from __future__ import annotations

import html
from os import PathLike
from pathlib import Path


class Document(str):
    """Text that can be written to a file."""

    __slots__ = ()

    def save(self, path: str | PathLike[str]) -> Path:
        """Write the text to `path`, byte for byte, and return it."""
        target = Path(path)
        target.write_text(self, "utf-8", newline="")
        return target

    def __repr__(self) -> str:
        return f"<{type(self).__name__} of {len(self)} characters>"


class Drawing(Document):
    """A drawing as SVG. A notebook shows it.

    >>> Drawing("<svg/>")
    <Drawing of 6 characters>
    >>> Drawing("<svg/>") == "<svg/>"
    True
    """

    __slots__ = ()

    def _repr_svg_(self) -> str:
        return str(self)


class Sheet(Document):
    """A printable page of HTML. A notebook shows it in a frame of its own, where it may do nothing.

    >>> Sheet("<p>")._repr_html_()[:25]
    '<iframe sandbox srcdoc="&'
    """

    __slots__ = ()

    def _repr_html_(self) -> str:
        return (
            f'<iframe sandbox srcdoc="{html.escape(self)}" '
            'style="width:100%;height:40em;border:1px solid"></iframe>'
        )
