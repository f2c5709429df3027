"""How far long work is and how long it will take, on a terminal alone: one line, wiped before anything else is said."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable
from shutil import get_terminal_size
from time import monotonic

from foldwright.document.catalogue import catalogue
from foldwright.document.wording import span_words

type Told = Callable[[int, int], None]
"""Called with how much is done and how much there is."""

_PATIENCE = 2.0
"""Seconds that nobody wonders about."""
_WIPE = "\r\x1b[K"


def silent(_done: int, _all: int) -> None:
    """For who does not want to know."""


class ProgressLine:
    """The line of one run. It says nothing where standard error is no terminal."""

    def __init__(self, clock: Callable[[], float] = monotonic) -> None:
        self._clock = clock
        self._begun = clock()
        self._shown = sys.stderr.isatty()
        self._line = ""
        self._names: tuple[str, ...] = ()

    def at_work(self, names: Iterable[str]) -> None:
        """What is being worked on, from here on."""
        self._names = tuple(names)

    def stage(self, key: str) -> Told:
        """What is said of one kind of work while it goes on; `key` is its name in the catalogue."""
        if not self._shown:
            return silent
        begun = self._clock()

        def told(done: int, everything: int) -> None:
            now = self._clock()
            if done >= everything:
                self.wipe()
            elif now - self._begun >= _PATIENCE:
                left = round((now - begun) / done * (everything - done)) if done else 0
                self._show(progress_line(key, done, everything, left, self._names))

        return told

    def _show(self, line: str) -> None:
        # A line that breaks could not be wiped.
        line = line[: get_terminal_size().columns - 1]
        if line != self._line:
            print(f"{_WIPE}{line}", end="", file=sys.stderr, flush=True)
            self._line = line

    def wipe(self) -> None:
        """Take the line away; whatever is said next stands where it stood."""
        if self._line:
            print(_WIPE, end="", file=sys.stderr, flush=True)
            self._line = ""


def progress_line(key: str, done: int, everything: int, left: int, names: tuple[str, ...] = ()) -> str:
    """`Cutting: 3 of 6, about 12 s left`; without a time where none can be told, with the names of what is at work."""
    words = catalogue()
    facts = {"name": words.say(f"command.progress.{key}"), "done": done, "all": everything}
    line = words.say("command.progress.line", **facts)
    if left:
        span = span_words(words, left if left < 60 else -(-left // 60) * 60)
        line = words.say("command.progress.line-left", left=span, **facts)
    return words.say("command.progress.at-work", line=line, names=names) if names else line
