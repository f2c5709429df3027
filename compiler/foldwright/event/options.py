"""The options of an event, as typed. Kept apart, so that `--help` need not import what they come to."""

from __future__ import annotations

from typing import Annotated

from msgspec import Struct, field


class KitOptions(Struct, frozen=True, kw_only=True):
    """What is asked of an event, as text; empty is what nobody said."""

    kits: Annotated[str, "number"] = field(name="for")
    size: Annotated[str, "names"] = ""
    units: Annotated[str, "system"] = ""
    paper: Annotated[str, "papers"] = ""
    spare: Annotated[str, "share"] = ""
    samples: Annotated[str, "number"] = field(name="sample", default="")
    stock: Annotated[str, "file"] = ""
    helpers: Annotated[str, "number"] = ""
    learning: Annotated[str, "share"] = ""
    fee: Annotated[str, "money"] = ""
    margin: Annotated[str, "share"] = ""
    cost: Annotated[str, "costs"] = ""
    begins: Annotated[str, "clock"] = ""
    on: Annotated[str, "day"] = ""
    at: Annotated[str, "place"] = ""
    called: Annotated[str, "name"] = ""
    per_table: Annotated[str, "number"] = ""
    names: Annotated[str, "file"] = ""
    labels: Annotated[str, "size"] = ""
    name_line: bool = False
    trim: Annotated[str, "length"] = ""
    ends: Annotated[str, "length"] = ""
    effort: Annotated[str, "number"] = ""
    fewest: Annotated[str, "thing"] = ""
    anew: bool = False
    theme: Annotated[str, "theme"] = ""
