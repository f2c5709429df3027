"""The commands and their options, and nothing else: each hands over to the module of its name."""

from __future__ import annotations

from collections.abc import Callable
from enum import StrEnum
from pathlib import Path
from typing import Annotated, Any

import typer

from foldwright.cli.names import FORMS, OUTPUTS
from foldwright.sheet.catalogue import catalogue


def _say(key: str, **facts: object) -> str:
    return catalogue().say(f"command.{key}", **facts).strip()


class Format(StrEnum):
    TEXT = "text"
    JSON = "json"


app = typer.Typer(
    name="foldwright",
    help=_say("about"),
    add_completion=False,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    context_settings={"help_option_names": ["--help", "-h"]},
)


def _command(name: str) -> Callable[[Callable[..., None]], Callable[..., None]]:
    return app.command(name, help=_say(f"{name}.help"), short_help=_say(f"{name}.short"))


def _argument(stands_for: str) -> Any:
    # Its list of arguments would show Python's names of types; the command's own words say what it takes.
    return typer.Argument(metavar=_say(f"stands-for.{stands_for}"), hidden=True)


def _option(key: str, stands_for: str, **facts: object) -> Any:
    return typer.Option(help=_say(key, **facts), metavar=_say(f"stands-for.{stands_for}"), show_default=False)


@_command("check")
def check(
    paths: Annotated[list[Path], _argument("path")],
    measures: Annotated[bool, typer.Option("--measures", help=_say("check.measures"))] = False,
    strict: Annotated[bool, typer.Option("--strict", help=_say("check.strict"))] = False,
    format: Annotated[Format, _option("check.format", "format")] = Format.TEXT,  # noqa: A002 (the option's name)
) -> None:
    from foldwright.cli.check import check as work

    raise typer.Exit(work(paths, measures=measures, strict=strict, as_json=format is Format.JSON))


@_command("build")
def build(
    paths: Annotated[list[Path], _argument("path")],
    out: Annotated[Path, _option("build.out", "folder")],
    only: Annotated[str, _option("build.only", "names", names=", ".join(OUTPUTS))] = ",".join(OUTPUTS),
    units: Annotated[str, _option("build.units", "names")] = "imperial,metric",
    theme: Annotated[str, _option("build.theme", "theme")] = "",
    pictures_at: Annotated[str, _option("build.pictures-at", "address")] = "",
    jobs: Annotated[int, _option("build.jobs", "number")] = 0,
) -> None:
    from foldwright.cli.build import build as work

    raise typer.Exit(work(paths, out, only=only, units=units, theme=theme, pictures_at=pictures_at, jobs=jobs))


@_command("convert")
def convert(
    measures: Annotated[list[str], _argument("measure")],
    to: Annotated[str, _option("convert.to", "system")] = "",
    reads: Annotated[str, _option("convert.reads", "length")] = "",
) -> None:
    from foldwright.cli.convert import convert as work

    raise typer.Exit(work(measures, to=to, reads=reads))


@_command("new")
def new(
    name: Annotated[str, _argument("name")] = "",
    form: Annotated[str, _option("new.form", "form", forms=", ".join(FORMS))] = "",
    size: Annotated[str, _option("new.size", "size")] = "",
    panels: Annotated[str, _option("new.panels", "number")] = "",
    units: Annotated[str, _option("new.units", "unit")] = "",
    card: Annotated[str, _option("new.card", "card")] = "",
    into: Annotated[Path, _option("new.into", "folder")] = Path("recipes"),
) -> None:
    from foldwright.cli.new import new as work

    raise typer.Exit(work(name, form=form, size=size, panels=panels, units=units, card=card, into=into))
