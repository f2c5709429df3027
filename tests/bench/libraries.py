"""Whole libraries: full builds beside bare layouts, pages beside MkDocs, two processes beside one, and how it grows.

Recipes are those of `made_up_library`, without photographs. Pages without pictures of steps are made by the same
command with the drawing of steps left out (`python -m bench.libraries build ...`): no option of the program does that,
since nobody who publishes wants it. MkDocs makes as many pages of the same words.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Sequence
from functools import cache
from math import log
from pathlib import Path
from statistics import median
from unittest import mock

from bench import made_up_library
from bench.measured_run import Taken, taken_by
from bench.told import TOP, Effort, told

FULL_BUILD_AT_MOST = 3.6
"""Six tenths of the 6.0 that it was before what is common to papers was first looked for."""
BARE_PAGES_AT_LEAST, DRAWN_PAGES_AT_LEAST = 1.0, 0.5
TWO_AT_LEAST = 1.7
EXPONENT_AT_MOST = 1.05
MEMORY_AT_MOST = 1.25
"""Times the memory for fewer recipes: by then all that is remembered of recipes before is as much as it will
be."""
UNCHANGED_S_AT_MOST, CHANGED_S_AT_MOST = 0.5, 0.3
_FOLDWRIGHT = (sys.executable, "-m", "foldwright")
_BARE = (sys.executable, "-m", "bench.libraries", "bare")
_UNDRAWN = (sys.executable, "-m", "bench.libraries")


def full_build(folder: Path, effort: Effort) -> bool:
    """Processor time of the demo library with all its papers, beside the typesetter laying out its words as plainly."""
    recipes = TOP / "recipes"
    ours, theirs = [], []
    for number in range(effort.rounds):
        out = str(folder / f"full-{number}")
        ours.append(taken_by([*_FOLDWRIGHT, "build", str(recipes), "--out", out, "--jobs", "1"]).processor)
        papers = len(list(Path(out).glob("*/*.pdf")))
        theirs.append(taken_by([*_BARE, str(recipes), str(papers)]).processor)
    ratio = median(ours) / median(theirs)
    well = ratio <= FULL_BUILD_AT_MOST
    found = f"{median(ours):.1f} s of a processor, bare layouts {median(theirs):.1f} s: ratio {ratio:.2f}"
    told(found, "demo library, all", f"{FULL_BUILD_AT_MOST}", well)
    return well


def pages(folder: Path, effort: Effort) -> list[bool]:
    """Tutorials a second on every core, without the pictures of steps and with all, beside MkDocs."""
    recipes, site = _written(folder, effort.library), folder / "library-pages"
    _write_pages(site, effort.library)
    mkdocs = [sys.executable, "-m", "mkdocs", "build", "--quiet", "--config-file", str(site / "mkdocs.yml")]
    theirs = taken_by([*mkdocs, "--site-dir", str(folder / "site")]).seconds
    wells = []
    for command, what, mark in (
        (_UNDRAWN, "pages, steps undrawn", BARE_PAGES_AT_LEAST),
        (_FOLDWRIGHT, "pages, all drawings", DRAWN_PAGES_AT_LEAST),
    ):
        ours = _built(command, recipes, folder / f"{what}-out", "tutorial").seconds
        well = theirs / ours >= mark
        rates = f"{effort.library / ours:.0f} pages/s, MkDocs {effort.library / theirs:.0f} pages/s"
        told(f"{rates}: ratio {theirs / ours:.2f}", what, f"{mark}", well)
        wells.append(well)
    return wells


def two_processes(folder: Path, effort: Effort) -> bool:
    recipes = _written(folder, max(4, effort.library // 10))
    one, two = (_built(_FOLDWRIGHT, recipes, folder / f"jobs-{jobs}", "tutorial", jobs).seconds for jobs in (1, 2))
    well = one / two >= TWO_AT_LEAST
    told(f"{one:.1f} s by one, {two:.1f} s by two: ratio {one / two:.2f}", "two processes", f"{TWO_AT_LEAST}", well)
    return well


def growth(folder: Path, few: int, many: int) -> list[bool]:
    """Processor time and the memory of the largest process, of a library of few recipes and of one of many."""
    small, large = (_built(_FOLDWRIGHT, _written(folder, n), folder / f"grown-{n}", "tutorial") for n in (few, many))
    exponent = log(large.processor / small.processor) / log(many / few)
    memory = large.megabytes / small.megabytes
    times = f"{few}: {small.processor:.1f} s, {many}: {large.processor:.1f} s: exponent {exponent:.2f}"
    told(times, "recipes to time", f"{EXPONENT_AT_MOST}", exponent <= EXPONENT_AT_MOST)
    sizes = f"{few}: {small.megabytes:.0f} MB, {many}: {large.megabytes:.0f} MB: ratio {memory:.2f}"
    told(sizes, "recipes to memory", f"{MEMORY_AT_MOST}", memory <= MEMORY_AT_MOST)
    return [exponent <= EXPONENT_AT_MOST, memory <= MEMORY_AT_MOST]


def again(folder: Path, effort: Effort, outputs: str) -> list[bool]:
    """A library built again unchanged, and with a word of one recipe changed."""
    recipes, out = _written(folder, effort.library), folder / f"again-{outputs}"
    _built(_FOLDWRIGHT, recipes, out, outputs)
    unchanged = median(_built(_FOLDWRIGHT, recipes, out, outputs).seconds for _ in range(effort.rounds))
    changed, alone = [], []
    recipe = recipes / made_up_library.slug_of(2) / "recipe.md"
    for number in range(effort.rounds):
        text = recipe.read_text(encoding="utf-8")
        recipe.write_text(re.sub("\nsummary: .*", f"\nsummary: Changed, the {number}th time.", text), encoding="utf-8")
        changed.append(_built(_FOLDWRIGHT, recipes, out, outputs).seconds)
        alone.append(_built(_FOLDWRIGHT, recipe.parent, folder / f"alone-{number}-{outputs}", outputs).seconds)
    more = median(changed) - median(alone)
    count = f"{effort.library} recipes"
    told(f"{unchanged:.2f} s, {count}", "nothing changed", f"{UNCHANGED_S_AT_MOST} s", unchanged <= UNCHANGED_S_AT_MOST)
    beside = f"{median(changed):.2f} s, that recipe alone {median(alone):.2f} s: {more:+.2f} s, {count}"
    told(beside, "one word changed", f"{CHANGED_S_AT_MOST} s", more <= CHANGED_S_AT_MOST)
    return [unchanged <= UNCHANGED_S_AT_MOST, more <= CHANGED_S_AT_MOST]


def _written(folder: Path, count: int) -> Path:
    home = folder / f"library-{count}"
    if not home.exists():
        made_up_library.made_up_library(home, count, photographs=False)
    return home


def _built(command: Sequence[str], recipes: Path, out: Path, outputs: str, jobs: int = 0) -> Taken:
    words = [*command, "build", str(recipes), "--out", str(out), "--only", outputs]
    return taken_by([*words, *(["--jobs", str(jobs)] if jobs else [])])


def _write_pages(folder: Path, count: int) -> None:
    """A MkDocs project of pages with the same words, and nothing but the defaults."""
    docs = folder / "docs"
    docs.mkdir(parents=True)
    (folder / "mkdocs.yml").write_text("site_name: Practice\nuse_directory_urls: true\n", encoding="utf-8")
    (docs / "index.md").write_text("# Practice\n", encoding="utf-8")
    for number in range(1, count + 1):
        page = docs / f"{made_up_library.slug_of(number)}.md"
        page.write_text(_as_markdown(made_up_library.recipe_text(number, photographs=False)), encoding="utf-8")


def _as_markdown(recipe: str) -> str:
    """The words of a recipe under its title, its supplies and tools as lists."""
    _, facts, words = recipe.split("---\n", 2)
    title = facts.partition("title: ")[2].partition("\n")[0]
    listed = re.findall(r"^  (?:- )?([^ \n].*)$", facts, re.MULTILINE)
    lists = "".join(f"- {line}\n" for line in listed)
    return f"# {title}\n\n{lists}\n" + re.sub(r"```step\n.*?```\n", "", words, flags=re.DOTALL)


# --- what is run beside the program -----------------------------------------------------------------------------------


def bare_layouts(recipes: Path, count: int) -> None:
    """The typesetter alone: the words of the demo recipes, one after another, as PDFs with tags and nothing else."""
    from weasyprint import HTML

    texts = [_as_page(path.read_text(encoding="utf-8")) for path in sorted(recipes.glob("*/recipe.md"))]
    for number in range(count):
        HTML(string=texts[number % len(texts)]).write_pdf(pdf_variant="pdf/ua-1")


@cache
def _as_page(recipe: str) -> str:
    from markdown_it import MarkdownIt

    return f"<html lang=en><title>A recipe</title><body>{MarkdownIt().render(_as_markdown(recipe))}"


def main(words: Sequence[str]) -> int:
    if words[0] == "bare":
        bare_layouts(Path(words[1]), int(words[2]))
        return 0
    from foldwright.cli.app import run
    from foldwright.geometry.pictures import story

    with mock.patch.object(story, "step_pictures", return_value=()):
        return run(words)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
