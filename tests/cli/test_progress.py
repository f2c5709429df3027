"""How far long work is: told on a terminal alone, once it takes a while, and wiped before anything else is said."""

from __future__ import annotations

import io
import sys
from collections.abc import Iterator

import pytest

from foldwright.cli.progress import ProgressLine, progress_line


class Screen(io.StringIO):
    """A terminal that keeps what is shown."""

    def isatty(self) -> bool:
        return True


def clock(*seconds: float) -> Iterator[float]:
    yield from seconds


def shown(monkeypatch: pytest.MonkeyPatch, stream: io.StringIO, *seconds: float) -> str:
    """What stands on the stream after a begin, a stage, and three tellings at these times."""
    monkeypatch.setattr(sys, "stderr", stream)
    told = ProgressLine(clock(*seconds).__next__).stage("cutting")
    for done in (0, 1, 2, 3):
        told(done, 4)
    return stream.getvalue()


def test_nothing_is_said_where_no_terminal_is(monkeypatch: pytest.MonkeyPatch) -> None:
    assert shown(monkeypatch, io.StringIO(), 0) == ""


def test_nothing_is_said_of_what_is_quick(monkeypatch: pytest.MonkeyPatch) -> None:
    assert shown(monkeypatch, Screen(), 0, 0, 0.1, 0.2, 0.3, 0.4) == ""


def test_the_time_that_is_left_is_as_much_as_was_needed_so_far(monkeypatch: pytest.MonkeyPatch) -> None:
    """One of four in 10 s leaves 30; three of four in 60 s leave 20."""
    lines = shown(monkeypatch, Screen(), 0, 0, 5, 10, 40, 60).replace("\u202f", " ").split("\r\x1b[K")
    assert lines[1:] == [
        "Cutting: 0 of 4",
        "Cutting: 1 of 4, about 30 s left",
        "Cutting: 2 of 4, about 40 s left",
        "Cutting: 3 of 4, about 20 s left",
    ]


def test_minutes_are_rounded_up() -> None:
    assert progress_line("papers", 1, 9, 61).replace("\u202f", " ") == "Papers: 1 of 9, about 2 min left"


def test_the_line_is_wiped_when_all_is_done(monkeypatch: pytest.MonkeyPatch) -> None:
    screen = Screen()
    monkeypatch.setattr(sys, "stderr", screen)
    told = ProgressLine(clock(0, 0, 10, 20).__next__).stage("papers")
    told(1, 2)
    told(2, 2)
    assert screen.getvalue().endswith("left\r\x1b[K")
