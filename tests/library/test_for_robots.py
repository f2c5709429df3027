"""The map against a schema of its protocol, robots.txt read by urllib, the list of projects by schema.org's terms."""

from __future__ import annotations

import json
from datetime import date
from urllib.parse import unquote, urlsplit
from urllib.robotparser import RobotFileParser

import pytest
from lxml import etree

from foldwright.library.for_robots import addresses_of, item_list, robots, sitemap
from foldwright.library.making import make_library
from foldwright.library.shelves import newest_first
from library.made_up import ADDRESS, entry, wish
from render.test_howto import Scripts, check

# sitemaps.org, "XML tag definitions" and "Entity escaping", in RELAX NG: an urlset has at most 50,000 urls, each with
# one loc of less than 2,048 characters, and perhaps a lastmod (W3C Datetime: a day, or a moment), a changefreq and a
# priority; a sitemapindex has sitemaps, each with one loc and perhaps a lastmod. In our own words, from the protocol.
SCHEMA = etree.RelaxNG(
    etree.fromstring("""
<grammar xmlns="http://relaxng.org/ns/structure/1.0" ns="http://www.sitemaps.org/schemas/sitemap/0.9"
    datatypeLibrary="http://www.w3.org/2001/XMLSchema-datatypes">
  <start><choice>
    <element name="urlset"><oneOrMore><element name="url"><interleave>
      <ref name="loc"/><optional><ref name="lastmod"/></optional>
      <optional><element name="changefreq"><choice>
        <value>always</value><value>hourly</value><value>daily</value><value>weekly</value><value>monthly</value>
        <value>yearly</value><value>never</value></choice></element></optional>
      <optional><element name="priority"><data type="decimal">
        <param name="minInclusive">0.0</param><param name="maxInclusive">1.0</param></data></element></optional>
    </interleave></element></oneOrMore></element>
    <element name="sitemapindex"><oneOrMore><element name="sitemap"><interleave>
      <ref name="loc"/><optional><ref name="lastmod"/></optional>
    </interleave></element></oneOrMore></element>
  </choice></start>
  <define name="loc"><element name="loc"><data type="anyURI">
    <param name="minLength">12</param><param name="maxLength">2047</param></data></element></define>
  <define name="lastmod"><element name="lastmod"><choice><data type="date"/><data type="dateTime"/></choice>
  </element></define>
</grammar>""")
)
PLACE = "{http://www.sitemaps.org/schemas/sitemap/0.9}loc"
MOST = 50_000


def located(data: bytes) -> list[str]:
    """The addresses of a map that keeps the protocol."""
    root = etree.fromstring(data)
    SCHEMA.assertValid(root)
    assert len(root) <= MOST and len(data) <= 50 * 1024 * 1024
    found = [one.text or "" for one in root.iter(PLACE)]
    # All on one host, escaped as RFC 3986 has it, each once.
    assert all(address.isascii() and " " not in address for address in found)
    assert len({urlsplit(address).netloc for address in found}) == 1
    assert len(found) == len(set(found))
    return found


def test_the_map_has_every_page_that_is_to_be_found_and_no_other() -> None:
    entries = [
        entry("birdhouse", revised="2026-11-20", tags=("spring",), level="easy"),
        entry("späte-blüte", "2026-05-01"),
        entry("later", "2027-01-01"),
        entry("never", "", listed=False, unlisted="day"),
        entry("broken", listed=False, unlisted="draft"),
    ]
    made = make_library(entries, wish())
    found = set(map(unquote, located(made.files["sitemap.xml"])))
    pages = {path.removesuffix("index.html") for path in made.files if path.endswith(".html") and path != "404.html"}
    projects = {f"{ADDRESS}/{slug}/tutorial.html" for slug in ("birdhouse", "späte-blüte")}
    assert found == {f"{ADDRESS}/{page}" for page in pages} | projects


