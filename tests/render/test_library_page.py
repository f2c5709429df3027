"""A tutorial's page in a library: small, dressed by shared files, its photographs in sizes, its head for links."""

from __future__ import annotations

import base64
import hashlib
import random
import re
from pathlib import Path, PurePosixPath

import html5lib
import lxml.html
import pytest
from svgelements import Path as Outline

from foldwright.render.drawing.pens import INK
from foldwright.render.photo_sizes import in_sizes
from foldwright.render.photos import ReadyPhoto, prepare
from foldwright.render.themes import Room, load_theme
from foldwright.render.web.images import Image, ImageFiles, as_files
from foldwright.render.web.shared import shared_files, shared_look
from foldwright.render.web.style_rules import about_drawings
from foldwright.render.web.tight import UNITS, Tightener, as_file, rings_of, way_of
from foldwright.render.web.tutorial import library_page, tutorial
from workbench.compiled import RECIPES, demo
from workbench.handmade import no_photo
from workbench.library_pages import opened, pages_of, photographed, wish
from workbench.long import LONG, tries

THEMES = ("almanac", "harbour", "workbench")
HEAVIEST = ("birdhouse", "keepsake-box")
MOST_BYTES = 60_000
OPENING, CLOSING = "<!--of the library-->", "<!--/of the library-->"


@pytest.fixture(scope="module")
def demos() -> dict[str, dict[str, dict[str, bytes]]]:
    """By look and slug, the files of the demo recipes: all of them in the look whose pages are heaviest, and the two
    heaviest in every look; on a long run all in all."""
    every = {theme: LONG or theme == "almanac" for theme in THEMES}
    folders = {theme: [RECIPES] if every[theme] else [RECIPES / name for name in HEAVIEST] for theme in THEMES}
    return {
        theme: {slug: files for folder in folders[theme] for slug, files in pages_of(folder, wish(theme)).items()}
        for theme in THEMES
    }


