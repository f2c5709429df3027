"""Each recipe of DEVELOPERS.md's *How to*, done on a copy of the project: it touches the files it names, and works.

What the recipe brings is then looked for by the program itself, started from the copy.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import NamedTuple

import pytest

from workbench.command_line import TOP

GUIDE = (TOP / "DEVELOPERS.md").read_text(encoding="utf-8").partition("\n## How to\n")[2].partition("\n## ")[0]
NAMED = {
    title: set(re.findall(r"`([^`]+)`", files))
    for title, files in re.findall(r"^\*\*add an? ([^*]+)\*\*.*?^Files: (.*?)\.$", GUIDE, re.MULTILINE | re.DOTALL)
}
RECIPE = """---
title: Blue tag
measured in: mm
supplies:
  card: cardstock, weight 220 g/m2, sheet A4
  varnish: varnish, use 1 l, {fact}
tools:
  - paper trimmer
  - {tool}
pieces:
  tag:
    from: card
    size: 60 x 90 mm{fold}
---

## Make it

do: cut tag, {act} tag
time: 2 min

Do it well.
"""
TENT = '''"""The tent card."""

from __future__ import annotations

from fractions import Fraction

from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.flat.forms.making import Asked, blank_of, fold


def tent(asked: Asked) -> Blank:
    """Two leaves as high as asked; each leans by thirty degrees."""
    wide, high = asked.sizes
    zero, whole = Fraction(0), 2 * high
    ridge = fold((zero, high), (wide, high), Fraction(-120))
    return blank_of(asked, (wide, whole), ((zero, zero), (wide, zero), (wide, whole), (zero, whole)), (ridge,))
'''
PROBE = """
from foldwright.pipeline import check_recipe, compose_document
from foldwright.document.words import plain
from foldwright.measure.length import System
text = open("tag/recipe.md", encoding="utf-8").read()
checked = check_recipe(text, "recipe.md", "tag")
codes = [finding.code for finding in checked.findings]
document = compose_document(checked.understood, (), {})
"""
type Edits = Mapping[str, tuple[tuple[str, str], ...]]
"""By file below the package (but themes): what is put in the place of what; a new file is put in the place of ""."""


class Task(NamedTuple):
    """What is edited; what the program, asked in Python or by a command, then has to show; the recipe it is shown."""

    edits: Edits
    sees: str = ""
    commands: tuple[str, ...] = ()
    makes: str = ""
    fact: str = "note matt"
    tool: str = "pencil"
    fold: str = ""
    act: str = "stamp"


def before(line: str, new: str) -> tuple[str, str]:
    return line, new + line


EVENT_PAPER = '''"""A word of thanks to the helpers."""

from __future__ import annotations

from foldwright.event.document.model import PaperText, PaperWords
from foldwright.event.document.writing import EventSource


def thanks_paper(source: EventSource) -> PaperText:
    """Thanks, by number."""
    words = source.words
    return PaperText("", (PaperWords("", (words.say("event.thanks.words", helpers=source.event.wishes.helpers),)),))
'''
OUTLINE = '''"""The headings of the steps, a line each."""

from __future__ import annotations

from foldwright.document.model import Document
from foldwright.document.words import plain


def outline(document: Document) -> str:
    """Numbers and headings, in the system the recipe was written in."""
    return "".join(f"{step.number}. {plain(step.heading, document.system)}\\n" for step in document.steps)
'''
TASKS = {
    "word to the vocabulary": Task(
        {"vocabulary/acts.py": (before("stamp | decorate |", "crimp | decorate | 40 | crimps, crimping, crimped\n"),)},
        "assert not [code for code in codes if 'act' in code], codes\n"
        "from foldwright.vocabulary import act_of\nassert act_of('crimping').seconds == 40",
        act="crimp",
    ),
    "hazard": Task(
        {
            "vocabulary/hazards.py": (
                before('        Hazard("heat", Signal', '        Hazard("steam", Signal.CAUTION),\n'),
            ),
            "document/catalogue/en/hazards.toml": (
                before(
                    "[hazard.hot-glue]",
                    '[hazard.steam]\nhazard = "Steam is hot."\nconsequence = "It burns."\navoid = "Stand back."\n'
                    'reminder = "Keep out of the steam."\n\n',
                ),
            ),
            "vocabulary/tools.py": (before("hot glue gun |", "steamer | garment steamer | steam\n"),),
        },
        "said = {one.code: one.hazard for one in document.cautions}\nassert said['steam'] == 'Steam is hot.', said",
        tool="steamer",
    ),
    "fact of a supply": Task(
        {
            "recipe/model.py": (
                before("    packs: tuple[Said[Pack], ...] = ()", "    finish: Said[str] | None = None\n"),
            ),
            "recipe/facts/supplies.py": (
                ("colors; contains;", "colors; finish; contains;"),
                before("        contains=said_row", '        finish=text_of(facts.get("finish"), complaints),\n'),
            ),
            "document/supplies.py": (
                before(
                    "    if supply.thickness:",
                    "    if supply.finish:\n"
                    '        yield (Text(words.say("page.supply.finish", finish=supply.finish.value)),)\n',
                ),
            ),
            "document/catalogue/en/page.toml": (before("little = ", 'finish = "{finish} finish"\n'),),
            "guide/writing.md": (before("| `optional` | alone", "| `finish` | `glossy` |\n"),),
        },
        "assert 'glossy finish' in plain(document.supplies[1].details, System.METRIC)",
        fact="finish glossy",
    ),
    "unit": Task(
        {
            "measure/units.txt": (before("    tablespoon = ", "    gill = cup / 2 = gills\n"),),
            "measure/unit_table.py": (),
            "document/catalogue/en/page.toml": (
                before(
                    "ml = { one",
                    'gill = { one = "{number} gill", many = "{number} gills", part = "{number} of a gill" }\n',
                ),
            ),
        },
        "from foldwright.recipe.facts.amounts import read_amount\n"
        "assert read_amount('3 gills').quantity == read_amount('1 1/2 cups').quantity",
    ),
    "finding": Task(
        {
            "recipe/coherence.py": (
                before("        *_broken_names(recipe),\n", "        *_shouted(recipe),\n"),
                before(
                    "def _broken_names",
                    "def _shouted(recipe: Recipe) -> Iterator[Finding]:\n    if recipe.title.value.isupper():\n"
                    '        yield Finding.of("title-shouts", Strength.THOUGHT, recipe.title.place)\n\n\n',
                ),
            ),
            "document/catalogue/en/findings-words.toml": (
                before("[no-time]", '[title-shouts]\nsays = "It is all capitals."\nremedy = "Write it small."\n\n'),
            ),
        },
        "from foldwright.document.catalogue import catalogue\n"
        "checked = check_recipe(text.replace('Blue tag', 'BLUE TAG'), 'recipe.md', 'tag')\n"
        "assert 'title-shouts' in [one.code for one in checked.findings]\n"
        "assert catalogue().say('title-shouts.says') == 'It is all capitals.'",
    ),
    "form of rows": Task(
        {
            "recipe/pieces/piece.py": (("card: half fold;", "card: half fold; ridge;"),),
            "geometry/folding/forms.py": (
                before(
                    "    if fold.form in _FLAT_ON_ITSELF:",
                    '    if fold.form == "ridge":\n        return dict.fromkeys(scores, 60.0)\n',
                ),
            ),
            "geometry/flat/panels.py": (('    "card": (2, 2),\n', '    "card": (2, 2),\n    "ridge": (2, 2),\n'),),
            "guide/writing.md": (before("| `gate` | two folds", "| `ridge` | two leaves that stand | two panels |\n"),),
        },
        "assert not [code for code in codes if 'form' in code], codes\n"
        "(crease,) = checked.understood.folding.nets['tag'].creases\nassert abs(crease.angle) == 60",
        fold="\n    down: 45 | 45\n    fold: ridge",
    ),
    "form that is worked out": Task(
        {
            "geometry/flat/forms/tent.py": (("", TENT),),
            "geometry/flat/forms/table.py": (
                before(
                    "from foldwright.geometry.flat.forms.tuck", "from foldwright.geometry.flat.forms.tent import tent\n"
                ),
                before('    "pillow box": Form(', '    "tent": Form(tent, ("across", "high")),\n'),
            ),
            "recipe/pieces/piece.py": (("letter fold; accordion:", "letter fold; tent; accordion:"),),
            "guide/writing.md": (
                before("| `pillow box` |", "| `tent` | two leaves that lean on each other | two panels |\n"),
            ),
        },
        "blank = checked.understood.flat.blank('tag')\nassert (blank.width, blank.height) == (60, 90)\n"
        "(crease,) = checked.understood.folding.nets['tag'].creases\nassert abs(crease.angle) == 120\n"
        "assert '45 mm' in ' '.join(plain(line, System.METRIC) for line in document.pieces[0].work)",
        fold="\n    fold: tent\n    finished: 60 x 45 mm",
    ),
    "output": Task(
        {
            "render/web/outline.py": (("", OUTLINE),),
            "outputs/pages.py": (
                before(
                    "def document_data(",
                    'def outline_text(source: OutputSource) -> MadeFiles:\n    """The headings of the steps."""\n'
                    "    from foldwright.render.web.outline import outline\n\n"
                    '    return MadeFiles({"outline.txt": outline(source.document).encode("utf-8")})\n\n\n',
                ),
            ),
            "outputs/table.py": (
                before(
                    "_ROWS = (",
                    "def _outline(source: OutputSource) -> MadeFiles:\n"
                    "    from foldwright.outputs.pages import outline_text\n\n    return outline_text(source)\n\n\n",
                ),
                before('    Output("sheet", _sheet', '    Output("outline", _outline, draft=True),\n'),
            ),
        },
        commands=("build", "tag", "--out", "out", "--only", "outline"),
        makes="out/tag/outline.txt",
    ),
    "paper of an event": Task(
        {
            "event/document/thanks.py": (("", EVENT_PAPER),),
            "event/document/papers.py": (
                before(
                    "from foldwright.event.document.writing",
                    "from foldwright.event.document.thanks import thanks_paper\n",
                ),
                before('    PaperRow("costs", ', '    PaperRow("thanks", "thanks", thanks_paper),\n'),
            ),
            "document/catalogue/en/event.toml": (
                before(
                    "[event.seating]",
                    '[event.thanks]\ntitle = "Thank you"\nwhom = "every helper"\nwords = "To all {helpers}."\n\n',
                ),
            ),
        },
        commands=("kit", "tag", "--for", "2", "--out", "out", "--paper", "A4"),
        makes="out/event-tag/thanks-a4.pdf",
    ),
    "paper size": Task(
        {
            "render/paper/papers.py": (
                before("PAPERS = (LETTER,", 'SEVEN_BY_FIVE = _paper("5 x 7 in", "5x7", _SMALL)\n'),
                ("PAPERS = (LETTER,", "PAPERS = (SEVEN_BY_FIVE, LETTER,"),
            )
        },
        commands=("build", "tag", "--out", "out", "--only", "card", "--paper", "5 x 7 in", "--units", "metric"),
        makes="out/tag/card-metric-5x7.pdf",
    ),
    "entry to the insert list": Task(
        {
            "authoring/inserting.py": (before('            "tip",', '            "measured",\n'),),
            "document/catalogue/en/authoring.toml": (
                before('step-tip = "Tip"', 'step-measured = "Times you measured"\n'),
                before('step-tip = "tip:', 'step-measured = "measured: ‹4 min›"\n'),
            ),
        },
        "from foldwright.authoring.inserting import insert\nfrom foldwright.finding.changes import changed\n"
        "assert 'measured: 4 min' in changed(text, insert('step-measured', text, len(text)).changes)",
    ),
    "theme": Task(
        {
            "themes/plum/theme.toml": (("", 'fonts = ["serif", "serif-semibold"]\n'),),
            "themes/plum/page.css": (("", ":root { --ink: #3b1f3a; }\n"),),
        },
        commands=("build", "tag", "--out", "out", "--only", "tutorial", "--theme", "plum"),
        makes="out/tag/tutorial.html",
    ),
    "language": Task(
        {"document/catalogue/eo/*.toml": ()},
        "from foldwright.document.catalogue import catalogue\n"
        "assert catalogue('eo').say('page.supply.little') == catalogue().say('page.supply.little')",
    ),
}


def test_the_guide_has_these_recipes_and_names_their_files() -> None:
    assert {title: set(task.edits) for title, task in TASKS.items()} == NAMED


def test_a_fact_and_a_paper_touch_few_files() -> None:
    """With its test: six for a fact of a supply, four for a paper of an event."""
    assert len(NAMED["fact of a supply"]) + 1 <= 6
    assert len(NAMED["paper of an event"]) + 1 <= 4


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The project with all of them done."""
    project = tmp_path_factory.mktemp("copy")
    # With what Python has compiled: it sees by their times which files are changed below.
    shutil.copytree(TOP / "compiler", project / "compiler")
    shutil.copytree(TOP / "themes", project / "themes")
    for task in TASKS.values():
        for name, changes in task.edits.items():
            edit(project, name, changes)
    return project


