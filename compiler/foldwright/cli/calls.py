"""What a call of each command says. The fields are its options (`cli/options` says how), each named here alone."""

from __future__ import annotations

from typing import Annotated, Literal

from msgspec import Struct, field

from foldwright.begin.options import DesignOptions
from foldwright.event.options import KitOptions
from foldwright.outputs.options import BuildOptions


class CheckCall(Struct, frozen=True, kw_only=True):
    """`foldwright check`."""

    paths: Annotated[tuple[str, ...], "path"]
    measures: bool = False
    pieces: bool = False
    strict: bool = False
    mend: bool = False
    captions: Annotated[str, "file"] = ""
    format: Annotated[Literal["text", "json"], "format"] = "text"


class BuildCall(BuildOptions, frozen=True, kw_only=True):
    """`foldwright build`."""

    paths: Annotated[tuple[str, ...], "path"]
    out: Annotated[str, "folder"]
    no_library: bool = False
    watch: bool = False
    jobs: Annotated[str, "number"] = ""
    on: Annotated[str, "address"] = ""
    booklet: Annotated[str, "booklet"] = ""
    saddle: bool = False


class KitCall(KitOptions, frozen=True, kw_only=True):
    """`foldwright kit`."""

    paths: Annotated[tuple[str, ...], "path"]
    out: Annotated[str, "folder"] = "build"


class ConvertCall(Struct, frozen=True, kw_only=True):
    """`foldwright convert`."""

    measures: Annotated[tuple[str, ...], "measure"]
    to: Annotated[str, "system"] = ""
    reads: Annotated[str, "length"] = ""


class NewCall(Struct, frozen=True, kw_only=True):
    """`foldwright new`."""

    name: Annotated[str, "name"] = ""
    form: Annotated[str, "form"] = ""
    size: Annotated[str, "size"] = ""
    panels: Annotated[str, "number"] = ""
    units: Annotated[str, "unit"] = ""
    card: Annotated[str, "card"] = ""
    into: Annotated[str, "folder"] = "recipes"


class RecoverCall(Struct, frozen=True, kw_only=True):
    """`foldwright recover`."""

    sample: Annotated[str, "sample"] = ""
    name: Annotated[str, "name"] = ""
    read_to: Annotated[str, "length"] = ""
    into: Annotated[str, "folder"] = "recipes"


class DesignCall(DesignOptions, frozen=True, kw_only=True):
    """`foldwright design`."""

    take: Annotated[str, "number"] = ""
    name: Annotated[str, "name"] = ""
    into: Annotated[str, "folder"] = "recipes"
    html: Annotated[str, "file"] = ""
    theme: Annotated[str, "theme"] = ""
    all: bool = False
    resize: Annotated[str, "path"] = ""
    scale: Annotated[str, "number"] = ""
    holds: Annotated[str, "thing"] = ""
    called: Annotated[str, "name"] = field(name="as", default="")


class GuideCall(Struct, frozen=True, kw_only=True):
    """`foldwright guide`."""

    page: Annotated[str, "page"] = ""


class DeskCall(Struct, frozen=True, kw_only=True):
    """`foldwright desk`."""

    folder: Annotated[str, "folder"] = "recipes"
    port: Annotated[str, "number"] = ""
    share: bool = False
    quiet: bool = False