@pytest.fixture(scope="module")
def birdhouse(tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    """The files of one with photographs."""
    return pages_of(photographed(tmp_path_factory.mktemp("photographed")), wish("harbour"))["birdhouse"]


def page(files: dict[str, bytes]) -> str:
    return files["tutorial.html"].decode("utf-8")


def addresses(html: str) -> set[str]:
    """Every file a page names, read by a parser that had no part in writing it."""
    root = lxml.html.document_fromstring(html)
    found = set(root.xpath("//img/@src | //image/@href | //link[@rel='stylesheet']/@href | //script/@src"))
    for choice in root.xpath("//@srcset"):
        found |= {one.split()[0] for one in choice.split(", ")}
    return found


def test_no_page_is_heavier_than_it_may_be(demos: dict[str, dict[str, dict[str, bytes]]]) -> None:
    weights = {
        (theme, slug): len(files["tutorial.html"]) for theme, made in demos.items() for slug, files in made.items()
    }
    assert len(weights) == (3 * 7 if LONG else 7 + 2 * 2)
    assert {one: weight for one, weight in weights.items() if weight > MOST_BYTES} == {}


def test_all_it_names_is_there_and_nothing_is_there_for_nobody(
    demos: dict[str, dict[str, dict[str, bytes]]], birdhouse: dict[str, bytes]
) -> None:
    pages = [(theme, files) for theme, made in demos.items() for files in made.values()]
    for theme, files in [*pages, ("harbour", birdhouse)]:
        named = addresses(page(files))
        assert {one for one in named if one.startswith("../")} == {f"../{path}" for path in shared_look(theme).files}
        beside = {one for one in named if not one.startswith("../")}
        assert beside <= set(files)
        assert beside == {name for name in files if name.startswith(("photos/", "drawings/"))}


@pytest.mark.parametrize("theme", THEMES)
def test_it_parses_and_keeps_a_place_for_the_library(demos: dict[str, dict[str, dict[str, bytes]]], theme: str) -> None:
    html = page(demos[theme]["birdhouse"])
    html5lib.HTMLParser(strict=True).parse(html)
    assert html.count(OPENING + CLOSING) == 1
    assert html.rindex('<section class="section') < html.index(OPENING) < html.index("</main>") < html.index("<footer")
    ids = re.findall(r'\sid="?([^"\s>]+)', html)
    assert len(ids) == len(set(ids))


def test_a_page_alone_has_none_of_it() -> None:
    alone = pages_of(RECIPES / "twine-tag", wish("harbour", in_library=False))["twine-tag"]
    assert set(alone) == {"tutorial.html"}
    html = page(alone)
    assert "og:" not in html and OPENING not in html and "library" not in html
    assert addresses(html) == set()
    assert alone["tutorial.html"] == tutorial(demo("twine-tag"), "harbour", no_photo)


def test_pages_of_one_look_share_its_files_and_their_names_tell_what_is_in_them() -> None:
    files = shared_files(["harbour", "almanac", "harbour"])
    assert len(files) == 3  # a style for each, one script
    for path, data in files.items():
        assert PurePosixPath(path).stem.rsplit("-", 1)[1] == hashlib.sha256(data).hexdigest()[:10]
    style = files[shared_look("harbour").style].decode("utf-8")
    assert style.count("@font-face") == load_theme("harbour").style.count("@font-face") == 4
    # Faces stand inside: Firefox loads none from another file (Mozilla bug 1558299, CVE-2019-11730; from memory).
    assert set(re.findall(r"url\((\w+):", style)) == {"data"} and "@import" not in style


def test_the_look_of_a_folder_of_the_users_own(tmp_path: Path) -> None:
    mine = tmp_path / "Our Look!"
    mine.mkdir()
    (mine / "theme.toml").write_text('parent = "workbench"\n', encoding="utf-8")
    (mine / "page.css").write_text(":root { --plan-ink : #123456 }", encoding="utf-8")
    look = shared_look(str(mine))
    assert re.fullmatch(r"assets/our-look-[0-9a-f]{10}\.css", look.style)
    made = library_page(demo("twine-tag"), str(mine), no_photo)
    assert f'href="../{look.style}"'.encode() in made["tutorial.html"]
    drawings = [data for name, data in made.items() if name.endswith(".svg")]
    assert drawings and any(b"--plan-ink:#123456" in data for data in drawings)


def test_the_policy_allows_what_lies_in_the_library_and_what_stands_in_the_page(birdhouse: dict[str, bytes]) -> None:
    """Hashes as CSP Level 3 has them, worked out here a second way."""
    root = lxml.html.document_fromstring(page(birdhouse))
    said = root.xpath("//meta[@http-equiv='Content-Security-Policy']/@content")[0]
    policy = {name: set(values) for name, *values in (one.split() for one in said.split("; "))}
    assert policy["default-src"] == policy["base-uri"] == policy["form-action"] == {"'none'"}
    assert policy["img-src"] == {"'self'", "file:", "data:"} and policy["font-src"] == {"data:"}
    inside = {"style-src": root.xpath("//style/text()"), "script-src": root.xpath("//script[not(@src)]/text()")}
    for directive, texts in inside.items():
        assert len(texts) == 1
        digest = base64.b64encode(hashlib.sha256(texts[0].encode("utf-8")).digest()).decode()
        assert f"'sha256-{digest}'" in policy[directive]
        assert {"'self'", "file:"} <= policy[directive]
        assert all(one in ("'self'", "file:") or one.startswith("'sha256-") for one in policy[directive])


# --- photographs ------------------------------------------------------------------------------------------------------


def choices(html: str) -> list[tuple[str, int]]:
    found = lxml.html.document_fromstring(html).xpath("//@srcset")
    pairs = [one.split() for choice in found for one in choice.split(", ")]
    return [(address, int(width.removesuffix("w"))) for address, width in pairs]


def test_every_size_is_what_it_says_upright_and_silent(birdhouse: dict[str, bytes]) -> None:
    offered = choices(page(birdhouse))
    kinds = set()
    for address, width in offered:
        image = opened(birdhouse[address])
        assert image.width == width
        assert dict(image.getexif()) == {} and not {"icc_profile", "exif", "xmp"} & set(image.info)
        kinds.add((PurePosixPath(address).suffix, image.format))
    assert kinds == {(".webp", "WEBP"), (".jpg", "JPEG"), (".png", "PNG")}
    # Taken on its side, 1000 x 1500: as it was held it is 1500 across, made 1200.
    box = [opened(birdhouse[address]) for address, _ in offered if "the-box" in address]
    assert {one.width for one in box} == {240, 480, 800, 1200}
    assert all(abs(one.width / one.height - 1.5) < 0.01 for one in box)
    upright = [opened(birdhouse[address]) for address, _ in offered if "score" in address]
    assert {one.width for one in upright} == {240, 480, 700} and all(one.height > one.width for one in upright)


def test_what_is_seen_through_stays_so_and_colours_stay_what_they_are(birdhouse: dict[str, bytes]) -> None:
    marks = [opened(data) for name, data in birdhouse.items() if "mark" in name]
    assert {one.format for one in marks} >= {"PNG"}
    for one in marks:
        seen = one.convert("RGBA")
        assert seen.getpixel((1, 1))[3] == 0  # type: ignore[index]
        inside = seen.getpixel((one.width // 2, one.height // 2))
        assert all(abs(got - meant) <= 4 for got, meant in zip(inside, (11, 85, 99, 255), strict=True))  # type: ignore[arg-type]


def test_webp_is_smaller_or_not_offered() -> None:
    ready = prepare((RECIPES / "birdhouse" / "finished.png").read_bytes())
    assert isinstance(ready, ReadyPhoto)
    sizes = in_sizes(ready)
    assert sizes.plain[-1] == ready
    assert 0 < sum(len(one.data) for one in sizes.webp) < sum(len(one.data) for one in sizes.plain)
    assert [one.width for one in sizes.plain] == sorted(one.width for one in sizes.plain)
    tiny = prepare(_png(3, 2))
    assert isinstance(tiny, ReadyPhoto)
    assert [(one.width, one.height) for one in in_sizes(tiny).plain] == [(3, 2)]


def _png(width: int, height: int) -> bytes:
    from io import BytesIO

    from PIL import Image as Pictures

    out = BytesIO()
    Pictures.new("RGB", (width, height), "teal").save(out, "PNG")
    return out.getvalue()


def test_the_first_picture_is_asked_for_at_once_and_others_when_they_come_near(birdhouse: dict[str, bytes]) -> None:
    first, *others = lxml.html.document_fromstring(page(birdhouse)).xpath("//img")
    assert first.get("fetchpriority") == "high" and first.get("loading") is None
    assert len(others) > 10 and all(one.get("loading") == "lazy" for one in others)
    assert all(int(one.get("width")) and int(one.get("height")) for one in (first, *others))
    assert all(one.get("alt") is not None for one in (first, *others))


def test_a_room_bounds_a_photograph_by_its_width_height_and_its_own_size() -> None:
    """Worked out by hand: 1000 x 500, so that 100 high is 200 across."""
    image = Image("a.jpg", 1000, 500, "A box", ImageFiles("image/jpeg", ((480, "b.jpg"), (1000, "a.jpg"))))
    rooms = (Room("50vw", "60rem", high=100), Room("90vw", "30rem", fill=300), Room("100vw - 10px"))
    from msgspec.structs import replace

    drawn = lxml.html.fragment_fromstring(replace(image, rooms=rooms).markup)
    assert drawn.get("sizes") == (
        "(min-width:60rem) min(50vw, 200px), (min-width:30rem) max(90vw, 600px), min(100vw - 10px, 1000px)"
    )
    assert drawn.get("srcset") == "b.jpg 480w, a.jpg 1000w"


def test_two_photographs_of_one_name_do_not_share_a_file() -> None:
    one, other = (as_files("a b.png", ReadyPhoto(_png(*size), "png", *size))[1] for size in ((30, 20), (30, 10)))
    assert not set(one) & set(other)


# --- for links --------------------------------------------------------------------------------------------------------


def properties(html: str) -> dict[str, str]:
    metas = html5lib.parse(html, namespaceHTMLElements=False).iter("meta")
    found = [(one.get("property"), one.get("content")) for one in metas if one.get("property")]
    single = dict(found)
    assert len(single) == len([one for one in found if one[0] != "article:tag"]) + ("article:tag" in single)
    return single


def test_open_graph_has_what_it_requires(birdhouse: dict[str, bytes]) -> None:
    """The four properties that ogp.me requires of every page, and those of an image and an article."""
    said = properties(page(birdhouse))
    assert said["og:type"] == "article" and said["og:title"] == "Birdhouse favour box"
    folder = "https://harbourstreet.example/birdhouse/"
    assert said["og:url"] == f"{folder}tutorial.html"
    assert said["og:image"].startswith(folder + "photos/the-box-")
    image = opened(birdhouse[said["og:image"].removeprefix(folder)])
    assert (said["og:image:width"], said["og:image:height"]) == tuple(map(str, image.size))
    assert said["og:image:type"] == "image/jpeg" and said["og:image:alt"]
    assert said["og:locale"] == "en_US" and re.fullmatch(r"\d{4}-\d\d-\d\d", said["article:modified_time"])


def test_the_picture_for_sharing_stands_for_the_page_where_one_is_made() -> None:
    files = library_page(demo("birdhouse"), "harbour", no_photo, shared=True)
    said = properties(page(files))
    assert said["og:image"] == "https://harbourstreet.example/birdhouse/share-1200x630.jpg"
    assert (said["og:image:width"], said["og:image:height"]) == ("1200", "630")
    assert said["og:image:alt"]


def test_without_an_address_nothing_is_said_that_needs_one(tmp_path: Path) -> None:
    (tmp_path / "twine-tag").mkdir()
    text = (RECIPES / "twine-tag" / "recipe.md").read_text(encoding="utf-8")
    (tmp_path / "twine-tag" / "recipe.md").write_text(text, encoding="utf-8")
    html = page(pages_of(tmp_path, wish("harbour"))["twine-tag"])
    said = properties(html)
    assert said["og:title"] == "Gift tag with twine" and not {"og:url", "og:image"} & set(said)
    assert 'rel="alternate"' not in html and 'rel="canonical"' not in html


# --- drawings in fewer letters ----------------------------------------------------------------------------------------


def test_a_way_leads_through_the_same_points() -> None:
    """Random lines, read back by svgelements, which had no part in writing them."""
    dice = random.Random(9)
    for _ in range(tries(60, 2000)):
        rings = [
            ([(dice.uniform(0, 90), dice.uniform(0, 90)) for _ in range(dice.randint(2, 9))], dice.random() < 0.5)
            for _ in range(dice.randint(1, 4))
        ]
        written = "".join(
            "M" + "L".join(f"{x:.2f} {y:.2f}" for x, y in points) + ("Z" if closed else "") for points, closed in rings
        )
        for way, unit in ((written, 1), (way_of(rings_of(written)), UNITS)):
            seen = [one.end for one in Outline(way) if one.end is not None]
            assert len(seen) == sum(len(points) + closed for points, closed in rings)
            meant = [spot for points, closed in rings for spot in (points + points[:1] if closed else points)]
            for got, (x, y) in zip(seen, meant, strict=True):
                # Half a unit, and what the first writing rounds.
                assert abs(got.x / unit - x) <= 0.5 / UNITS + 0.006
                assert abs(got.y / unit - y) <= 0.5 / UNITS + 0.006


@pytest.mark.parametrize("way", ["m1 2l3 4-1-1h5v-2z", "M1 2 4 6 3 5H8V3Z", "M1 2L4 6m0 0l-1-1z"])
def test_relative_ways_are_read_as_the_standard_has_them(way: str) -> None:
    ends = [(round(one.end.x, 6), round(one.end.y, 6)) for one in Outline(way) if one.end is not None]
    ours = [spot for points, closed in rings_of(way) for spot in (points + points[:1] if closed else points)]
    assert ours == ends


def test_after_a_closed_line_the_next_begins_where_it_began() -> None:
    """SVG 2, 9.3.4, by hand: from (1, 2) two to the right."""
    assert rings_of("M1 2L4 6zl2 0") == [([(1, 2), (4, 6)], True), ([(1, 2), (3, 2)], False)]


def test_what_is_no_straight_line_is_left_as_it_is() -> None:
    curve = '<path class="edge" d="M1 2A3 3 0 0 1 4 5"/>'
    assert rings_of("M1 2A3 3 0 0 1 4 5") == []
    assert "A3 3 0 0 1 4 5" in Tightener().tight(curve)


def test_a_look_that_is_not_the_usual_one_is_still_said() -> None:
    drawn = f'<path class="edge" fill="none" stroke="{INK}" stroke-width="0.18" stroke-linejoin="round" d="M1 1L2 2"/>'
    small = Tightener().tight(drawn)
    assert "stroke-width=4" in small or 'stroke-width="4"' in small
    assert "stroke=" not in small and "fill" not in small


def test_marks_are_told_once_and_stand_where_they_stood() -> None:
    corners = [(0.0, -0.6), (0.6, 0.0), (0.4, 0.5), (-0.4, 0.5), (-0.6, 0.0)]
    places = [(3.4 * column + 5, 3.4 * row + 5) for row in range(3) for column in range(4)]
    way = "".join("M" + "L".join(f"{x + u:.2f} {y + v:.2f}" for u, v in corners) + "Z" for x, y in places)
    small = Tightener().tight(f'<path class="print" fill="#abc" fill-opacity="0.6" fill-rule="evenodd" d="{way}"/>')
    assert small.count("<marker ") == 1 and len(small) < len(way) / 2
    line = re.search(r'<path class=marks [^>]*d="([^"]+)"', small)
    assert line
    between = [one.end for one in Outline(line[1])][1:-1]
    assert [(round(one.x / UNITS, 1), round(one.y / UNITS, 1)) for one in between] == [
        (round(x, 1), round(y - 0.6, 1)) for x, y in places
    ]


def test_a_drawing_alone_knows_the_colours_of_its_look_by_day_and_by_night() -> None:
    style = """/* { */ :root{--plan-ink:var(--ink);--ink:#111;--other:#222}
        .drawing .line{stroke:var(--plan-ink,#000)} .drawing .dim{fill:red} .steps .drawing{width:1px}
        @media (prefers-color-scheme:dark){:root{--ink:#eee}.drawing .line.cut{stroke:#f00}}"""
    said = about_drawings(style, frozenset({"line", "cut"}))
    assert said == (
        ":root{--plan-ink:var(--ink);--ink:#111}@media (prefers-color-scheme:dark){:root{--ink:#eee}}"
        ".drawing .line{stroke:var(--plan-ink,#000)}"
        "@media (prefers-color-scheme:dark){.drawing .line.cut{stroke:#f00}}"
    )
    drawn = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 4.00 2.00"><path class="line cut" d="M1 1V2"/></svg>'
    file = as_file(drawn, lambda names: f"/*{sorted(names)}*/")
    assert "/*['cut', 'drawing', 'line']*/" in file
    assert lxml.html.etree.fromstring(file).get("viewBox") == "0 0 80 40"


def test_a_photograph_named_twice_is_written_once(birdhouse: dict[str, bytes]) -> None:
    written = [name for name in birdhouse if "the-box" in name]
    assert len(written) == len(set(written)) == 8
