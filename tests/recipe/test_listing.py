"""`tags:`, `season:`, `published:` and `was:`: what a library lists a recipe by."""

from __future__ import annotations

import re
from datetime import date

import pytest

from foldwright.recipe.facts.addresses import address_of
from foldwright.recipe.facts.days import only_day_in
from foldwright.recipe.reading import Reading, read_recipe

UNRESERVED = re.compile(r"[\w-]+")
"""What an address of ours is made of: letters and figures of any script, and hyphens (RFC 3987, 2.2, iunreserved)."""


def read(facts: str, slug: str = "ferry-box", size: str = "") -> Reading:
    return read_recipe(f"---\ntitle: Box\n{facts}\n---\n\n## Fold\n\nFold it.\n", "recipe.md", slug, size=size)


def values(facts: str, name: str) -> list[object]:
    recipe = read(facts).recipe
    assert recipe
    return [said.value for said in getattr(recipe, name)]


@pytest.mark.parametrize(
    ("said", "tags"),
    [
        ("favour, box", ["favour", "box"]),
        ("favour; box", ["favour", "box"]),
        ("paper & card/é", ["paper & card/é"]),
        ("gifts and tags, thank you", ["gifts and tags", "thank you"]),
        ("#spring, #Easter", ["spring", "Easter"]),
        ("spring, Spring,  SPRING", ["spring"]),
        ("thank  you", ["thank you"]),
        ("🎀, ✂️", ["🎀", "✂️"]),
        ("3d, 2026", ["3d", "2026"]),
        ("дом, 紙", ["дом", "紙"]),
        ("[favour, box]", ["favour", "box"]),
        ("\n  - favour\n  - box", ["favour", "box"]),
    ],
)
def test_tags_stand_in_a_row(said: str, tags: list[str]) -> None:
    assert values(f"tags: {said}", "tags") == tags


@pytest.mark.parametrize("said", ["!!!", "-", "—", "& /", "***"])
def test_a_tag_of_signs_alone_is_left_out_and_asked_about_at_its_place(said: str) -> None:
    found = read(f"tags: favour, {said}")
    (finding,) = found.findings
    assert found.recipe and [tag.value for tag in found.recipe.tags] == ["favour"]
    assert finding.code == "tag-without-letters" and finding.place
    start = len("---\ntitle: Box\ntags: favour, ")
    assert (finding.place.start, finding.place.end) == (start, start + len(said))


@pytest.mark.parametrize(
    ("name", "address"),
    [
        ("paper & card/é", "paper-card-e"),
        ("Paper   Card", "paper-card"),
        ("Straße", "strasse"),
        ("🎀", "ribbon"),  # U+1F380 is called RIBBON (Unicode Character Database, UnicodeData.txt)
        ("✂", "black-scissors"),  # U+2702 BLACK SCISSORS
        ("дом", "дом"),
        ("../../etc", "etc"),
        ("a?b#c%20d", "a-b-c-20d"),
        ("!!!", ""),
        ("___", ""),
    ],
)
def test_every_tag_has_an_address(name: str, address: str) -> None:
    assert address_of(name) == address


def test_no_address_is_longer_than_a_file_may_be_called() -> None:
    """255 bytes is NAME_MAX of the common file systems (limits.h on Linux; from memory)."""
    for letter in ("a", "é", "紙", "🎀"):
        address = address_of(letter * 4000)
        assert 0 < len(f"{address}-12.html".encode()) < 255
        assert UNRESERVED.fullmatch(address)


@pytest.mark.parametrize(
    ("said", "seasons"),
    [
        ("Fall", ["autumn"]),
        ("autumn, fall", ["autumn"]),
        ("spring and Mother's Day", ["spring", "Mother's Day"]),
        ("Winter; Diwali", ["winter", "Diwali"]),
    ],
)
def test_seasons_have_one_name_each_and_feasts_their_own(said: str, seasons: list[str]) -> None:
    assert values(f"season: {said}", "seasons") == seasons


@pytest.mark.parametrize("said", ["2026-11-20", "20 November 2026", "Nov 20th, 2026", "Friday, 20 November 2026"])
def test_published_is_a_day_as_people_write_it(said: str) -> None:
    found = read(f"published: {said}")
    assert found.recipe and found.recipe.published and not found.findings
    assert found.recipe.published.value == date(2026, 11, 20)


@pytest.mark.parametrize(
    ("said", "code", "meant"),
    [
        ("20/11/2026", "published-meant", "2026-11-20"),
        ("11.20.2026", "published-meant", "2026-11-20"),
        ("10/11/2026", "published-no-day", None),
        ("31/11/2026", "published-no-day", None),
        ("2026-02-30", "published-no-day", None),
        ("soon", "published-no-day", None),
        ("yes", "published-no-day", None),
    ],
)
def test_what_is_no_day_is_asked_about_and_the_recipe_is_read(said: str, code: str, meant: str | None) -> None:
    found = read(f"published: {said}")
    (finding,) = found.findings
    assert found.recipe and found.recipe.published is None
    assert (finding.code, dict(finding.facts).get("meant")) == (code, meant)
    assert finding.place and dict(finding.facts)["said"] == said


def test_numbers_in_a_row_are_a_day_only_where_they_can_be_no_other() -> None:
    """Every day of a leap year, written both ways round: with a day above 12, or day and month alike, it is sure."""
    for ordinal in range(date(2028, 1, 1).toordinal(), date(2029, 1, 1).toordinal()):
        day = date.fromordinal(ordinal)
        sure = day if day.day > 12 or day.day == day.month else None
        assert only_day_in(f"{day.day}/{day.month}/{day.year}") == sure
        assert only_day_in(f"{day.month}-{day.day}-{day.year}") == sure


def test_old_names_are_addresses() -> None:
    assert values("was: bird house, Birdhouse_Box", "was") == ["bird-house", "birdhouse_box"]
    assert values("was: bird-house/", "was") == ["bird-house"]


@pytest.mark.parametrize(
    ("said", "code"),
    [
        ("Ferry Box", "was-itself"),
        ("boxes/ferry", "was-no-name"),
        ("..", "was-no-name"),
        ("c:\\ferry", "was-no-name"),
        ("é" * 150, "was-no-name"),
    ],
)
def test_a_name_that_leads_nowhere_is_left_out_and_asked_about(said: str, code: str) -> None:
    found = read(f"was: old-ferry, {said}")
    assert found.recipe and [one.value for one in found.recipe.was] == ["old-ferry"]
    assert [finding.code for finding in found.findings] == [code]


def test_a_size_has_the_facts_of_its_recipe() -> None:
    facts = """tags: box
season: winter
published: 2026-11-20
supplies:
  card: cardstock, sheet A4
pieces:
  lid: from card, size 60 x 60 mm
sizes:
  large:
    lid: size 90 x 90 mm"""
    small, large = read(facts).recipe, read(facts, size="large").recipe
    assert small and large and large.size == "large"
    assert [one.value for one in large.tags] == ["box"]
    assert (large.seasons, large.published) == (small.seasons, small.published)
