"""What the guide says between its blocks: each word it names is known, each example understood."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from foldwright.booklet.facts import BOOKLET_WORDS
from foldwright.geometry.outlines import svg as outline_svg
from foldwright.geometry.outlines.shapes import SHAPES
from foldwright.measure.paper import paper_meant
from foldwright.measure.unreadable import Unreadable
from foldwright.recipe.facts import limits
from foldwright.recipe.facts.durations import read_duration
from foldwright.recipe.facts.known import Known
from foldwright.recipe.facts.studio import STUDIO_WORDS, read_studio
from foldwright.recipe.facts.supplies import SUPPLY_WORDS
from foldwright.recipe.pieces.piece import FORMS, PIECE_WORDS
from foldwright.recipe.prose.body import STEP_WORDS
from foldwright.recipe.reading import RECIPE_WORDS, read_recipe
from foldwright.vocabulary import LEVELS
from recipe.prose_shown import measures
from workbench.readme import all_pages

TEXT = all_pages()
PROSE = re.sub(r"^```+.*?^```+$", "", TEXT, flags=re.MULTILINE | re.DOTALL)
SECTIONS = {
    head.strip(): text for head, text in re.findall(r"^##+ (.*)\n((?:(?!^##).*\n?)*)", PROSE, flags=re.MULTILINE)
}
OTHERS = """supplies:
  charcoal card: cardstock, weight 100 lb cover
  envelope: envelope, use 1, size 5 3/4 x 4 3/8 in
  caramel: wrapped sweet, use 3, contains milk
pieces:
  card:
    size: 5 x 4 in
    across: 2 1/2 back | 2 1/2 front
  base: size 5 x 4 1/4 in, down 1 3/4 front | 3/4 floor | 1 3/4 back
  strip: size 6 x 1 in, across 6 of 1
  sleeve: size 6 x 2 in
