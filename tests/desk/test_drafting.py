"""What is typed while the disk is busy with an older text."""

from __future__ import annotations

import asyncio
import itertools
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from threading import Thread

import pytest

from desk.on_disk import NEW, made, opened, text_in
from foldwright.desk.keeping.on_disk import Choice, Opened, Outside, RecipeOnDisk, Settled
from foldwright.desk.writing.drafting import Drafting
from foldwright.finding import Wrong
from foldwright.outputs.texts import DRAFT, RECIPE

LATER = NEW + "One word more.\n"


class Busy(RecipeOnDisk):
    """A disk during whose work something else comes."""

    meanwhile: Callable[[], None] = staticmethod(lambda: None)

    def save_draft(self, text: str) -> Wrong | None:
        self.meanwhile()
        return super().save_draft(text)

    def keep(self, text: str) -> Outside | Wrong | None:
        self.meanwhile()
        return super().keep(text)

    def settle(self, outside: Outside, choice: Choice, mine: str) -> Settled | Outside | Wrong:
        self.meanwhile()
        return super().settle(outside, choice, mine)


@pytest.fixture
def busy(tmp_path: Path) -> Busy:
    return Busy(made(tmp_path / "box"), tmp_path)


def drafting_on(busy: Busy) -> Drafting:
    answer = busy.open()
    assert isinstance(answer, Opened)
    drafting = Drafting(busy, answer)
    drafting.typed(NEW)
    return drafting


def test_keys_that_come_while_a_text_is_kept_are_not_taken_for_kept(busy: Busy) -> None:
    drafting = drafting_on(busy)
    busy.meanwhile = lambda: drafting.typed(LATER)
    state = drafting.keep()
    assert (state["kept"], state["written"]) == (False, False)
    assert text_in(busy.folder) == NEW
    drafting.write()
    assert drafting.state()["written"]
    assert opened(busy.folder)[1] == Opened(LATER, NEW, drafted=True)


def test_who_was_greeted_is_not_told_the_same_again(busy: Busy, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("foldwright.desk.writing.drafting._LOOK", 0)
    answer = busy.open()
    assert isinstance(answer, Opened)
    told: list[object] = []

    async def looked_at_often() -> None:
        often, looks, look = asyncio.Event(), itertools.count(1), busy.look
        loop = asyncio.get_running_loop()

        def looking(text: str) -> Outside | None:
            if next(looks) == 5:
                loop.call_soon_threadsafe(often.set)
            return look(text)

        monkeypatch.setattr(busy, "look", looking)
        keeping = asyncio.create_task(Drafting(busy, answer).keep_on(told.append))
        await often.wait()
        keeping.cancel()

    # In a thread: a browser of other tests has a loop in this one.
    with ThreadPoolExecutor(1) as threads:
        threads.submit(lambda: asyncio.run(looked_at_often())).result()
    assert told == []


def test_keys_that_come_while_mine_is_chosen_stay(busy: Busy) -> None:
    drafting = drafting_on(busy)
    (busy.folder / RECIPE).write_text("theirs", encoding="utf-8")
    assert drafting.keep()["outside"]
    busy.meanwhile = lambda: drafting.typed(LATER)
    assert drafting.choose(Choice.MINE) is None
    assert text_in(busy.folder) == NEW
    drafting.write()
    assert opened(busy.folder)[1] == Opened(LATER, NEW, drafted=True)


def test_a_draft_begun_before_a_text_is_kept_does_not_come_after_it(busy: Busy) -> None:
    drafting = drafting_on(busy)
    keeping = Thread(target=drafting.keep)

    def keep_meanwhile() -> None:
        busy.meanwhile = lambda: None
        drafting.typed(LATER)
        keeping.start()
        # Long enough for it to be over, were it let in.
        keeping.join(0.5)

    busy.meanwhile = keep_meanwhile
    drafting.write()
    keeping.join()
    assert text_in(busy.folder) == LATER
    assert not (busy.folder / DRAFT).exists()
