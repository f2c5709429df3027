"""The commands: each call is read, handed to the module of its name, and ends with the status that comes back."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from foldwright.begin.options import FORMS
from foldwright.cli import calls
from foldwright.cli.options import AskedForHelp, Command, help_of, nearest, read_call, say, wrapped
from foldwright.cli.telling import WRONG_CALL, StyledLine, Teller
from foldwright.finding import Wrong
from foldwright.outputs.table import OUTPUTS
from foldwright.recipe.facts.unprintable import UNPRINTABLE, printable


def run(words: Sequence[str]) -> int:
    """Do what the words of the call say; the exit status."""
    if not words or words[0] in ("-h", "--help"):
        Teller().say([StyledLine(_about())])
        return 0 if words else WRONG_CALL
    if words[0] == "--version":
        return _version()
    name, *rest = words
    command = COMMANDS.get(name)
    if command is None:
        unknown = Wrong.of("command-unknown", name=name, known=tuple(COMMANDS))
        return Teller("stderr").refuse((unknown, *nearest(name, tuple(COMMANDS), "command-meant")))
    if wrong := next((word for word in rest if UNPRINTABLE.search(word)), None):
        return Teller("stderr").refuse((Wrong.of("unprintable", said=printable(wrong)),))
    call = read_call(command, rest)
    if isinstance(call, tuple):
        return Teller("stderr").refuse(call)
    if isinstance(call, AskedForHelp):
        Teller().say([StyledLine(help_of(command, FACTS))])
        return 0
    return command.work(call)


def _about() -> str:
    rows = "\n".join(f"  {name:<9} {say(f'{name}.short')}" for name in COMMANDS)
    return f"{wrapped(say('about'))}\n\n{rows}\n\n{wrapped(say('more'))}"


def _version() -> int:
    from importlib.metadata import version

    print(say("version", version=version(__package__.partition(".")[0])))
    return 0


def _check(call: calls.CheckCall) -> int:
    from foldwright.cli.check import check

    return check(call)


def _build(call: calls.BuildCall) -> int:
    from foldwright.cli.build import build

    return build(call)


def _kit(call: calls.KitCall) -> int:
    from foldwright.cli.kit import kit

    return kit(call)


def _convert(call: calls.ConvertCall) -> int:
    from foldwright.cli.convert import convert

    return convert(call)


def _new(call: calls.NewCall) -> int:
    from foldwright.cli.new import new

    return new(call)


def _recover(call: calls.RecoverCall) -> int:
    from foldwright.cli.recover import recover_sample

    return recover_sample(call)


def _design(call: calls.DesignCall) -> int:
    from foldwright.cli.design import design_blanks

    return design_blanks(call)


def _desk(call: calls.DeskCall) -> int:
    from foldwright.cli.desk import desk

    return desk(call)


def _guide(call: calls.GuideCall) -> int:
    from foldwright.cli.guide import show_guide

    return show_guide(call.page)


_ALL: tuple[Command[Any], ...] = (
    Command("new", calls.NewCall, _new, "name"),
    Command("check", calls.CheckCall, _check, "paths"),
    Command("build", calls.BuildCall, _build, "paths"),
    Command("kit", calls.KitCall, _kit, "paths"),
    Command("recover", calls.RecoverCall, _recover, "sample"),
    Command("design", calls.DesignCall, _design, "things"),
    Command("convert", calls.ConvertCall, _convert, "measures"),
    Command("desk", calls.DeskCall, _desk, "folder"),
    Command("guide", calls.GuideCall, _guide, "page"),
)
COMMANDS = {command.name: command for command in _ALL}
FACTS = {"names": ", ".join(OUTPUTS), "forms": ", ".join(FORMS)}
"""What the words about options name."""