"""


def spans(section: str) -> list[str]:
    return re.findall(r"(?<!`)`([^`\n]+)`(?!`)", SECTIONS[section])


def rows(section: str) -> Iterator[tuple[list[str], list[str]]]:
    """What is typed in the first two cells of every row; in the second, the examples of its first sentence."""
    for first, second in re.findall(r"^\| ([^|]*`[^|]*) \| (.*) \|$", SECTIONS[section], re.MULTILINE):
        yield re.findall(r"`([^`]+)`", first), re.findall(r"`([^`]+)`", second.partition(". ")[0])


def findings(facts: str, words: str = "Words.") -> list[str]:
    return [one.code for one in read_recipe(f"---\ntitle: x\n{facts}---\n\n## Step\n{words}\n", "r", "s").findings]


def of_piece(fact: str) -> list[str]:
    size = "" if fact.startswith(("size", "inside", "finished")) else "    size: 5 x 4 in\n"
    size += "    goes round: base\n" if "rest" in fact else ""
    return findings(f"{OTHERS}  thing:\n{size}    {fact}\n")


@pytest.mark.parametrize(
    ("words", "section"),
    [
        (RECIPE_WORDS, "Facts at the top"),
        (SUPPLY_WORDS, "Supplies"),
        (PIECE_WORDS, ""),
        (STEP_WORDS, "Steps"),
        (STUDIO_WORDS, "The studio's own page"),
        (BOOKLET_WORDS, "What the file may say"),
    ],
    ids=["facts", "supplies", "pieces", "steps", "studio", "booklet"],
)
def test_every_word_is_in_the_reference(words: Known, section: str) -> None:
    reference = TEXT.partition(f"## {section}\n")[2] if section else TEXT
    missing = [word for word in words.words if not re.search(rf"`{word}\b|^ *{word}:", reference, re.MULTILINE)]
    assert missing == []


def test_the_words_of_the_tables_are_words() -> None:
    tables = {"Facts at the top": RECIPE_WORDS, "Steps": STEP_WORDS, "Supplies": SUPPLY_WORDS}
    for section, words in tables.items():
        for named, _ in rows(section):
            assert all(word in words.words for word in named), named


def test_examples_of_supplies() -> None:
    for named, examples in rows("Supplies"):
        for example in examples:
            fact = example if "kind" in named or any(word in example for word in named) else f"{named[0]} {example}"
            facts = ", ".join([*([] if "kind" in named else ["cardstock"]), fact])
            assert findings(f"supplies:\n  thing: {facts}\n") == [], facts


@pytest.mark.parametrize("section", ["Pieces", "Outlines", "What goes where"])
def test_examples_of_facts_of_a_piece(section: str) -> None:
    """Those that are written out, as `word: value`; drawn files are not there to be looked at."""
    said = [span for span in spans(section) if (word := span.partition(": ")[0]) != span and word in PIECE_WORDS.words]
    assert said
    assert {fact: codes for fact in said if (codes := of_piece(fact))} == {}


def test_forms_and_shapes() -> None:
    table = TEXT.partition("| `fold:` |")[2].partition("\n\n")[0]
    cells = [re.split(r" *\| *", row.strip("| ")) for row in table.splitlines()[2:]]
    named = [form for what, *_ in cells for form in re.findall(r"`([^`]+)`", what) if form != "90, 90, -90"]
    assert {form.partition(",")[0] for form in named} == set(FORMS)
    for form in (*named, "accordion, first fold up", "90, 90, -90"):
        assert of_piece(f"fold: {form}") == []
    told = spans("Outlines")
    assert {drawn for name, drawn in SHAPES.items() if name in told} == set(SHAPES.values())


@pytest.mark.parametrize(
    "line",
    [
        "cut from (0, 3/4) to 3/4 across 0 down",
        "valley 60 degrees from 0 across 2 down to 3 across 2 down",
        "mountain from middle of the top edge to middle of the bottom edge",
        "cut from top left corner to top right corner through 1 1/2 across 1 down",
        "glue area 0 across 0 down, 1 across 0 down, 1 across 1 down",
        "score from 1 across 0 down to 1 across 1 down, on every panel",
        "perforation from 0 across 1 down to 3 across 1 down, mirrored",
    ],
)
def test_lines_of_every_kind(line: str) -> None:
    assert of_piece(f"lines:\n      - {line}") == []


def test_examples_of_steps() -> None:
    needs = {"share": "", "photo shows": "photo: x.jpg\n"}
    for named, examples in rows("Steps"):
        for word, example in ((named[0], example) for example in examples if not example.startswith("video")):
            step = f"{needs.get(word, '')}{word}: {example}\n\nWords.\n\n## Cut the sleeve"
            assert findings(OTHERS + "  panel: size 1 x 1 in\n  inner mat: size 1 x 1 in\n", step) == [], step


def test_times_levels_papers() -> None:
    times = re.search(r"^Times: (.*?)\. ", SECTIONS["Steps"], re.MULTILINE)
    assert times
    assert not [said for said in re.findall(r"`([^`]+)`", times[1]) if isinstance(read_duration(said), Unreadable)]
    assert {level.name for level in LEVELS} <= set(spans("Facts at the top"))
    papers = next(examples for named, examples in rows("On paper") if named[0].startswith("--paper"))
    assert all(paper_meant(paper) for paper in papers if paper != "papers")
    hand = [line for line in ("hand: left", "trimmer: reads 1 mm") if f"`{line}`" in TEXT]
    assert hand
    assert not read_studio("\n".join(hand), "s")[1]


def test_measures_in_words() -> None:
    found, forced = SECTIONS["Measurements in your words"].split("You mark nothing. ")[1].split(" are found", 1)
    for said in re.findall(r"`([^`]+)`", found):
        recipe = read_recipe(f"---\ntitle: x\n---\n\n## Step\n\nCut a strip {said} long.\n", "r", "s").recipe
        assert recipe is not None
        assert [measure.said for measure in measures(recipe.steps[0].words)] == [said]
    alone = [*re.findall(r'"([^"]+)"', forced.partition(" are left alone")[0]), r"Put \3 in the bag"]
    for said in alone:
        recipe = read_recipe(f"---\ntitle: x\n---\n\n## Step\n\n{said}.\n", "r", "s").recipe
        assert recipe is not None
        assert list(measures(recipe.steps[0].words)) == []


def test_limits() -> None:
    said = re.search(r"^Limits: (.*)$", SECTIONS["When something is wrong"], re.MULTILINE)
    assert said
    assert said[1] == (
        f"a recipe of {limits.MOST_BYTES // 1024**2} MiB, {limits.MOST_STEPS} steps, photographs of "
        f"{limits.MOST_PIXELS // 10**6} megapixels, facts indented eight levels deep, "
        f"{limits.MOST_FACTS // 1024} KiB of facts."
    )
    assert limits.DEEPEST == 8
    kib = outline_svg.MOST_BYTES // 1024
    assert f"at most {kib} kB, {outline_svg.MOST_POINTS:,} points, {outline_svg.MOST_OPENINGS:,} openings" in TEXT
