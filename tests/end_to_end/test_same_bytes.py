"""Every output there is and an event, made twice in surroundings that share nothing: the same recipe gives the same
bytes. The first time no network is there, and every file that is opened is noted.

A usual run makes the papers in one system of units and the event of the smaller recipe; a long one makes all.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

from msgspec import Struct

from foldwright.outputs.table import OUTPUTS
from workbench.command_line import TOP, contents, foldwright
from workbench.long import LONG

RECIPES = ("birdhouse", "twine-tag")
UNITS = () if LONG else ("--units", "imperial")
EVENT = "birdhouse" if LONG else "twine-tag"
HERE = {"PYTHONHASHSEED": "1", "TZ": "Pacific/Kiritimati", "LC_ALL": "C", "LANG": "C"}
THERE = {"PYTHONHASHSEED": "4711", "TZ": "America/Anchorage", "LC_ALL": "tr_TR.UTF-8", "LANG": "tr_TR.UTF-8"}
WATCH = """\
import os, sys
log = os.open({log!r}, os.O_WRONLY | os.O_CREAT | os.O_APPEND)
def watch(event, arguments):
    if event.startswith('socket.') and event != 'socket.__new__' or event == 'urllib.Request':
        raise PermissionError(event)
    if event == 'open' and isinstance(arguments[0], str) and 'r' in (arguments[1] or ''):
        os.write(log, (os.path.abspath(arguments[0]) + '\\n').encode())
sys.addaudithook(watch)
"""


class Made(Struct, frozen=True):
    """What was made here and there, and the folder of it all."""

    home: Path
    here: dict[str, bytes]
    there: dict[str, bytes]


def make_twice(home: Path) -> Made:
    """Another hash seed, time zone and language, another folder, one process or two; the first of them watched."""
    for name in RECIPES:
        shutil.copytree(TOP / "recipes" / name, home / "recipes" / name)
    shutil.copy(TOP / "recipes" / "studio.yaml", home / "recipes")
    (home / "watch").mkdir()
    (home / "watch" / "sitecustomize.py").write_text(WATCH.format(log=str(home / "log")), encoding="utf-8")
    away = home / "deep" / "er"
    away.mkdir(parents=True)
    return Made(
        home,
        here=everything(home, "recipes", "1", {**HERE, "PYTHONPATH": str(home / "watch")}),
        there=everything(away, "../../recipes", "2", THERE),
    )


def everything(cwd: Path, recipes: str, jobs: str, surroundings: dict[str, str]) -> dict[str, bytes]:
    calls = (
        ("build", recipes, "--only", ",".join(OUTPUTS), "--out", "pages", "--jobs", jobs, *UNITS),
        ("kit", f"{recipes}/{EVENT}", "--for", "12", "--helpers", "2", "--begins", "14:00", "--out", "event"),
    )
    for words in calls:
        done = foldwright(*words, cwd=cwd, **surroundings)
        assert done.status == 0, done.out + done.err
    return {**contents(cwd / "pages"), **contents(cwd / "event")}


def test_wherever_it_is_made_it_is_the_same_and_of_nothing_else(tmp_path: Path) -> None:
    """One test, so that all is made twice and not four times where tests are dealt out to several processes."""
    made = make_twice(tmp_path)
    every_output_and_the_event_folder_are_the_same(made)
    nothing_was_asked_of_any_network(made)
    nothing_outside_the_recipes_the_studio_and_the_themes_was_read(made)


def every_output_and_the_event_folder_are_the_same(made: Made) -> None:
    assert [name for name in made.here if made.there.get(name) != made.here[name]] == []
    assert made.here.keys() == made.there.keys()
    kinds = {Path(name).suffix for name in made.here}
    assert kinds >= {".html", ".pdf", ".svg", ".dxf", ".fold", ".json", ".png", ".csv"}


def nothing_was_asked_of_any_network(made: Made) -> None:
    """Every socket is refused inside the process; neither the build nor the event noticed."""
    refused = subprocess.run(
        [sys.executable, "-c", "import socket; socket.create_connection(('localhost', 9))"],
        env={**os.environ, "PYTHONPATH": str(made.home / "watch")},
        capture_output=True,
        text=True,
        check=False,
    )
    assert "PermissionError: socket." in refused.stderr
    assert [name for name in made.here if name.startswith("birdhouse/") and name.endswith(".pdf")]


def nothing_outside_the_recipes_the_studio_and_the_themes_was_read(made: Made) -> None:
    """Every file that is opened below this folder is one of the recipes' own or the studio's."""
    opened = {Path(line) for line in (made.home / "log").read_text().splitlines()}
    below = {path.relative_to(made.home).as_posix() for path in opened if path.is_relative_to(made.home)}
    own = {f"recipes/{name}/{path.name}" for name in RECIPES for path in (TOP / "recipes" / name).iterdir()}
    assert {f"recipes/{name}/recipe.md" for name in RECIPES} <= below
    read = {name for name in below if not name.startswith(("watch/", "pages/", "event/"))}
    assert read <= own | {"recipes/studio.yaml"}
