"""How a command is called: the fields of a frozen struct are its options, and its reader and its help are made of them.

A field `larger_paper: bool = False` is the flag `--larger-paper`; `paper: Annotated[str, "papers"] = ""` is the option
`--paper PAPERS`, whose value is called what `command.stands-for.papers` says. A field without a default must be given;
one of a `Literal` is one of its words; one whose name Python keeps for itself is named by `field(name="for")`. What an
option does is told by `command.<command>.<option>`, what the command does by its `help` and its `example`.
"""

from __future__ import annotations

import re
import textwrap
from collections.abc import Callable, Mapping, Sequence
from typing import Literal, get_args, get_origin

from msgspec import NODEFAULT, Struct
from msgspec.structs import fields

from foldwright.document.catalogue import catalogue
from foldwright.finding import Wrong

_WIDTH = 80
_OPTION = re.compile(r"--?[A-Za-z]")
"""What begins so is meant as an option; `-5` and `-3,50` are numbers."""
_HELP = ("-h", "--help")


class Command[Call: Struct](Struct, frozen=True):
    """A command: what a call of it says, and what does it (an exit status comes back).

    `works_on` is the field of the call that takes the words without an option: any number if it is a tuple, else one.
    """

    name: str
    call: type[Call]
    work: Callable[[Call], int]
    works_on: str


class Option(Struct, frozen=True):
    """One field of a call. `stands_for` names its value in the catalogue, and is empty for a flag."""

    field: str
    name: str
    stands_for: str
    required: bool
    choices: tuple[str, ...]
    many: bool

    @property
    def takes(self) -> str:
        """Its value as help shows it: `FOLDER`; empty for a flag."""
        return catalogue().say(f"command.stands-for.{self.stands_for}") if self.stands_for else ""


class AskedForHelp(Struct, frozen=True):
    """The call wants to be told how to call."""


def options_of(call: type[Struct]) -> tuple[Option, ...]:
    """The fields of a call, those that must be given first."""
    found = []
    for one in fields(call):
        kind, *said = get_args(one.type) or (one.type,)
        choices = get_args(kind) if get_origin(kind) is Literal else ()
        required = one.default is NODEFAULT and one.default_factory is NODEFAULT
        name = "--" + one.encode_name.replace("_", "-")
        found.append(Option(one.name, name, str(said[0]) if said else "", required, choices, get_origin(kind) is tuple))
    return tuple(sorted(found, key=lambda option: not option.required))


def _parted[Call: Struct](command: Command[Call]) -> tuple[Option, tuple[Option, ...]]:
    """What the command works on, and its options."""
    every = options_of(command.call)
    works_on = next(one for one in every if one.field == command.works_on)
    return works_on, tuple(one for one in every if one is not works_on)


def read_call[Call: Struct](command: Command[Call], words: Sequence[str]) -> Call | AskedForHelp | tuple[Wrong, ...]:
    """What the words after a command's name say, or what is wrong with them, the first thing only.

    What stands after an option belongs to it, whatever it looks like: `--for -5`, `--for=-5`.
    """
    works_on, options = _parted(command)
    known = {option.name: option for option in options}
    values: dict[str, object] = {}
    plain: list[str] = []
    waiting = iter(words)
    for word in waiting:
        name, given, value = word.partition("=")
        if word == "--":
            plain += waiting
        elif word in _HELP:
            return AskedForHelp()
        elif name not in known or (given and not known[name].stands_for):
            if _OPTION.match(word):
                said, options_there = name if name not in known else word, (*known, "--help")
                wrong = Wrong.of("option-unknown", name=command.name, option=said, known=options_there)
                return (wrong, *nearest(said, options_there, "option-meant"))
            plain.append(word)
        elif not known[name].stands_for:
            values[known[name].field] = True
        else:
            value = value if given else next(waiting, "")
            if unfit := _unfit(known[name], value, known):
                return (unfit,)
            values[known[name].field] = value
    if missing := next((one for one in options if one.required and one.field not in values), None):
        facts = {"option": missing.name, "takes": missing.takes, "example": _example_of(command.name)}
        return (Wrong.of("option-missing", name=command.name, **facts),)
    return _with_plain(command, works_on, plain, values)


def _with_plain[Call: Struct](
    command: Command[Call], works_on: Option, plain: Sequence[str], values: dict[str, object]
) -> Call | tuple[Wrong, ...]:
    """The call, once it is known what it works on."""
    if works_on.required and not plain:
        facts = {"takes": works_on.takes, "example": _example_of(command.name)}
        return (Wrong.of("nothing-to-work-on", name=command.name, **facts),)
    if not works_on.many and len(plain) > 1:
        return (Wrong.of("more-than-one", name=command.name, takes=works_on.takes, said=" ".join(plain)),)
    if plain:
        values[works_on.field] = tuple(plain) if works_on.many else plain[0]
    return command.call(**values)


def _unfit(option: Option, value: str, known: Mapping[str, Option]) -> Wrong | None:
    """What is wrong when nothing, or what cannot be chosen, stands after an option."""
    if not value.strip() or value in known or value in _HELP:
        return Wrong.of("option-empty", option=option.name, takes=option.takes)
    if option.choices and value not in option.choices:
        return Wrong.of("option-choice", option=option.name, said=value, known=option.choices)
    return None


def nearest(said: str, known: Sequence[str], message: str) -> tuple[Wrong, ...]:
    """What may have been meant, as a message; nothing where nothing known is like it."""
    from difflib import get_close_matches

    return tuple(Wrong.of(message, nearest=one) for one in get_close_matches(said, known, 1))


# --- help -------------------------------------------------------------------------------------------------------------


def help_of[Call: Struct](command: Command[Call], facts: Mapping[str, object]) -> str:
    """What one gets, an example that works, how it is called, and every option. `facts` go into the options' words."""
    works_on, options = _parted(command)
    gets, _, more = say(f"{command.name}.help").partition("\n\n")
    example = "\n".join(say("example", example=line) for line in say(f"{command.name}.example").splitlines())
    takes = works_on.takes + ("..." if works_on.many else "")
    usage = say("usage", call=f"foldwright {command.name} [OPTIONS] {takes if works_on.required else f'[{takes}]'}")
    texts = [wrapped(gets), example, usage, *([wrapped(more)] if more else [])]
    heads = {f"  {option.name} {option.takes}".rstrip(): f"{command.name}.{option.name[2:]}" for option in options}
    return "\n\n".join(texts) + "\n\n" + _in_columns({**heads, "  --help": "help-option"}, facts)


def _example_of(name: str) -> str:
    """A call of the command that works, ready to type."""
    return say(f"{name}.example").partition("\n")[0]


def _in_columns(keys: Mapping[str, str], facts: Mapping[str, object]) -> str:
    indent = max(map(len, keys)) + 2
    lines: list[str] = []
    for head, key in keys.items():
        first, rest = head.ljust(indent), " " * indent
        text = say(key, **facts)
        lines += textwrap.wrap(text, _WIDTH, initial_indent=first, subsequent_indent=rest, break_on_hyphens=False)
    return "\n".join(lines)


def say(key: str, **facts: object) -> str:
    """A text of the commands from the catalogue, without the line ends around it."""
    return catalogue().say(f"command.{key}", **facts).strip()


def wrapped(text: str) -> str:
    """A text in lines of at most 80 columns; its own line ends are kept."""
    return "\n".join(textwrap.fill(line, _WIDTH, break_on_hyphens=False) for line in text.splitlines())
