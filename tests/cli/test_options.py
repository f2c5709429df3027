"""The options of a command are the fields of its call: read, named in help, each example a call."""

from __future__ import annotations

import shlex
from typing import Annotated, Any, Literal

import pytest
from msgspec import Struct, field

from foldwright.cli.app import COMMANDS, FACTS
from foldwright.cli.options import AskedForHelp, Command, help_of, options_of, read_call, say
from foldwright.finding import Wrong


class Call(Struct, frozen=True, kw_only=True):
    paths: Annotated[tuple[str, ...], "path"]
    out: Annotated[str, "folder"]
    kits: Annotated[str, "number"] = field(name="for", default="1")
    larger_paper: bool = False
    format: Annotated[Literal["text", "json"], "format"] = "text"


COMMAND: Command[Call] = Command("build", Call, lambda call: 0, "paths")
READ: dict[str, Call] = {
    "a --out b": Call(paths=("a",), out="b"),
    "--out b a c": Call(paths=("a", "c"), out="b"),
    "a --out=b c --larger-paper": Call(paths=("a", "c"), out="b", larger_paper=True),
    "a --out b --for -5": Call(paths=("a",), out="b", kits="-5"),
    "a --out b --for=--x": Call(paths=("a",), out="b", kits="--x"),
    "-3 --out b --out c": Call(paths=("-3",), out="c"),
    "--out b -- --format -x": Call(paths=("--format", "-x"), out="b"),
    "a --out b --format json": Call(paths=("a",), out="b", format="json"),
}
WRONG = {
    "a": "option-missing",
    "a --out": "option-empty",
    "a --out --for": "option-empty",
    "--out b": "nothing-to-work-on",
    "a --out b --format xml": "option-choice",
    "a --out b --larger-paper=yes": "option-unknown",
    "a --out b -x": "option-unknown",
}


@pytest.mark.parametrize("words", READ)
def test_a_call_is_read(words: str) -> None:
    assert read_call(COMMAND, words.split()) == READ[words]


@pytest.mark.parametrize("words", WRONG)
def test_a_wrong_call_is_told_as_data(words: str) -> None:
    wrong = read_call(COMMAND, words.split())
    assert isinstance(wrong, tuple)
    assert isinstance(wrong[0], Wrong)
    assert wrong[0].message == WRONG[words]


def test_one_name_is_one_word_of_the_call() -> None:
    wrong = read_call(COMMANDS["new"], ["Blue", "box"])
    assert isinstance(wrong, tuple)
    assert dict(wrong[0].facts) == {"name": "new", "takes": "NAME", "said": "Blue box"}


@pytest.mark.parametrize("command", COMMANDS.values(), ids=COMMANDS)
def test_help_is_what_one_gets_then_an_example_that_is_a_call_then_every_option(command: Command[Any]) -> None:
    paragraphs = help_of(command, FACTS).split("\n\n")
    assert " ".join(paragraphs[0].split()) == " ".join(say(f"{command.name}.help").partition("\n\n")[0].split())
    assert say(f"{command.name}.example").splitlines()[0] in paragraphs[1]
    for line in say(f"{command.name}.example").splitlines():
        program, name, *words = shlex.split(line)
        assert (program, name) == ("foldwright", command.name)
        assert isinstance(read_call(command, words), command.call)
    heads = [line.split()[0] for line in paragraphs[-1].splitlines() if line.startswith("  --")]
    named = [option.name for option in options_of(command.call) if option.field != command.works_on]
    assert heads == [*named, "--help"]


@pytest.mark.parametrize("asked", ["-h", "--help"])
def test_help_needs_nothing_else(asked: str) -> None:
    assert isinstance(read_call(COMMAND, [asked]), AskedForHelp)
