"""`foldwright build --watch` as a person uses it: what is saved is built, nothing else is, and Ctrl-C ends it well."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from workbench.command_line import GOOD, HANG, write

FAULT = GOOD.replace("size: 8 x 5 in", "size: very large")


def save(folder: Path, slug: str, text: str = GOOD) -> None:
    """Save a recipe as editors do: the whole of it is laid beside, and put in its place."""
    home = folder / slug
    home.mkdir(exist_ok=True)
    (home / ".recipe.md.new").write_text(text, encoding="utf-8")
    (home / ".recipe.md.new").replace(home / "recipe.md")


class Watch:
    """A watch that runs in a folder; what it says is in a file."""

    def __init__(self, home: Path, *words: str) -> None:
        self.said = home / "said"
        with self.said.open("wb") as said:
            self.process = subprocess.Popen(
                [sys.executable, "-m", "foldwright", "build", *words, "--watch", "--only", "tutorial"],
                cwd=home,
                stdout=said,
                stderr=subprocess.STDOUT,
                # A suite started in the background of a shell would hand on that interrupts are ignored.
                preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),
            )

    def text(self) -> str:
        return self.said.read_text(encoding="utf-8")

    def rounds(self) -> list[str]:
        """The lines that end a round."""
        return [line for line in self.text().splitlines() if "  Recipes: " in line]

    def until(self, holds: Callable[[], object], what: str) -> None:
        end = time.monotonic() + HANG
        while not holds():
            assert self.process.poll() is None, self.text()
            assert time.monotonic() < end, f"hung waiting until {what}: {self.text()}"
            time.sleep(0.02)


@pytest.fixture
def watch(tmp_path: Path) -> Iterator[Watch]:
    """Two recipes watched in their folder, which also holds the output."""
    for slug in ("card", "other"):
        write(tmp_path, slug)
    (tmp_path / "studio.yaml").write_text("studio: Harbour Street Paper Studio\n", encoding="utf-8")
    running = Watch(tmp_path, ".", "--out", "out")
    try:
        running.until(lambda: "Watching" in running.text(), "it watches")
        # It listens once it has looked again; a change is repeated until then.
        yield running
    finally:
        running.process.kill()
        running.process.wait(HANG)


def test_what_is_saved_is_built_and_nothing_else(tmp_path: Path, watch: Watch) -> None:
    page = tmp_path / "out/card/tutorial.html"
    save(tmp_path, "card", GOOD.replace("A plain card.", "A card for the fair."))
    watch.until(lambda: b"A card for the fair." in page.read_bytes(), "the page follows")
    watch.until(lambda: len(watch.rounds()) == 1, "the round is told")
    assert "1 made, 1 unchanged" in watch.rounds()[0]

    save(tmp_path, "card", FAULT)
    watch.until(lambda: (tmp_path / "out/card/draft.html").exists(), "a draft lies beside")
    watch.until(lambda: len(watch.rounds()) == 2, "the round is told")
    assert "very large" in watch.text() and "1 kept" in watch.rounds()[1]
    save(tmp_path, "card")
    watch.until(lambda: not (tmp_path / "out/card/draft.html").exists(), "the draft is gone")

    (tmp_path / "studio.yaml").write_text("studio: The Other Studio\n", encoding="utf-8")
    for slug in ("card", "other"):
        watch.until(
            lambda slug=slug: b"The Other Studio" in (tmp_path / f"out/{slug}/tutorial.html").read_bytes(), slug
        )
    save(tmp_path, "third")
    watch.until(lambda: (tmp_path / "out/third/tutorial.html").exists(), "a new recipe is built")
    shutil.rmtree(tmp_path / "third")
    watch.until(lambda: not (tmp_path / "out/third").exists(), "a removed one goes")
    watch.until(lambda: "1 removed" in watch.rounds()[-1], "the round is told")
    told = len(watch.rounds())
    # Its own output lies in the watched folder. What it wrote must not wake it: nothing more is told.
    (tmp_path / "out/note.txt").write_text("mine")
    (tmp_path / "card/notes.txt").write_text("read by nobody")
    save(tmp_path, "card", GOOD.replace("A plain card.", "The last word."))
    watch.until(lambda: b"The last word." in page.read_bytes(), "the page follows")
    watch.until(lambda: len(watch.rounds()) > told, "the round is told")
    assert len(watch.rounds()) == told + 1
    os.kill(watch.process.pid, signal.SIGINT)
    assert watch.process.wait(HANG) == 0
    assert "Traceback" not in watch.text()


def test_a_wrong_call_does_not_stay(tmp_path: Path) -> None:
    running = Watch(tmp_path, "nothing-there", "--out", "out")
    assert running.process.wait(HANG) == 2
    assert "nothing-there" in running.text()
