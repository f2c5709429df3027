"""The options of a build, as typed. Kept apart, so that `--help` need not import what they come to."""

from __future__ import annotations

from typing import Annotated

from msgspec import Struct

from foldwright.outputs.table import OUTPUTS


class BuildOptions(Struct, frozen=True, kw_only=True):
    """What is asked of a build, as text: `only` and `units` have commas between; empty is what nobody said."""

    only: Annotated[str, "names"] = ",".join(name for name, output in OUTPUTS.items() if output.usual)
    units: Annotated[str, "names"] = "imperial,metric"
    size: Annotated[str, "names"] = ""
    theme: Annotated[str, "theme"] = ""
    paper: Annotated[str, "papers"] = ""
    larger_paper: bool = False
    up: Annotated[str, "number"] = ""
    back: bool = False
    pages: Annotated[str, "number"] = ""
    large_print: bool = False
    mirror: bool = False
    begins: Annotated[str, "clock"] = ""
    in_class: bool = False
    pictures_at: Annotated[str, "address"] = ""
