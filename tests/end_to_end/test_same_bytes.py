"""The same recipe gives the same bytes: every output there is, made twice in surroundings that share nothing.

A usual run makes the papers in one system of units and the event of the smaller recipe; a long one makes all.
"""

from __future__ import annotations

import shutil
from pathlib import Path

from foldwright.outputs.table import OUTPUTS
from workbench.command_line import TOP, contents, foldwright
from workbench.long import LONG

UNITS = () if LONG else ("--units", "imperial")
EVENT = "birdhouse" if LONG else "twine-tag"
HERE = {"PYTHONHASHSEED": "1", "TZ": "Pacific/Kiritimati", "LC_ALL": "C", "LANG": "C"}
THERE = {"PYTHONHASHSEED": "4711", "TZ": "America/Anchorage", "LC_ALL": "tr_TR.UTF-8", "LANG": "tr_TR.UTF-8"}


def test_every_output_and_the_event_folder_are_the_same_wherever_they_are_made(tmp_path: Path) -> None:
    """Another hash seed, time zone and language, another folder, one process or two."""
    shutil.copytree(TOP / "recipes" / "birdhouse", tmp_path / "recipes" / "birdhouse")
    shutil.copytree(TOP / "recipes" / "twine-tag", tmp_path / "recipes" / "twine-tag")
    shutil.copy(TOP / "recipes" / "studio.yaml", tmp_path / "recipes")
    away = tmp_path / "deep" / "er"
    away.mkdir(parents=True)
    made = []
    for recipes, cwd, jobs, surroundings in (("recipes", tmp_path, "1", HERE), ("../../recipes", away, "2", THERE)):
        calls = (
            ("build", recipes, "--only", ",".join(OUTPUTS), "--out", "pages", "--jobs", jobs, *UNITS),
            ("kit", f"{recipes}/{EVENT}", "--for", "12", "--helpers", "2", "--begins", "14:00", "--out", "event"),
        )
        for words in calls:
            done = foldwright(*words, cwd=cwd, **surroundings)
            assert done.status == 0, done.out + done.err
        made.append({**contents(cwd / "pages"), **contents(cwd / "event")})
    assert [name for name in made[0] if made[1].get(name) != made[0][name]] == []
    assert made[0].keys() == made[1].keys()
    kinds = {Path(name).suffix for name in made[0]}
    assert kinds >= {".html", ".pdf", ".svg", ".dxf", ".fold", ".json", ".png", ".csv"}
