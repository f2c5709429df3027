"""Sheets on paper, told to whoever looks: what is there, and what is to come. The worker sets what it is let set."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Coroutine
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any, cast

import pytest

from foldwright.desk.desk import Desk
from foldwright.desk.writing.compiling import Compiler, Message, SheetWish
from foldwright.desk.writing.manuscript import Manuscript
from foldwright.desk.writing.manuscripts import Manuscripts
from foldwright.desk.writing.sheets import PAPER_SHEETS, SetSheet, Sheets
from foldwright.outputs.sources import find_sources
from workbench.command_line import write
from workbench.demo_pages import TOP

RECIPE = TOP / "recipes" / "twine-tag"


class Slow:
    """A worker that sets nothing before it is let."""

    def __init__(self) -> None:
        self.begun = asyncio.Event()
        self.let = asyncio.Event()
        self.given_up = 0

    async def ask(self, _key: str, _work: object, *facts: object) -> SetSheet:
        self.begun.set()
        try:
            await self.let.wait()
        except asyncio.CancelledError:
            self.given_up += 1
            raise
        return SetSheet({f"{facts[3]}.pdf": b"%PDF-"}, ((800, 1100, b""),), ())


async def told_to_two_tabs() -> tuple[list[Message], list[Message], list[Message]]:
    """What a tab is told from the first, what one hears that is opened while sheets are set, and one afterwards."""
    (source,) = find_sources([RECIPE])[0]
    first: list[Message] = []
    worker = Slow()
    sheets = Sheets(source, cast(Any, (worker, worker)), first.append)
    text = (RECIPE / "recipe.md").read_text(encoding="utf-8")
    sheets.changed(Compiler(source).compile(text, SheetWish()), SheetWish())
    await worker.begun.wait()
    second: list[Message] = []
    sheets.greet(second.append)
    worker.let.set()
    while sum(one["is"] == "sheet" for one in first) < len(PAPER_SHEETS):
        await asyncio.sleep(0)
    third: list[Message] = []
    sheets.greet(third.append)
    return first, second, third


def run[T](work: Callable[[], Coroutine[Any, Any, T]]) -> T:
    """In a thread of its own: where a browser is open, this one has a loop already."""
    with ThreadPoolExecutor(1) as threads:
        return threads.submit(lambda: asyncio.run(work())).result()


@pytest.fixture(scope="module")
def told() -> tuple[list[Message], list[Message], list[Message]]:
    return run(told_to_two_tabs)


def test_every_sheet_that_is_to_come_says_so_before_any_is_there(told: tuple[list[Message], ...]) -> None:
    first, second, _ = told
    coming = [{"is": "setting", "sheet": kind} for kind in PAPER_SHEETS]
    assert first[: len(coming)] == coming
    assert second == coming


def test_who_comes_later_gets_what_is_there(told: tuple[list[Message], ...]) -> None:
    *_, third = told
    assert [(one["is"], one["sheet"], one["stale"]) for one in third] == [
        ("sheet", kind, False) for kind in PAPER_SHEETS
    ]


def test_sheets_of_what_nobody_looks_at_are_given_up_and_set_when_somebody_comes_back(tmp_path: Path) -> None:
    write(tmp_path, "card")

    async def leave_and_come_back() -> None:
        worker = Slow()
        manuscripts = Manuscripts(Desk(tmp_path), cast(Any, (worker, worker)))
        recipe = manuscripts.of("card")
        assert isinstance(recipe, Manuscript)
        first: list[Message] = []
        second: list[Message] = []
        recipe.greet(first.append)
        await worker.begun.wait()
        recipe.greet(second.append)
        recipe.leave(first.append)
        await asyncio.sleep(0)
        assert worker.given_up == 0, "somebody still looks"
        recipe.leave(second.append)
        await asyncio.sleep(0)
        assert worker.given_up == 2, "both workers were at it"
        worker.let.set()
        again: list[Message] = []
        recipe.greet(again.append)
        while sum(one["is"] == "sheet" for one in again) < len(PAPER_SHEETS):
            await asyncio.sleep(0)
        assert not any(one["is"] == "sheet" for one in first + second)
        await manuscripts.close()

    run(leave_and_come_back)
