"""Which modules a command brings in: none that is slow to load and that the command does not need."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from workbench.command_line import GOOD, write

HEAVY = frozenset(
    "pint numpy scipy jinja2 markupsafe PIL resvg_py babel shapely highspy fontTools weasyprint ezdxf segno "
    "typer pydantic packingsolver svgelements nicegui dask distributed concurrent.futures.process "
    "multiprocessing asyncio".split()
)
FOLDING = frozenset({"shapely", "numpy"})
"""A piece that folds is parted into its panels by shapely, which brings numpy."""
PAGES = FOLDING | {"jinja2", "markupsafe", "PIL", "resvg_py", "babel", "fontTools", "asyncio"}
ALLOWED = {
    "check": FOLDING,
    "check --measures": FOLDING,
    "check flat": frozenset[str](),
    "check amounts": frozenset[str](),
    "convert": frozenset[str](),
    "new": frozenset[str](),
    # What is recovered or designed is checked as any recipe is, and folds; its drawings need no page.
    "recover": FOLDING | {"babel", "fontTools"},
    "design": FOLDING | {"babel", "fontTools"},
    # One recipe is built in this process; a page needs its templates, a fragment its pictures, paper the typesetter.
    "build": PAGES | {"weasyprint", "ezdxf"},
    "build pages": PAGES,
}
WORDS = {
    "check": ["check", "card"],
    "check flat": ["check", "flat"],
    "check amounts": ["check", "amounts"],
    "check --measures": ["check", "card", "--measures"],
    "convert": ["convert", "4 1/8 x 3 5/8 in", "3/4 | 3 1/2 | 3/4 in"],
    "new": ["new", "Tag", "--form", "tag", "--units", "inches", "--size", "2 x 4 in", "--card", "white card"],
    "recover": ["recover", "sample.txt"],
    "design": ["design", "3 treats of 1 1/8 x 3/4 x 1/2 in"],
    "build": ["build", "card", "--out", "out"],
    "build pages": ["build", "card", "--out", "out", "--only", "tutorial,fragment,sheet"],
}
LIST = """
import json, sys
from foldwright.cli import main
status = main(sys.argv[1:])
assert status == 0, status
print("\\n" + json.dumps(sorted(sys.modules)))
"""


def modules(words: list[str], cwd: Path) -> set[str]:
    """The modules loaded when the command is over."""
    done = subprocess.run([sys.executable, "-c", LIST, *words], cwd=cwd, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    return set(json.loads(done.stdout.splitlines()[-1]))


@pytest.mark.parametrize("command", WORDS)
def test_no_heavy_module_slips_in(tmp_path: Path, command: str) -> None:
    write(tmp_path, "card", GOOD)
    (tmp_path / "sample.txt").write_text("base across: 1 | 2 | 1 in\nbase down: 1 | 2 | 1 in\n", encoding="utf-8")
    write(tmp_path, "flat", GOOD.replace("fold: card", "fold: flat"))
    glue = "supplies:\n  wet glue: glue, use 5 cl, pack 4 fl oz\n"
    write(tmp_path, "amounts", GOOD.replace("fold: card", "fold: flat").replace("supplies:\n", glue))
    loaded = modules(WORDS[command], tmp_path)
    assert "foldwright.cli" in loaded
    assert HEAVY & loaded <= ALLOWED[command]


def test_check_brings_in_no_more_than_it_needs_of_others(tmp_path: Path) -> None:
    """The list of everything foreign that `check` loads. A new name here is a decision, not an accident."""
    write(tmp_path, "card", GOOD)
    foreign = {name.partition(".")[0] for name in modules(WORDS["check"], tmp_path)} - set(sys.stdlib_module_names)
    known = {
        "foldwright",
        "markdown_it",
        "mdurl",
        # The frozen values that pass between the rooms, and what their library brings along.
        "msgspec",
        "typing_extensions",
        # The facts are read by PyYAML.
        "yaml",
        # The piece of the recipe folds.
        *FOLDING,
        "cython_runtime",
    }
    assert {name for name in foreign if not name.startswith("_")} <= known
