"""The commands: each call is read, handed to the module of its name, and ends with the status that comes back."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from foldwright.cli.calls import (
    FORMS,
    BuildCall,
    CheckCall,
    ConvertCall,
    DesignCall,
    GuideCall,
    KitCall,
    NewCall,
    RecoverCall,
)
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


def _check(call: CheckCall) -> int:
    from foldwright.cli.check import check

    return check(call)


def _build(call: BuildCall) -> int:
    from foldwright.cli.build import build

    return build(call)


def _kit(call: KitCall) -> int:
    from foldwright.cli.kit import kit

    return kit(call)


def _convert(call: ConvertCall) -> int:
    from foldwright.cli.convert import convert

    return convert(call)


def _new(call: NewCall) -> int:
    from foldwright.cli.new import new

    into = Path(call.into)
    return new(
        call.name, form=call.form, size=call.size, panels=call.panels, units=call.units, card=call.card, into=into
    )


def _recover(call: RecoverCall) -> int:
    from foldwright.cli.recover import recover_sample

    return recover_sample(call.sample, name=call.name, read_to=call.read_to, into=Path(call.into))


def _design(call: DesignCall) -> int:
    from foldwright.begin.design.wishing import DesignOptions
    from foldwright.cli.design import Call, design_blanks

    if call.resize or call.scale or call.holds:
        return _resize(call)
    asked = DesignOptions(call.things, call.form, call.card, call.numbers, call.sheet, call.clearance, call.units)
    return design_blanks(
        asked, Call(take=call.take, name=call.name, html=call.html, into=Path(call.into), everything=call.all)
    )


def _resize(call: DesignCall) -> int:
    from foldwright.cli.resize import Goal, resize

    if not call.resize or bool(call.scale) == bool(call.holds):
        Teller("stderr").words("design.resize-what")
        return WRONG_CALL
    return resize(Path(call.resize), Goal(call.scale, call.holds, call.numbers, call.clearance, call.called))


def _guide(call: GuideCall) -> int:
    from foldwright.cli.guide import show_guide

    return show_guide(call.page)


_ALL: tuple[Command[Any], ...] = (
    Command("new", NewCall, _new, "name"),
    Command("check", CheckCall, _check, "paths"),
    Command("build", BuildCall, _build, "paths"),
    Command("kit", KitCall, _kit, "paths"),
    Command("recover", RecoverCall, _recover, "sample"),
    Command("design", DesignCall, _design, "things"),
    Command("convert", ConvertCall, _convert, "measures"),
    Command("guide", GuideCall, _guide, "page"),
)
COMMANDS = {command.name: command for command in _ALL}
FACTS = {"names": ", ".join(OUTPUTS), "forms": ", ".join(FORMS)}
"""What the words about options name."""
