"""The examples of each command's help work: each is run where what it names is there."""

from __future__ import annotations

import io
import re
import shlex
import sys
from pathlib import Path

import pytest

from foldwright.cli.app import COMMANDS, run
from foldwright.cli.options import say
from workbench.command_line import GOOD, write

EXAMPLES = [line for name in COMMANDS for line in say(f"{name}.example").splitlines()]


@pytest.mark.parametrize("example", EXAMPLES)
def test_an_example_works(
    example: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Recipes of the names it calls hold a card; the readings are those the help of `recover` shows.

    Whoever is asked something takes what is proposed. An example that names the folder alone finds one recipe there.
    """
    for recipe in re.findall(r"birdhouse|twine-tag|(?<=recipes/)[a-z-]+", example) or ["birdhouse"]:
        write(tmp_path / "recipes", recipe, GOOD)
    readings = re.findall(r"^  +(\S.*)$", say("recover.help"), re.MULTILINE)
    (tmp_path / "sample.txt").write_text("\n".join(readings) + "\n", encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(sys, "stdin", io.StringIO("\n" * 9))
    # The desk is closed as soon as it is open.
    monkeypatch.setattr(
        "foldwright.desk.serving.serve", lambda desk, listening, ready, *more: (ready(), listening.close())
    )
    monkeypatch.setattr("webbrowser.open", lambda address: address.startswith("http://127.0.0.1:"))
    assert run(shlex.split(example)[1:]) == 0, "".join(capsys.readouterr())
