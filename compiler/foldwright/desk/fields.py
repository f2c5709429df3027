"""The fields of a page as they come in when it is sent: texts by name, no larger than a page can make them."""

from __future__ import annotations

from collections.abc import Mapping
from urllib.parse import parse_qs

from msgspec import Struct
from starlette.requests import Request

from foldwright.recipe.facts.unprintable import UNPRINTABLE

_MOST_BYTES = 256 * 1024
_MOST_FIELDS = 2000


class Fields(Struct, frozen=True):
    """What was typed and chosen, by the names of the fields; what no page can hold is not in it."""

    typed: Mapping[str, tuple[str, ...]]

    def line(self, name: str, otherwise: str = "") -> str:
        """The text of a field on one line; `otherwise` when the page had no such field."""
        return " ".join(self.typed[name][0].split()) if name in self.typed else otherwise

    def lines(self, name: str) -> tuple[str, ...]:
        """The lines of a field that holds several, without empty ones."""
        lines = (" ".join(line.split()) for line in self.text(name).splitlines())
        return tuple(line for line in lines if line)

    def text(self, name: str) -> str:
        """The text of a field as it was typed."""
        return self.typed.get(name, ("",))[0].replace("\r\n", "\n")

    def all(self, name: str) -> tuple[str, ...]:
        """Everything that was chosen of several."""
        return self.typed.get(name, ())

    def number(self, name: str, otherwise: int, least: int, most: int) -> int:
        """A whole number, held within what it may be."""
        said = self.line(name)
        return min(max(int(said), least), most) if said.isascii() and said.isdecimal() and len(said) < 5 else otherwise


async def read_fields(request: Request) -> Fields | None:
    """The fields that were sent; None when that is more than any page of ours would send."""
    body = bytearray()
    async for part in request.stream():
        body += part
        if len(body) > _MOST_BYTES:
            return None
    try:
        typed = parse_qs(body.decode("ascii"), keep_blank_values=True, max_num_fields=_MOST_FIELDS, errors="replace")
    except ValueError:
        return None
    return Fields({name: tuple(UNPRINTABLE.sub("", value) for value in values) for name, values in typed.items()})
