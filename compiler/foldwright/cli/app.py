"""The commands and their options, and nothing else: each hands over to the module of its name.

Read with the standard library's argparse: the libraries that make a command line from type hints cost more at every
start than a whole recipe takes to check.
"""

from __future__ import annotations

import argparse
import re
import textwrap
from collections.abc import Callable, Mapping, Sequence
from functools import partial
from pathlib import Path
from typing import NoReturn

from foldwright.document.catalogue import catalogue
from foldwright.outputs.names import FORMS, OUTPUTS
from foldwright.recipe.facts.unprintable import UNPRINTABLE, printable

type Options = argparse.Namespace

_WIDTH = 80
_OPTION = re.compile(r"--?[A-Za-z]")
"""What begins so is meant as an option; `-5` and `-3,50` are numbers."""
WRONG_CALL = 2


def run(words: Sequence[str]) -> int:
    """Do what the words of the call say; the exit status."""
    if not words or words[0] in ("-h", "--help"):
        print(_about())
        return 0 if words else WRONG_CALL
    if words[0] == "--version":
        return _version()
    name, *rest = words
    if name not in _COMMANDS:
        return _unknown(name)
    if wrong := next((word for word in rest if UNPRINTABLE.search(word)), None):
        return _unprintable(wrong)
    describe, work = _COMMANDS[name]
    parser = _Parser(name)
    describe(parser)
    joined = parser.joined(rest)
    return joined if isinstance(joined, int) else work(parser.parse_intermixed_args(joined))


def _say(key: str, **facts: object) -> str:
    return catalogue().say(f"command.{key}", **facts).strip()


def _about() -> str:
    rows = "\n".join(f"  {name:<9} {_say(f'{name}.short')}" for name in _COMMANDS)
    return f"{_wrapped(_say('about'))}\n\n{rows}\n\n{_wrapped(_say('more'))}"


def _version() -> int:
    from importlib.metadata import version

    print(_say("version", version=version(__package__.partition(".")[0])))
    return 0


def _unknown(name: str) -> int:
    from difflib import get_close_matches

    from foldwright.cli.telling import Teller

    nearest = get_close_matches(name, _COMMANDS, 1)
    Teller("stderr").words("wrong.command-unknown", name=name, known=tuple(_COMMANDS))
    if nearest:
        Teller("stderr").words("wrong.command-meant", nearest=nearest[0])
    return WRONG_CALL


def _unprintable(word: str) -> int:
    from foldwright.cli.telling import Teller

    Teller("stderr").words("wrong.unprintable", said=printable(word))
    return WRONG_CALL


def _wrapped(text: str) -> str:
    return "\n".join(textwrap.fill(line, _WIDTH, break_on_hyphens=False) for line in text.splitlines())


