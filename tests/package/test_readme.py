"""README and guide are true: its recipes and facts are understood, its commands are commands, its output is printed."""

from __future__ import annotations

import re
import shlex
import textwrap
from pathlib import Path

import pytest

from foldwright.begin.recover.notes.reading import read_sample
from foldwright.booklet.facts import read_booklet
from foldwright.cli.app import COMMANDS
from foldwright.cli.options import options_of, read_call
from foldwright.event.facts.guests import read_guests
from foldwright.event.facts.projects import Offered
from foldwright.event.facts.stock import read_stock
from foldwright.finding import Finding, Strength
from foldwright.guide import FOLDER
from foldwright.pipeline import check_recipe
from foldwright.recipe.facts.studio import read_studio
from foldwright.recipe.model import Recipe
from foldwright.recipe.reading import read_recipe
from foldwright.render.drawing.manner import DrawingManner
from foldwright.render.themes import Composition, built_in_themes, load_theme
from workbench.readme import PAGES, README, Block, all_pages, blocks, printed, set_out

TEXT = all_pages()
BLOCKS = list(blocks(TEXT))
KINDS = ("recipe", "facts", "piece", "sizes", "sample", "shelf", "guests", "studio", "booklet", "sh", "html", "toml")


def of_kind(*kinds: str) -> list[object]:
    return [pytest.param(block, id=f"line {block.line}") for block in BLOCKS if block.kind in kinds]


def amiss(findings: tuple[Finding, ...]) -> list[str]:
    return [finding.code for finding in findings if finding.strength > Strength.THOUGHT]


def read(facts: str, words: str = "Words.") -> tuple[Recipe, list[str]]:
    reading = read_recipe(f"---\ntitle: x\n{facts}\n---\n\n## Step\n\n{words}\n", "r", "s")
    assert reading.recipe is not None
    return reading.recipe, [finding.code for finding in reading.findings]


def test_every_block_says_what_it_is() -> None:
    assert len(BLOCKS) == len(re.findall(r"^```", TEXT, re.MULTILINE)) / 2
    assert {block.kind for block in BLOCKS if not block.command} <= set(KINDS)


@pytest.mark.parametrize("block", of_kind("recipe"))
def test_a_recipe_has_nothing_the_matter(block: Block) -> None:
    assert check_recipe(block.text, "recipe.md", "x").findings == ()


def test_the_pieces_drawn_in_the_reference_have_nothing_the_matter() -> None:
    text = (README.parent / "tests" / "cases" / "reference" / "recipe.md").read_text(encoding="utf-8")
    checked = check_recipe(text, "recipe.md", "reference")
    assert checked.recipe is not None
    hushed = {said.value for said in checked.recipe.hushed}
    assert [one.code for one in checked.findings if one.code not in hushed] == []


@pytest.mark.parametrize("block", of_kind("toml"))
def test_a_look_of_one_s_own_begins_as_the_guide_says(block: Block, tmp_path: Path) -> None:
    (tmp_path / "theme.toml").write_text(block.text, encoding="utf-8")
    own, parent = load_theme(str(tmp_path)), load_theme("almanac")
    assert own.composition is Composition.PICTURE_BOOK is not parent.composition
    assert own.drawing is DrawingManner.PLAIN is not parent.drawing
    assert own.style == parent.style
    assert own.rooms.head[0].high == 400 and own.rooms != parent.rooms


def test_the_guide_tells_every_composition_and_every_manner_and_whose_it_is() -> None:
    looks = FOLDER / "looks.md"
    text = looks.read_text(encoding="utf-8")
    rows = dict(re.findall(r"^\| `([a-z-]+)` \|.*\| `([a-z]+)` \|$", text, re.MULTILINE))
    assert rows == {load_theme(name).composition.value: name for name in built_in_themes()}
    assert len(rows) == len(Composition)
    assert all(f"`{manner.value}` (" in text for manner in DrawingManner)


@pytest.mark.parametrize("block", of_kind("facts"))
def test_facts_are_understood(block: Block) -> None:
    assert read(block.text)[1] == []