def test_a_page_was_changed_when_it_says_so() -> None:
    entries = newest_first([entry("box", "2026-03-20", revised="2026-11-20"), entry("tag", "2026-05-01")])
    days = addresses_of(entries, ["index.html", "tags/index.html"], f"{ADDRESS}/")
    assert days == {
        f"{ADDRESS}/": "2026-11-20",
        f"{ADDRESS}/tags/": "",
        f"{ADDRESS}/tag/tutorial.html": "2026-05-01",
        f"{ADDRESS}/box/tutorial.html": "2026-11-20",
    }
    root = etree.fromstring(sitemap(days, f"{ADDRESS}/")["sitemap.xml"])
    assert [len(url) for url in root] == [2, 1, 2, 2]


def test_more_pages_than_one_map_may_have_are_in_several() -> None:
    days = {f"{ADDRESS}/{number}/": "" for number in range(MOST + 1)}
    files = sitemap(days, f"{ADDRESS}/")
    assert set(files) == {"sitemap.xml", "sitemap-1.xml", "sitemap-2.xml"}
    assert located(files["sitemap.xml"]) == [f"{ADDRESS}/sitemap-1.xml", f"{ADDRESS}/sitemap-2.xml"]
    assert [*located(files["sitemap-1.xml"]), *located(files["sitemap-2.xml"])] == [*days]


@pytest.mark.parametrize(
    "broken", ["<urlset/>", "<url/>", '<urlset xmlns="x"><url><loc>https://a.example/</loc></url></urlset>']
)
def test_the_schema_notices_what_is_no_map(broken: str) -> None:
    assert not SCHEMA.validate(etree.fromstring(broken))


def test_robots_may_read_everything_and_find_the_map() -> None:
    parser = RobotFileParser()
    parser.parse(robots(f"{ADDRESS}/")["robots.txt"].decode().splitlines())
    assert parser.can_fetch("AnyBot", f"{ADDRESS}/birdhouse/tutorial.html")
    assert parser.site_maps() == [f"{ADDRESS}/sitemap.xml"]


def test_below_a_folder_of_a_host_nobody_would_ask_for_robots_txt() -> None:
    """RFC 9309, 2.3: it lies in the top-level path of the service."""
    assert robots("https://harbourstreet.example/projects/") == {}
    made = make_library([entry("box")], wish("address: https://harbourstreet.example/projects/"))
    assert "robots.txt" not in made.files
    assert "https://harbourstreet.example/projects/sitemap.xml" not in located(made.files["sitemap.xml"])
    assert "https://harbourstreet.example/projects/" in located(made.files["sitemap.xml"])


def test_the_list_of_projects_keeps_the_vocabulary() -> None:
    entries = newest_first([entry("box", "2026-03-20"), entry("tag", "2026-05-01")])
    data = item_list(entries, "Our projects")
    check({name: value for name, value in data.items() if name != "@context"})
    assert data["numberOfItems"] == len(data["itemListElement"]) == 2
    assert [(one["position"], one["url"]) for one in data["itemListElement"]] == [
        (1, f"{ADDRESS}/tag/tutorial.html"),
        (2, f"{ADDRESS}/box/tutorial.html"),
    ]


def test_it_stands_in_every_list_and_goes_on_where_a_long_one_does() -> None:
    entries = [entry(f"box-{number}", date(2026, 1, 1 + number).isoformat(), tags=("box",)) for number in range(30)]
    made = make_library(entries, wish())
    positions = []
    for path in ("index.html", "page-2.html"):
        parser = Scripts()
        parser.feed(made.files[path].decode())
        (data,) = (json.loads(one) for one in parser.found if one.startswith("{"))
        check({name: value for name, value in data.items() if name != "@context"})
        positions += [one["position"] for one in data["itemListElement"]]
    assert positions == list(range(1, 31))


def test_without_the_studios_address_addresses_are_relative_and_it_is_said() -> None:
    made = make_library([entry("box", address="", was=("old-box",))], wish(""))
    assert not {"feed.xml", "sitemap.xml", "robots.txt"} & set(made.files)
    assert "old-box/index.html" in made.files
    assert [one.code for one in made.findings] == ["library-without-address"]
    assert item_list([entry("box", address="")], "x")["itemListElement"][0]["url"] == "box/tutorial.html"
    assert b"feed.xml" not in made.files["index.html"] and b"canonical" not in made.files["old-box/index.html"]