class _Parser(argparse.ArgumentParser):
    """A command's own reader: its words come from the catalogue, and only when they are shown."""

    def __init__(self, name: str) -> None:
        # The width is given, since to ask for it loads four libraries for packing files.
        formatter = partial(argparse.HelpFormatter, width=_WIDTH)
        super().__init__(prog=f"foldwright {name}", add_help=False, allow_abbrev=False, formatter_class=formatter)
        self._name = name
        self._meanings: dict[str, tuple[str, str]] = {"--help": ("help-option", "")}
        self._takes = ""
        self._needed: list[str] = []
        self._choices: dict[str, tuple[str, ...]] = {}
        self.add_argument("-h", "--help", action="help")

    def takes(self, name: str, stands_for: str, many: bool = True, needed: bool = True) -> None:
        """What the command works on: one or more words (or any number, if none is `needed`), or none or one."""
        self._takes = f" {_say(f'stands-for.{stands_for}')}" + ("..." if many else "")
        self.add_argument(
            name, nargs=("+" if needed else "*") if many else "?", default="", metavar=_say(f"stands-for.{stands_for}")
        )

    def flag(self, name: str) -> None:
        self._meanings[f"--{name}"] = (f"{self._name}.{name}", "")
        self.add_argument(f"--{name}", action="store_true")

    def option(
        self, name: str, stands_for: str, default: str = "", required: bool = False, choices: Sequence[str] = ()
    ) -> None:
        self._meanings[f"--{name}"] = (f"{self._name}.{name}", _say(f"stands-for.{stands_for}"))
        self._choices[f"--{name}"] = tuple(choices)
        self._needed += [f"--{name}"] if required else []
        self.add_argument(f"--{name}", default=default)

    def joined(self, words: Sequence[str]) -> list[str] | int:
        """Each option together with what stands after it, whatever that looks like: `--for=-5`; the status if wrong.

        Otherwise `-5%` would pass for an option of which nobody has heard.
        """
        found: list[str] = []
        waiting = iter(words)
        for word in waiting:
            if word == "--":
                found += [word, *waiting]
                break
            option, said, value = word.partition("=")
            if option not in self._meanings and _OPTION.match(word):
                return self._wrong("option-unknown", option=option, known=tuple(self._meanings))
            if not self._meanings.get(option, ("", ""))[1]:
                found.append(word)
                continue
            value = value if said else next(waiting, "")
            if wrong := self._unfit(option, value):
                return wrong
            found.append(f"{option}={value}")
        given = {word.partition("=")[0] for word in found}
        missing = [one for one in self._needed if one not in given]
        if missing and given.isdisjoint(("-h", "--help")):
            return self._wrong("option-missing", option=missing[0], takes=self._meanings[missing[0]][1])
        return found

    def _unfit(self, option: str, value: str) -> int:
        """The status when nothing, or what cannot be chosen, stands after an option; 0 when all is well."""
        takes, choices = self._meanings[option][1], self._choices[option]
        if not value.strip() or value in self._meanings:
            return self._wrong("option-empty", option=option, takes=takes)
        if choices and value not in choices:
            return self._wrong("option-choice", option=option, said=value, known=choices)
        return 0

    def error(self, message: str) -> NoReturn:
        """All else that a call can lack is what the command works on."""
        raise SystemExit(self._wrong("nothing-to-work-on", option="", takes=self._takes.strip(), why=message))

    def _wrong(self, message: str, **facts: object) -> int:
        from difflib import get_close_matches

        from foldwright.cli.telling import Teller

        teller = Teller("stderr")
        teller.words(f"wrong.{message}", name=self._name, **facts)
        nearest = get_close_matches(str(facts["option"]), self._meanings, 1)
        if message == "option-unknown" and nearest:
            teller.words("wrong.option-meant", nearest=nearest[0])
        teller.words("wrong-call")
        return WRONG_CALL

    def format_usage(self) -> str:
        return f"foldwright {self._name} [OPTIONS]{self._takes}\n"

    def format_help(self) -> str:
        facts = {"names": ", ".join(OUTPUTS), "forms": ", ".join(FORMS)}
        lines = [self.format_usage(), _wrapped(_say(f"{self._name}.help")), ""]
        heads = {option: f"  {option} {stands_for}".rstrip() for option, (_, stands_for) in self._meanings.items()}
        indent = max(map(len, heads.values())) + 2
        for option, (key, _) in self._meanings.items():
            lines += textwrap.wrap(
                _say(key, **facts),
                _WIDTH,
                initial_indent=heads[option].ljust(indent),
                subsequent_indent=" " * indent,
                break_on_hyphens=False,
            )
        return "\n".join(lines) + "\n"


def _describe_check(parser: _Parser) -> None:
    parser.takes("paths", "path")
    parser.flag("measures")
    parser.flag("pieces")
    parser.flag("strict")
    parser.option("format", "format", default="text", choices=("text", "json"))


def _check(options: Options) -> int:
    from foldwright.cli.check import check

    paths = [Path(path) for path in options.paths]
    return check(
        paths,
        measures=options.measures,
        pieces=options.pieces,
        strict=options.strict,
        as_json=options.format == "json",
    )


def _describe_build(parser: _Parser) -> None:
    parser.takes("paths", "path")
    parser.option("out", "folder", required=True)
    parser.option("only", "names", default=",".join(OUTPUTS))
    parser.option("units", "names", default="imperial,metric")
    parser.option("size", "names")
    parser.option("theme", "theme")
    parser.option("paper", "papers")
    parser.flag("larger-paper")
    parser.option("up", "number")
    parser.flag("back")
    parser.flag("large-print")
    parser.flag("mirror")
    parser.option("pictures-at", "address")
    parser.option("jobs", "number")


def _build(options: Options) -> int:
    from foldwright.cli.build import build
    from foldwright.outputs.wishes import BuildOptions

    asked = BuildOptions(
        only=options.only,
        units=options.units,
        size=options.size,
        theme=options.theme,
        pictures_at=options.pictures_at,
        paper=options.paper,
        up=options.up,
        back=options.back,
        larger_paper=options.larger_paper,
        large_print=options.large_print,
        mirror=options.mirror,
    )
    return build([Path(path) for path in options.paths], Path(options.out), asked, jobs=options.jobs)


