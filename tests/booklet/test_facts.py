"""What a booklet.yaml, or the words of a call, may say; and what is told of what they may not."""

from __future__ import annotations

from fractions import Fraction

import pytest

from foldwright.booklet.facts import read_booklet, text_of_call
from foldwright.booklet.wishes import BookletWish, booklet_wish
from foldwright.finding import Finding, Strength
from foldwright.finding.changes import changed
from foldwright.measure.length import System
from foldwright.mending.mends import with_mends
from foldwright.outputs.model import BuildWish, OnPaper
from foldwright.recipe.facts.studio import read_studio
from foldwright.render.paper.papers import A4, A5, A6, HALF_LETTER, LETTER, TABLOID

KNOWN = ("birdhouse", "drawer-box", "drawer-box-large", "twine-tag")
BOTH = (System.IMPERIAL, System.METRIC)
SOUND = """title: Spring 2027
recipes: birdhouse, twine-tag
as: cards
paper: half letter
units: metric
templates: no
saddle: yes
sheet: tabloid
paper thickness: 0.15 mm
theme: almanac
foreword: Two small things: a box, and a tag.
"""


def wish(text: str, call: BuildWish | None = None, papers: str = "letter, A4", saddle: bool = False) -> BookletWish:
    facts, findings = read_booklet(text, "booklet.yaml")
    assert findings == ()
    assert facts is not None
    studio, _ = read_studio(f"papers: {papers}\n" if papers else "studio: Ours\n", "studio.yaml")
    made = booklet_wish(facts, KNOWN, call or BuildWish((), BOTH), studio, saddle)
    assert isinstance(made, BookletWish), made
    return made


def wrong(text: str) -> tuple[Finding, ...]:
    facts, findings = read_booklet(text, "booklet.yaml")
    if facts is None:
        return findings
    made = booklet_wish(facts, KNOWN, BuildWish((), BOTH), None, False)
    assert not isinstance(made, BookletWish)
    return made


def test_every_fact_is_taken_as_it_is_said() -> None:
    made = wish(SOUND)
    assert (made.name, made.title, made.slugs) == ("booklet-spring-2027", "Spring 2027", ("birdhouse", "twine-tag"))
    assert (made.as_cards, made.paper, made.system, made.templates) == (True, HALF_LETTER, System.METRIC, False)
    assert made.saddle is not None
    assert (made.saddle.sheet, made.thickness_mm, made.thickness_said) == (TABLOID, Fraction(15, 100), True)
    assert (made.theme, made.foreword) == ("almanac", "Two small things: a box, and a tag.")


def test_what_nobody_says_is_as_usual() -> None:
    made = wish("title: A\nrecipes:\n  - birdhouse\n  - drawer box large\n")
    assert made.slugs == ("birdhouse", "drawer-box-large")
    assert (made.as_cards, made.templates, made.saddle, made.theme) == (False, True, None, "")
    # The first paper of the studio, in the units it is sold by.
    assert (made.paper, made.system) == (LETTER, System.IMPERIAL)


@pytest.mark.parametrize(
    ("more", "systems", "papers", "studio", "paper", "system"),
    [
        ("", BOTH, (), "A5, letter", A5, System.METRIC),
        ("", BOTH, (), "", A4, System.METRIC),
        ("", (System.IMPERIAL,), (), "A4", A4, System.IMPERIAL),
        ("", (System.IMPERIAL,), (), "", LETTER, System.IMPERIAL),
        ("", BOTH, (A5,), "letter", A5, System.METRIC),
        ("", (System.IMPERIAL,), (A5,), "letter", A5, System.IMPERIAL),
        ("paper: A5\n", BOTH, (LETTER,), "letter", A5, System.METRIC),
        ("units: imperial\n", BOTH, (A5,), "letter", A5, System.IMPERIAL),
        ("units: metric\n", BOTH, (), "letter", LETTER, System.METRIC),
        ("units: metric\n", BOTH, (), "letter, A4", A4, System.METRIC),
    ],
)
def test_its_own_facts_go_before_the_call_and_the_call_before_the_studio(
    more: str, systems: tuple[System, ...], papers: tuple, studio: str, paper: object, system: System
) -> None:
    made = wish(f"title: A\nrecipes: birdhouse\n{more}", BuildWish((), systems, on_paper=OnPaper(papers)), studio)
    assert (made.paper, made.system) == (paper, system)


def test_a_paper_too_small_for_pages_is_refused_not_replaced() -> None:
    facts, _ = read_booklet("title: A\nrecipes: birdhouse\n", "booklet.yaml")
    assert facts is not None
    call = BuildWish((), BOTH, on_paper=OnPaper((A6,)))
    made = booklet_wish(facts, KNOWN, call, None, False)
    assert isinstance(made, tuple)
    assert [one.code for one in made] == ["booklet-paper-small"]