@pytest.mark.parametrize("title", TASKS)
def test_a_recipe_does_what_it_says(title: str, copy: Path, tmp_path: Path) -> None:
    task = TASKS[title]
    (tmp_path / "tag").mkdir()
    text = RECIPE.format(fact=task.fact, tool=task.tool, fold=task.fold, act=task.act)
    (tmp_path / "tag" / "recipe.md").write_text(text, encoding="utf-8")
    if task.sees:
        run(copy, tmp_path, "-c", PROBE + task.sees)
    if task.commands:
        run(copy, tmp_path, "-m", "foldwright", *task.commands)
        assert (tmp_path / task.makes).stat().st_size > 0


def edit(project: Path, name: str, changes: tuple[tuple[str, str], ...]) -> None:
    """One file of a recipe; what is generated is generated, and a language begins as a copy of English."""
    path = project / name if name.startswith("themes/") else project / "compiler" / "foldwright" / name
    if name == "measure/unit_table.py":
        run(project, project, "-c", "from foldwright.measure.tabling import write; write()")
    elif name.endswith("/*.toml"):
        shutil.copytree(path.parents[1] / "en", path.parent)
    for old, new in changes:
        text = path.read_text(encoding="utf-8") if old else ""
        assert not old or text.count(old) == 1, f"{name} has {text.count(old)} of {old!r}"
        path.parent.mkdir(exist_ok=True)
        path.write_text(text.replace(old, new) if old else new, encoding="utf-8")


def run(project: Path, folder: Path, *words: str) -> None:
    environment = {**os.environ, "PYTHONPATH": str(project / "compiler")}
    done = subprocess.run(
        [sys.executable, *words], cwd=folder, env=environment, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr
