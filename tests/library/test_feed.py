"""The feed: read by feedparser, and held against what RFC 4287 demands of every feed and entry."""

from __future__ import annotations

import re
from datetime import date, timedelta

import feedparser
import pytest
from lxml import etree
from lxml.etree import _Element

from foldwright.document.catalogue import catalogue
from foldwright.library.feed import feed
from foldwright.library.listing import first_names, old_names
from foldwright.library.shelves import newest_first
from foldwright.outputs.entry import Entry
from foldwright.outputs.list_picture import EntryPicture, PictureSize
from library.made_up import ADDRESS, entry, studio

ATOM = "{http://www.w3.org/2005/Atom}"
MOMENT = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?(Z|[+-]\d\d:\d\d)")
"""RFC 3339, 5.6: date-time, with capital letters (RFC 4287, 3.3)."""
SCHEME = re.compile(r"[a-z][a-z0-9+.-]*:\S+")
"""An absolute IRI, which an id has to be (RFC 4287, 4.2.6; RFC 3987, 2.2)."""
ONE_OF_EACH = {"feed": ("id", "title", "updated"), "entry": ("id", "title", "updated")}
"""RFC 4287, 4.1.1 and 4.1.2: what must stand there once; an author must stand in the feed or in every entry."""


def made(*entries: Entry) -> bytes:
    names, _ = old_names(entries, ())
    return feed(newest_first(entries), studio(), f"{ADDRESS}/", first_names(names), catalogue("en"))


def keeps_the_rules(data: bytes) -> _Element:
    root = etree.fromstring(data)
    assert root.tag == f"{ATOM}feed"
    assert root.findall(f"{ATOM}author/{ATOM}name")
    for part in (root, *root.findall(f"{ATOM}entry")):
        kind = part.tag.removeprefix(ATOM)
        for name in ONE_OF_EACH[kind]:
            (one,) = part.findall(f"{ATOM}{name}")
            assert (one.text or "").strip(), (kind, name)
        assert SCHEME.fullmatch(part.findtext(f"{ATOM}id", ""))
        for name in ("updated", "published"):
            for one in part.findall(f"{ATOM}{name}"):
                assert MOMENT.fullmatch(one.text or "")
        alternate = [link for link in part.findall(f"{ATOM}link") if link.get("rel", "alternate") == "alternate"]
        assert len(alternate) == 1 and SCHEME.fullmatch(alternate[0].get("href", ""))
        # 4.1.2: a summary must stand beside content that is not text, HTML or XHTML; 4.2.2: a category has a term.
        assert all(category.get("term") for category in part.findall(f"{ATOM}category"))
        assert all(one.get("type") in ("text", "html", "xhtml", None) for one in part.findall(f"{ATOM}content"))
    ids = [one.text for one in root.iter(f"{ATOM}id")]
    assert len(ids) == len(set(ids))
    # 4.1.1: should hold a link to itself.
    assert [link.get("href") for link in root.findall(f"{ATOM}link") if link.get("rel") == "self"]
    return root


def test_a_feed_is_read_as_it_was_meant() -> None:
    tag = entry("twine-tag", "2026-11-13", tags=("gift", "paper & card/é"), summary="For <b> jars & more.")
    box = entry("birdhouse", "2026-03-20", revised="2026-11-20", was=("bird-house", "nest-box"))
    data = made(box, tag)
    keeps_the_rules(data)
    read = feedparser.parse(data)
    assert not read.bozo and read.version == "atom10"
    assert (read.feed.title, read.feed.author) == ("Harbour Street Paper Studio", "The Tuesday table")
    assert [one.title for one in read.entries] == ["Twine tag", "Birdhouse"]
    first, second = read.entries
    assert first.link == f"{ADDRESS}/twine-tag/tutorial.html"
    assert first.summary == "For &lt;b&gt; jars &amp; more." or first.summary == "For <b> jars & more."
    assert [one.term for one in first.tags] == ["gift", "paper & card/é"]
    assert first.published_parsed[:6] == (2026, 11, 13, 0, 0, 0)
    assert second.published_parsed[:3] == (2026, 3, 20)
    assert second.updated_parsed[:3] == (2026, 11, 20)
    # The feed is as new as the newest change in it.
    assert read.feed.updated_parsed[:3] == (2026, 11, 20)


def test_an_id_outlives_a_new_name() -> None:
    before = feedparser.parse(made(entry("bird-house"))).entries[0].id
    after = feedparser.parse(made(entry("nest-box", was=("bird-house",)))).entries[0].id
    again = feedparser.parse(made(entry("birdhouse", was=("bird-house", "nest-box")))).entries[0].id
    assert before == after == again


def test_two_recipes_of_one_old_name_have_two_ids() -> None:
    keeps_the_rules(made(entry("birdhouse", was=("box",)), entry("nest-box", was=("box",)), entry("box")))


def test_only_the_thirty_newest_are_in_it_whenever_it_is_made() -> None:
    first = date(2026, 1, 1)
    entries = [entry(f"box-{number}", (first + timedelta(number)).isoformat()) for number in range(40)]
    data = made(*entries)
    titles = [one.title for one in feedparser.parse(data).entries]
    assert titles == [f"Box {number}" for number in range(39, 9, -1)]
    assert data == made(*reversed(entries))


def test_a_feed_of_nothing_keeps_the_rules() -> None:
    root = keeps_the_rules(made())
    assert root.findall(f"{ATOM}entry") == []


@pytest.mark.parametrize("hostile", ["</summary><entry>", "]]>", "&lt;script&gt;", "a\u2028b", "“so”"])
def test_nothing_an_author_writes_ends_an_element(hostile: str) -> None:
    data = made(entry("box", title=hostile, summary=hostile, tags=(hostile,)))
    root = keeps_the_rules(data)
    assert len(root.findall(f"{ATOM}entry")) == 1
    assert root.findtext(f"{ATOM}entry/{ATOM}title") == hostile
    content = etree.HTML(root.findtext(f"{ATOM}entry/{ATOM}content", ""))
    assert "".join(content.itertext()) == hostile


def test_a_photograph_goes_along_with_its_size_and_words() -> None:
    sizes = (PictureSize("in-list-480.jpg", 480, 240), PictureSize("in-list-960.jpg", 960, 480))
    data = made(entry("box", picture=EntryPicture(sizes, 'A box with a "lid"')))
    content = etree.HTML(etree.fromstring(data).findtext(f"{ATOM}entry/{ATOM}content", ""))
    (image,) = content.iter("img")
    assert dict(image.attrib) == {
        "src": f"{ADDRESS}/box/in-list-960.jpg",
        "width": "960",
        "height": "480",
        "alt": 'A box with a "lid"',
    }
