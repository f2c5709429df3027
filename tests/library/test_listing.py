"""What is listed on which day, and the way on from old names, followed as a browser would."""

from __future__ import annotations

import posixpath
from datetime import date
from urllib.parse import unquote, urljoin

import pytest
from lxml import etree

from foldwright.library.listing import as_of, old_names, redirects, updated
from foldwright.library.making import make_library
from foldwright.outputs.entry import Entry, SizeOf
from library.made_up import ADDRESS, TODAY, entry, wish


def leads_to(page: bytes, at: str) -> str:
    """Where a page's refresh and its link lead from a path, which must be one place (HTML, 4.2.5.3: refresh)."""
    root = etree.HTML(page)
    (refresh,) = root.xpath("//meta[@http-equiv='refresh']/@content")
    (link,) = root.xpath("//a/@href")
    seconds, _, way = refresh.partition("; url=")
    assert (seconds, way) == ("0", link)
    return unquote(posixpath.normpath(posixpath.join(posixpath.dirname(at), way)))


@pytest.mark.parametrize(
    ("published", "why"),
    [("2026-11-29", ""), ("2026-11-30", ""), ("2026-12-01", "later"), ("2027-01-01", "later")],
)
def test_a_recipe_is_listed_from_its_day_on(published: str, why: str) -> None:
    (found,) = as_of([entry("box", published)], TODAY)
    assert (found.listed, found.unlisted) == (not why, why)
    (on_the_day,) = as_of([entry("box", published)], date.fromisoformat(published))
    assert on_the_day.listed


def test_what_is_not_listed_for_another_reason_stays_so() -> None:
    for why in ("draft", "day"):
        (found,) = as_of([entry("box", "2027-01-01", listed=False, unlisted=why)], TODAY)
        assert (found.listed, found.unlisted) == (False, why)


def test_a_recipe_in_sizes_is_listed_once() -> None:
    sizes = (SizeOf("large", "box-large"), SizeOf("small", "box-small"))
    written = entry("box", sizes=sizes)
    large, small = (entry(f"box-{size}", size=size, written="box") for size in ("large", "small"))
    for order in ([written, large, small], [large, written, small], [large, small, written]):
        assert as_of(order, TODAY) == (written,)
    # Only some of its sizes were asked for.
    assert as_of([small, large], TODAY) == (small,)


def test_what_no_list_leads_to_goes_by_all_its_folders() -> None:
    sizes = (SizeOf("large", "box-large"),)
    entries = [entry("tag"), entry("box", "2027-01-01", sizes=sizes), entry("card", listed=False, unlisted="draft")]
    assert make_library(entries, wish()).unlisted == {"box", "box-large", "card"}


def test_a_change_is_as_new_as_the_later_of_both_days() -> None:
    assert updated(entry("box", "2026-03-20", revised="2026-11-20")) == "2026-11-20"
    assert updated(entry("box", "2026-11-20", revised="2026-03-20")) == "2026-11-20"
    assert updated(entry("box", "2026-03-20")) == "2026-03-20"


def test_old_addresses_lead_to_the_new_page_from_files_and_hosts() -> None:
    made = make_library([entry("nest-box", was=("bird-house", "späte-blüte"))], wish())
    for old in ("bird-house", "späte-blüte"):
        for page in ("index.html", "tutorial.html"):
            data = made.files[f"{old}/{page}"]
            assert leads_to(data, f"{old}/{page}") == "nest-box/tutorial.html"
            (canonical,) = etree.HTML(data).xpath("//link[@rel='canonical']/@href")
            assert canonical == f"{ADDRESS}/nest-box/tutorial.html"
            way = etree.HTML(data).xpath("//a/@href")[0]
            assert urljoin(f"{ADDRESS}/{old}/", way) == f"{ADDRESS}/nest-box/tutorial.html"


def test_sizes_of_a_renamed_recipe_are_led_on_to_as_well() -> None:
    names, _ = old_names([entry("box", was=("chest",), sizes=(SizeOf("large", "box-large"),))], ())
    files = redirects(names)
    assert leads_to(files["chest-large/tutorial.html"], "chest-large/tutorial.html") == "box-large/tutorial.html"
    assert set(files) == {
        f"{old}/{page}" for old in ("chest", "chest-large") for page in ("index.html", "tutorial.html")
    }


@pytest.mark.parametrize(
    ("entries", "code", "leads"),
    [
        ([entry("nest-box", was=("birdhouse",)), entry("birdhouse")], "was-taken", {}),
        (
            [entry("nest-box", was=("box-large",)), entry("box", sizes=(SizeOf("large", "box-large"),))],
            "was-taken",
            {},
        ),
        (
            [entry("box", was=("old",), sizes=(SizeOf("large", "box-large"),)), entry("old-large")],
            "was-taken",
            {},
        ),
        (
            [entry("tag", was=("old-large",)), entry("box", was=("old",), sizes=(SizeOf("large", "box-large"),))],
            "was-twice",
            {"old-large": "tag"},
        ),
        ([entry("nest-box", was=("tags",), tags=("spring",))], "was-of-the-library", {}),
        ([entry("nest-box", was=("assets",))], "was-of-the-library", {}),
        ([entry("box", was=("old",)), entry("tag", was=("old",))], "was-twice", {"old": "box"}),
    ],
)
def test_a_name_that_is_in_use_is_told_at_its_place_and_nothing_is_written_over(
    entries: list[Entry], code: str, leads: dict[str, str]
) -> None:
    made = make_library(entries, wish())
    (finding,) = made.findings
    teller = entries[-1] if code == "was-twice" else entries[0]
    assert (finding.code, finding.place) == (code, teller.places[f"was {teller.was[0]}"])
    slugs = {one.slug for one in entries} | {size.slug for one in entries for size in one.sizes}
    assert not {path.partition("/")[0] for path in made.files} & slugs
    for old, new in leads.items():
        assert leads_to(made.files[f"{old}/index.html"], f"{old}/index.html") == f"{new}/tutorial.html"


def test_the_same_entries_in_any_order_give_the_same_bytes() -> None:
    entries = [entry(f"box-{number}", was=(f"old-{number}",), tags=("Box", "gift")) for number in range(5)]
    once, again = make_library(entries, wish()), make_library(entries[::-1], wish())
    assert once.files == again.files and once.insets == again.insets
