"""One desk and one window of a browser for all tests that end neither: to start a desk, what sets papers beside it and
a window takes longer than most of what is done with them. What a test lays down or begins is put away behind it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, WebError, expect

from foldwright.outputs.sources import slug_of
from workbench.command_line import write
from workbench.desk import AS_ONE_WITHOUT_RIGHTS, SOON, OpenDesk, browsing, desk


@pytest.fixture(scope="session")
def one_desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[OpenDesk]:
    with desk(tmp_path_factory.mktemp("desk") / "recipes", "--share", within=AS_ONE_WITHOUT_RIGHTS) as one:
        yield one


@pytest.fixture
def opened(one_desk: OpenDesk) -> Iterator[OpenDesk]:
    """The desk, with the folder as it was before."""
    before = set(one_desk.folder.iterdir())
    yield one_desk
    away = one_desk.folder.parent / "away"
    away.mkdir(exist_ok=True)
    for number, left in enumerate(set(one_desk.folder.iterdir()) - before, len(list(away.iterdir()))):
        # Moved at once: a draft that is still on its way finds no folder half gone.
        left.rename(away / str(number))


@pytest.fixture
def slug(opened: OpenDesk, request: pytest.FixtureRequest) -> str:
    """A recipe of the test's own on it; the desk remembers what it has opened by its name."""
    name = slug_of(request.node.name)
    write(opened.folder, name)
    return name


@pytest.fixture
def card(opened: OpenDesk, slug: str) -> Path:
    """The folder of that recipe."""
    return opened.folder / slug


@pytest.fixture(scope="session")
def one_window(chromium: Browser) -> Iterator[BrowserContext]:
    expect.set_options(timeout=SOON)
    with browsing(chromium) as context:
        yield context


@pytest.fixture
def tabs(one_window: BrowserContext) -> Iterator[BrowserContext]:
    """The window with an empty tab at the most."""
    size = {"width": 1400, "height": 900}
    yield one_window
    for page in one_window.pages[1:]:
        page.close()
    for page in one_window.pages:
        page.unroute_all()
        page.emulate_media(media="null", color_scheme="light", reduced_motion="null", forced_colors="null")
        page.set_viewport_size(size)  # type: ignore[arg-type]
        page.goto("about:blank")


@pytest.fixture
def page(opened: OpenDesk, tabs: BrowserContext) -> Iterator[Page]:
    """A tab with the first page; what its scripts complain of fails the test."""
    complaints: list[str] = []

    def complain(trouble: WebError) -> None:
        complaints.append(str(trouble.error))

    tabs.on("weberror", complain)
    yield opened.tab(tabs)
    tabs.remove_listener("weberror", complain)
    assert complaints == []
