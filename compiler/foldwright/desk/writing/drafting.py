"""What is typed, on its way to the disk: a draft within a second, the recipe when it is kept, and a look at what
others did to it."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from threading import Lock

from foldwright.desk.keeping.on_disk import Choice, Opened, Outside, RecipeOnDisk, Settled
from foldwright.desk.writing.compiling import Message
from foldwright.document.catalogue import catalogue
from foldwright.finding import Wrong

_WAIT = 0.3
"""Seconds from a key to the draft, in which other keys may come; the promise is one second."""
_LOOK = 2.0
"""Seconds between looks at whether another program has changed the recipe, and tries to write what was not written."""


class Drafting:
    """Keeps one recipe's text on disk. What it tells is how things stand: kept or not, what went wrong, what others
    did."""

    def __init__(self, on_disk: RecipeOnDisk, opened: Opened) -> None:
        self.on_disk = on_disk
        self._text, self._recipe, self._outside = opened.text, opened.recipe, opened.outside
        self._drafted = opened.drafted
        self._on_paper = opened.text
        """What is on disk, as draft or recipe."""
        self._trouble = ""
        self._typed = asyncio.Event()
        self._one_at_a_time = Lock()
        """A draft that was begun before a text is kept must not be written after it."""
        self._told = self.state()
        """What every tab knows: each is greeted with how things stand."""

    def typed(self, text: str) -> None:
        """To be on disk soon."""
        self._text = text
        self._typed.set()

    def greet(self, tab: Callable[[Message], None]) -> None:
        """How things stand, for a tab that has just been opened."""
        tab(self.state())

    def keep(self) -> Message:
        """Make the text the recipe; how things stand then. Slow: done in a thread."""
        with self._one_at_a_time:
            # Keys that come meanwhile are in `_text`, and not yet on disk.
            text = self._text
            answer = self.on_disk.keep(text)
            if isinstance(answer, Outside):
                self._outside = answer
            elif not self._went_wrong(answer):
                self._recipe = self._on_paper = text
                self._drafted = False
            return self.told()

    def choose(self, choice: Choice) -> str | None:
        """Do as was chosen between two texts; another text to go on with, if any. Slow: done in a thread."""
        with self._one_at_a_time:
            if self._outside is None:
                return None
            mine = self._text
            answer = self.on_disk.settle(self._outside, choice, mine)
            if isinstance(answer, Settled):
                self._outside, self._trouble, self._drafted = None, "", False
                self._recipe = self._on_paper = answer.text
                if answer.text == mine:
                    return None
                self._text = answer.text
                return answer.text
            if isinstance(answer, Outside):
                self._outside = answer
            else:
                self._went_wrong(answer)
            return None

    def write(self) -> None:
        """Have the text on disk as a draft, if it is not. Slow: done in a thread."""
        with self._one_at_a_time:
            text = self._text
            if text != self._on_paper and not self._went_wrong(self.on_disk.save_draft(text)):
                self._on_paper = text

    async def keep_on(self, tell: Callable[[Message], None]) -> None:
        """Write drafts as they come, and look after the recipe, until it is closed."""
        while True:
            try:
                await asyncio.wait_for(self._typed.wait(), _LOOK)
                await asyncio.sleep(_WAIT)
            except TimeoutError:
                self._outside = await asyncio.to_thread(self.on_disk.look, self._text) or self._outside
            typed = self._typed.is_set()
            self._typed.clear()
            await asyncio.to_thread(self.write)
            # Whoever types does not know how things stand, until told so.
            if typed or self.state() != self._told:
                tell(self.told())

    def told(self) -> Message:
        """How things stand, to be told to all now."""
        self._told = self.state()
        return self._told

    def state(self) -> Message:
        """How things stand, in a message."""
        return {
            "is": "state",
            "kept": self._text == self._recipe,
            "written": self._text == self._on_paper,
            "drafted": self._drafted,
            "trouble": self._trouble,
            "outside": self._outside and _told(self._outside),
        }

    def _went_wrong(self, answer: Wrong | None) -> bool:
        self._trouble = catalogue().say(answer.message, **dict(answer.facts)) if answer else ""
        return answer is not None


def _told(outside: Outside) -> Message:
    return {
        "theirs": outside.theirs,
        "gone": outside.gone,
        "unreadable": outside.unreadable,
        "choices": [one.value for one in outside.choices],
    }