@pytest.mark.parametrize("block", of_kind("piece"))
def test_facts_of_a_piece_are_understood(block: Block) -> None:
    """Several lines of one word are several examples."""
    for line in textwrap.dedent(block.text).splitlines():
        facts = f"pieces:\n  base:\n    size: 5 x 4 1/4 in\n    down: 1 3/4 front | 3/4 floor | 1 3/4 back\n    {line}"
        recipe, codes = read(facts)
        assert codes == []
        assert len(recipe.pieces[0].holes) == 1


@pytest.mark.parametrize("block", of_kind("sizes"))
def test_sizes_are_understood(block: Block) -> None:
    """They are those of a demo recipe, less what the README has no room for."""
    demo = (README.parent / "recipes" / "drawer-box" / "recipe.md").read_text(encoding="utf-8")
    written = re.sub(r"^sizes:\n(?: .*\n)*", block.text, demo, flags=re.MULTILINE)
    assert block.text in written
    assert amiss(check_recipe(written, "recipe.md", "x").findings) == []


@pytest.mark.parametrize("block", of_kind("sample", "shelf", "studio", "booklet"))
def test_other_files_are_understood(block: Block) -> None:
    readers = {"sample": read_sample, "shelf": read_stock, "studio": read_studio, "booklet": read_booklet}
    found = readers[block.kind](block.text, "file")
    assert (found.findings if block.kind == "sample" else found[1]) == ()


@pytest.mark.parametrize("block", [pytest.param(block, id=block.command) for block in BLOCKS if block.command])
def test_what_is_printed_is_what_the_program_prints(block: Block, tmp_path: Path) -> None:
    set_out(tmp_path)
    assert printed(block, tmp_path) == block.text


CALLS = [
    line.partition("  #")[0].strip()
    for block in BLOCKS
    for line in (block.text.splitlines() if block.kind == "sh" else [block.command])
    if line.startswith("foldwright ")
]


@pytest.mark.parametrize("call", CALLS)
def test_a_command_is_one(call: str) -> None:
    _, name, *words = shlex.split(call)
    assert not isinstance(read_call(COMMANDS[name], words), tuple)


OF_OTHERS = {"--install", "--nworkers", "--nthreads"}
"""An option of Windows' own, named where the README says how to open a terminal, and two of Dask's workers."""


def test_every_option_named_is_an_option_and_every_option_is_named() -> None:
    known = {
        option.name
        for command in COMMANDS.values()
        for option in options_of(command.call)
        if option.field != command.works_on
    }
    named = set(re.findall(r"(?<![\w-])--[a-z]+(?:-[a-z]+)*", TEXT)) - {"--"}
    assert named - known <= {"--help", "--version"} | OF_OTHERS
    assert known - named == set()


def headings(page: Path) -> set[str]:
    heads = re.findall(r"^#+ (.*)$", page.read_text(encoding="utf-8"), re.MULTILINE)
    return {re.sub(r"[^\w\- ]", "", head).strip().lower().replace(" ", "-") for head in heads}


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.stem)
def test_links_lead_somewhere(page: Path) -> None:
    for target in re.findall(r"\]\(([^)\s]+)\)|src=\"([^\"]+)\"", page.read_text(encoding="utf-8")):
        where, _, heading = (target[0] or target[1]).partition("#")
        if not where.startswith("https:"):
            file = page.parent / where if where else page
            assert file.exists(), where
            assert not heading or heading in headings(file), heading


def test_every_picture_of_the_guide_is_shown() -> None:
    assert {f"pictures/{path.name}" for path in (FOLDER / "pictures").iterdir()} == set(
        re.findall(r"\]\((pictures/[^)]+)\)", TEXT)
    )


def test_the_readme_is_short() -> None:
    """A newcomer reads it in five minutes; all else is in the guide."""
    assert len(README.read_bytes()) <= 7_500


@pytest.mark.parametrize("block", of_kind("guests"))
def test_a_list_of_guests_is_understood(block: Block) -> None:
    offered = (Offered("birdhouse", ("Birdhouse favour box",)), Offered("keepsake-box", ("Two-piece keepsake box",)))
    found = read_guests(block.text.encode(), "guests.csv", offered)
    assert found.findings == ()
    assert found.guests is not None
    assert [guest.recipe for guest in found.guests] == [0, 1]
