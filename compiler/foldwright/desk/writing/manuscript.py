"""An open recipe: its text as it was last typed, who is looking at it, and what is made of it whenever it changes.

The text is the truth. Each change is compiled in a thread of its own (the newest only, when typing is faster), written
down as a draft, and told to every tab. Sheets on paper are set when one pauses.
"""

from __future__ import annotations

import asyncio
import contextlib
import sys
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

from msgspec.structs import asdict

from foldwright.desk.writing.compiling import Answer, Compiler, Message, SheetWish, found_message
from foldwright.desk.writing.drafting import Drafting
from foldwright.desk.writing.sheets import Sheets, Workers
from foldwright.outputs.sources import Source

type Tell = Callable[[Message], None]
"""Hands one message to one tab, which gets it when it can."""


class Manuscript:
    """One recipe that is open. What is told goes to every tab that shows it."""

    def __init__(self, source: Source, drafting: Drafting, text: str, workers: Workers) -> None:
        self.source, self.drafting, self.text = source, drafting, text
        self.number = 0
        """Counts the changes, so that nobody takes an answer for one about a newer text."""
        self.answer: Answer | None = None
        self.drawn: Answer | None = None
        """The last one whose plans are drawn."""
        self.wish = SheetWish()
        self.sheets = Sheets(source, workers, self.tell)
        self.compiler = Compiler(source)
        self._tabs: list[Tell] = []
        self._thread = ThreadPoolExecutor(1, "compile")
        self._changed, self._settled = asyncio.Event(), asyncio.Event()
        self._changed.set()
        self._work = [asyncio.create_task(self._compile_on()), asyncio.create_task(drafting.keep_on(self.tell))]

    def tell(self, message: Message) -> None:
        """Tell every tab."""
        for tab in self._tabs:
            tab(message)

    def greet(self, tab: Tell, text: str | None = None) -> None:
        """A tab has opened, or has found us again; with what was typed in it meanwhile, if anything."""
        self._tabs.append(tab)
        if text is not None and text != self.text:
            self.typed(text, tab)
        else:
            tab({"is": "text", "number": self.number, "text": self.text})
        self.drafting.greet(tab)
        tab(self._wish_message())
        if self.answer:
            for message in self.answer.since(None, self.number):
                tab(message)
        if self.drawn:
            for message in self.drawn.drawn_since(None):
                tab(message)
        if self.answer and self._tabs == [tab]:
            self.sheets.changed(self.answer, self.wish)
        self.sheets.greet(tab)

    def leave(self, tab: Tell) -> None:
        """A tab has been closed. With the last of them, papers are given up: those of the recipe that is looked at next
        would wait for them."""
        if tab in self._tabs:
            self._tabs.remove(tab)
        if not self._tabs:
            self.sheets.stop()

    def typed(self, text: str, by: Tell | None) -> None:
        """Another text, from a tab or taken back from what was kept."""
        if text == self.text:
            return
        self.number += 1
        self.text = text
        self.drafting.typed(text)
        self._settled.clear()
        self._changed.set()
        for tab in self._tabs:
            if tab != by:
                tab({"is": "text", "number": self.number, "text": text})

    def wished(self, wish: SheetWish) -> None:
        """Another look, other paper, other units, another size."""
        self.wish = wish
        self._settled.clear()
        self._changed.set()

    async def whole_page(self) -> bytes | None:
        """The tutorial of the last text there is a page of, whole."""
        await self._settled.wait()
        if self.answer is None:
            return None
        return await self._in_thread(self.compiler.whole_page, self.answer, self.wish)

    async def everything(self) -> bytes | None:
        """Every sheet of the text as it stands in one archive; None where it has an error."""
        await self._settled.wait()
        return await self.sheets.all(self.answer, self.wish) if self.answer else None

    async def close(self) -> None:
        """Write what is not written yet, and stop."""
        for task in self._work:
            task.cancel()
        self.sheets.stop()
        with contextlib.suppress(asyncio.CancelledError):
            await asyncio.gather(*self._work, return_exceptions=True)
        self._thread.shutdown(wait=False, cancel_futures=True)
        self.drafting.write()

    async def _compile_on(self) -> None:
        while True:
            await self._changed.wait()
            self._changed.clear()
            try:
                await self._compile(self.number, self.text, self.wish)
            except Exception:  # noqa: BLE001 - a slip of ours must not end the writing: it is told, and the text goes on
                sys.excepthook(*sys.exc_info())
                self.tell({"is": "trouble"})
            if not self._changed.is_set():
                self._settled.set()

    async def _compile(self, number: int, text: str, wish: SheetWish) -> None:
        """The page first, for which one waits; the plans after it, and not where a newer text is there already."""
        answer = await self._in_thread(self.compiler.compile, text, wish)
        if answer.understood and wish == self.wish:
            self.wish = wish.of(answer.understood)
            if self.wish != wish:
                self.tell(self._wish_message())
        before = self.answer
        # A broken text has no page: the last good one stays, and is what the next is compared with.
        self.answer = answer if answer.live.page or before is None else before.beneath(answer)
        for message in answer.since(before, number):
            self.tell(message)
        if self._tabs:
            self.sheets.changed(answer, self.wish)
        if answer.live.page and not self._changed.is_set():
            drawn, before = await self._in_thread(self.compiler.drawn, answer, self.wish), self.drawn
            self.answer = self.drawn = drawn
            for message in drawn.drawn_since(before):
                self.tell(message)
            if drawn.elsewhere:
                self.tell(found_message(drawn, number))

    async def _in_thread[**P, T](self, work: Callable[P, T], *facts: P.args, **_none: P.kwargs) -> T:
        return await asyncio.get_running_loop().run_in_executor(self._thread, work, *facts)

    def _wish_message(self) -> Message:
        return {"is": "wish", **asdict(self.wish)}