def test_a_call_may_ask_for_sheets_to_fold() -> None:
    made = wish("title: A\nrecipes: birdhouse\npaper: A5\n", saddle=True)
    assert made.saddle is not None
    assert (made.saddle.sheet, made.thickness_said) == (A4, False)


@pytest.mark.parametrize(
    ("said", "text"),
    [
        ("Spring 2027: birdhouse, twine-tag", "title: Spring 2027\nrecipes: birdhouse, twine-tag\n"),
        ("Spring: small things: birdhouse", "title: Spring: small things\nrecipes: birdhouse\n"),
        ("  Spring :birdhouse ", "title: Spring\nrecipes: birdhouse\n"),
        ("Spring", None),
        ("Spring:", None),
        (": birdhouse", None),
    ],
)
def test_the_words_of_a_call_are_a_title_and_recipes(said: str, text: str | None) -> None:
    assert text_of_call(said) == text


def test_a_file_is_called_no_longer_than_it_may_be() -> None:
    """255 bytes are what most file systems take for a name (from memory, no source)."""
    for title in ("Spring " * 80, "ü" * 400):
        name = wish(SOUND.replace("Spring 2027", title)).name
        assert name.startswith(f"booklet-{title[:6].lower()}")
        assert len(f".foldwright-at-work-4194304-{name}-saddle.pdf.new".encode()) < 255


WRONG = [
    ("recipes: birdhouse, twine-tag", "recipes: birdhous, twine-tag", "booklet-recipe-unknown", "birdhous"),
    ("recipes: birdhouse, twine-tag", "recipes: birdhouse, quilt", "booklet-recipe-missing", "quilt"),
    ("recipes: birdhouse, twine-tag", "recipes: birdhouse, Birdhouse", "booklet-recipe-twice", "Birdhouse"),
    ("title: Spring 2027\n", "", "booklet-lacks", ""),
    ("recipes: birdhouse, twine-tag\n", "", "booklet-lacks", ""),
    ("recipes: birdhouse, twine-tag", "recipes: , ;", "booklet-lacks", "recipes"),
    ("title: Spring 2027", "title: 春 2027", "booklet-letters", "春 2027"),
    ("foreword: Two", "foreword: 二 Two", "booklet-letters", "二 Two small things: a box, and a tag."),
    ("as: cards", "as: carts", "booklet-as", "carts"),
    ("paper: half letter", "paper: A6", "booklet-paper", "A6"),
    ("paper: half letter", "paper: half leter", "booklet-paper", "half leter"),
    ("units: metric", "units: metrics", "booklet-units", "metrics"),
    ("templates: no", "templates: perhaps", "yes-or-no", "perhaps"),
    ("sheet: tabloid", "sheet: tabloit", "booklet-sheet", "tabloit"),
    ("sheet: tabloid", "sheet: letter\npaper: A4", "said-twice", "paper"),
    ("paper: half letter\nunits: metric\ntemplates: no\nsaddle: yes\nsheet: tabloid", "paper: A4\nsheet: letter",
     "booklet-sheet-small", None),
    ("paper thickness: 0.15 mm", "paper thickness: 15 mm", "booklet-thickness", "15 mm"),
    ("paper thickness: 0.15 mm", "paper thickness: 0 mm", "zero-length", "0 mm"),
    ("theme: almanac", "theme: almanack", "booklet-theme", "almanack"),
    ("theme: almanac", "thema: almanac", "unknown-word", "thema"),
]  # fmt: skip


@pytest.mark.parametrize(("sound", "broken", "code", "said"), WRONG)
def test_what_cannot_be_is_told_with_its_place(sound: str, broken: str, code: str, said: str | None) -> None:
    assert sound in SOUND
    text = SOUND.replace(sound, broken, 1)
    findings = wrong(text)
    assert [one.code for one in findings] == [code]
    (one,) = findings
    assert one.strength is Strength.FAULT
    assert one.place is not None
    if said is not None:
        assert text[one.place.start : one.place.end] == said


@pytest.mark.parametrize(
    ("code", "sound", "broken"),
    [
        ("booklet-recipe-unknown", "recipes: birdhouse,", "recipes: birdhous,"),
        ("booklet-as", "as: cards", "as: crads"),
        ("booklet-paper", "paper: half letter", "paper: half leter"),
        ("booklet-units", "units: metric", "units: metrik"),
        ("booklet-sheet", "sheet: tabloid", "sheet: tabloit"),
        ("booklet-theme", "theme: almanac", "theme: almanack"),
    ],
)
def test_a_slip_is_mended_by_what_was_meant(code: str, sound: str, broken: str) -> None:
    text = SOUND.replace(sound, broken, 1)
    (one,) = with_mends(wrong(text), {"booklet.yaml": text})
    assert one.code == code
    assert changed(text, one.mends[0].changes) == SOUND
