"""A desk as a person opens it: the real command in a process of its own, on a folder of its own. Not a test."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from playwright.sync_api import Browser, BrowserContext, Page

from workbench.command_line import HANG

SOON = HANG * 1000
"""Milliseconds for the browser to give up after; no verdict hangs on it."""
ROOT = hasattr(os, "getuid") and os.getuid() == 0
AS_ONE_WITHOUT_RIGHTS = ("setpriv", "--bounding-set=-dac_override", "--") if ROOT and shutil.which("setpriv") else ()
"""What starts a desk to which folders can say no: root may write everywhere, and has to give that up first."""


class OpenDesk:
    """A desk that is open. `address` has its key; `root` is where its pages are."""

    def __init__(self, folder: Path, process: subprocess.Popen[str], address: str) -> None:
        self.folder, self.process, self.address = folder, process, address
        self.root = address.partition("/?")[0]

    def kill(self) -> None:
        """End it as a power cut would."""
        self.process.send_signal(signal.SIGKILL)
        self.process.wait()

    def tab(self, context: BrowserContext, path: str = "/") -> Page:
        """A page of the desk, let in by the key, in a tab where there is nothing yet: a new one takes a browser longer
        than most pages."""
        page = next((one for one in context.pages if one.url == "about:blank"), None) or context.new_page()
        # It changes the key for a cookie, and shows nothing.
        context.request.get(self.address, max_redirects=0)
        page.goto(self.root + path)
        return page

    def writing(self, context: BrowserContext, slug: str) -> Page:
        """A tab in which a recipe is written, once its text and its tutorial are there, even if a narrow screen shows
        only one of them."""
        page = self.tab(context, f"/recipe/{slug}")
        page.locator(".cm-line").first.wait_for()
        page.frame_locator("#tutorial").locator("h1").first.wait_for(state="attached")
        return page


@contextmanager
def desk(folder: Path, *words: str, within: tuple[str, ...] = ()) -> Iterator[OpenDesk]:
    """Open a desk on a folder; it is closed, as with Ctrl and C, at the end. `within` is a command that starts it."""
    command = [*within, sys.executable, "-m", "foldwright", "desk", str(folder), "--quiet", *words]
    environment = {**os.environ, "PYTHONUNBUFFERED": "1"}
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=environment) as process:
        assert process.stdout is not None
        address = next((word for line in process.stdout for word in line.split() if word.startswith("http")), "")
        assert address, "the desk did not open"
        try:
            yield OpenDesk(folder, process, address)
        finally:
            if process.poll() is None:
                process.send_signal(signal.SIGINT)
            process.stdout.read()
            process.wait()


@contextmanager
def browsing(chromium: Browser, **how: object) -> Iterator[BrowserContext]:
    """Tabs of one person, with nothing remembered from others."""
    context = chromium.new_context(viewport={"width": 1400, "height": 900}, **how)  # type: ignore[arg-type]
    try:
        yield context
    finally:
        context.close()
