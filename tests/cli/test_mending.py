"""What goes wrong between a question and its answer: the file is another by then, or cannot be written."""

from __future__ import annotations

import errno
import io
import sys
from pathlib import Path

import pytest

from foldwright.cli import mending
from foldwright.cli.app import run
from workbench.command_line import GOOD, write

BROKEN = GOOD.replace("makes:", "mkaes:").replace("from: white", "from: whit")


class _Answers(io.StringIO):
    """Somebody who answers yes, and something that happens before the first answer."""

    def __init__(self, happens: object) -> None:
        super().__init__("yes\n" * 9)
        self._happens = happens

    def readline(self, size: int | None = -1, /) -> str:
        if callable(self._happens):
            self._happens()
            self._happens = None
        return super().readline(-1 if size is None else size)


def test_a_file_that_was_changed_meanwhile_is_left_to_who_changed_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    file = write(tmp_path, "card", BROKEN) / "recipe.md"
    theirs = BROKEN.replace("A plain card.", "A plain card, by hand.")
    monkeypatch.setattr(sys, "stdin", _Answers(lambda: file.write_text(theirs, encoding="utf-8")))
    assert run(["check", str(file.parent), "--mend"]) == 1
    assert file.read_text(encoding="utf-8") == theirs
    assert "Somebody else has changed" in capsys.readouterr().err


def test_a_disk_that_is_full_is_told_and_the_file_is_what_it_was(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    file = write(tmp_path, "card", BROKEN) / "recipe.md"

    def full(path: Path, data: bytes) -> None:
        raise OSError(errno.ENOSPC, "no room", str(path))

    monkeypatch.setattr(mending, "write_whole", full)
    monkeypatch.setattr(sys, "stdin", _Answers(None))
    assert run(["check", str(file.parent), "--mend"]) == 1
    assert file.read_text(encoding="utf-8") == BROKEN
    told = capsys.readouterr()
    assert str(file) in told.err
    assert "Nothing was changed." in told.out