def _describe_kit(parser: _Parser) -> None:
    parser.takes("paths", "path")
    parser.option("for", "number", required=True)
    parser.option("size", "names")
    parser.option("out", "folder", default="build")
    parser.option("units", "system")
    parser.option("paper", "papers")
    parser.option("spare", "share")
    parser.option("sample", "number")
    parser.option("stock", "file")
    parser.option("helpers", "number")
    parser.option("learning", "share")
    parser.option("fee", "money")
    parser.option("margin", "share")
    parser.option("cost", "costs")
    parser.option("begins", "clock")
    parser.option("on", "day")
    parser.option("at", "place")
    parser.option("called", "name")
    parser.option("per-table", "number")
    parser.option("names", "file")
    parser.option("labels", "size")
    parser.flag("name-line")
    parser.option("trim", "length")
    parser.option("ends", "length")
    parser.option("effort", "number")
    parser.option("fewest", "thing")
    parser.flag("anew")
    parser.option("theme", "theme")


def _kit(options: Options) -> int:
    from foldwright.cli.kit import kit
    from foldwright.event.wishes import KitOptions

    asked = KitOptions(
        kits=getattr(options, "for"),
        size=options.size,
        helpers=options.helpers,
        spare=options.spare,
        samples=options.sample,
        stock=options.stock,
        names=options.names,
        fee=options.fee,
        margin=options.margin,
        cost=options.cost,
        units=options.units,
        paper=options.paper,
        per_table=options.per_table,
        begins=options.begins,
        on=options.on,
        at=options.at,
        called=options.called,
        learning=options.learning,
        trim=options.trim,
        ends=options.ends,
        effort=options.effort,
        fewest=options.fewest,
        anew=options.anew,
        labels=options.labels,
        name_line=options.name_line,
        theme=options.theme,
    )
    return kit([Path(path) for path in options.paths], Path(options.out), asked)


def _describe_convert(parser: _Parser) -> None:
    parser.takes("measures", "measure")
    parser.option("to", "system")
    parser.option("reads", "length")


def _convert(options: Options) -> int:
    from foldwright.cli.convert import convert

    return convert(options.measures, to=options.to, reads=options.reads)


def _describe_new(parser: _Parser) -> None:
    parser.takes("name", "name", many=False)
    parser.option("form", "form")
    parser.option("size", "size")
    parser.option("panels", "number")
    parser.option("units", "unit")
    parser.option("card", "card")
    parser.option("into", "folder", default="recipes")


def _new(options: Options) -> int:
    from foldwright.cli.new import new

    return new(
        options.name,
        form=options.form,
        size=options.size,
        panels=options.panels,
        units=options.units,
        card=options.card,
        into=Path(options.into),
    )


def _describe_recover(parser: _Parser) -> None:
    parser.takes("sample", "sample", many=False)
    parser.option("name", "name")
    parser.option("read-to", "length")
    parser.option("into", "folder", default="recipes")


def _recover(options: Options) -> int:
    from foldwright.cli.recover import recover_sample

    return recover_sample(options.sample, name=options.name, read_to=options.read_to, into=Path(options.into))


def _describe_design(parser: _Parser) -> None:
    parser.takes("things", "thing", needed=False)
    parser.option("form", "form")
    parser.option("card", "card")
    parser.option("numbers", "length")
    parser.option("sheet", "sheet")
    parser.option("clearance", "length")
    parser.option("units", "unit")
    parser.option("take", "number")
    parser.option("name", "name")
    parser.option("into", "folder", default="recipes")
    parser.option("html", "file")
    parser.flag("all")
    parser.option("resize", "path")
    parser.option("scale", "number")
    parser.option("holds", "thing")
    parser.option("as", "name")


def _design(options: Options) -> int:
    from foldwright.begin.design.wishing import DesignOptions
    from foldwright.cli.design import DesignCall, design_blanks

    if options.resize or options.scale or options.holds:
        return _resize(options)
    asked = DesignOptions(
        things=tuple(options.things),
        forms=options.form,
        card=options.card,
        numbers=options.numbers,
        sheet=options.sheet,
        clearance=options.clearance,
        units=options.units,
    )
    return design_blanks(
        asked,
        DesignCall(options.take, options.name, options.html, Path(options.into), everything=options.all),
    )


def _resize(options: Options) -> int:
    from foldwright.begin.resize.sizing import SizeGoal
    from foldwright.cli.resize import resize_recipe
    from foldwright.cli.telling import Teller

    if not options.resize or bool(options.scale) == bool(options.holds):
        Teller("stderr").words("design.resize-what")
        return WRONG_CALL
    goal = SizeGoal(options.scale, options.holds, options.numbers, options.clearance)
    return resize_recipe(Path(options.resize), goal, getattr(options, "as"))


_COMMANDS: Mapping[str, tuple[Callable[[_Parser], None], Callable[[Options], int]]] = {
    "new": (_describe_new, _new),
    "check": (_describe_check, _check),
    "build": (_describe_build, _build),
    "kit": (_describe_kit, _kit),
    "recover": (_describe_recover, _recover),
    "design": (_describe_design, _design),
    "convert": (_describe_convert, _convert),
}
