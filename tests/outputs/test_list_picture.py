"""The picture a library's lists show: files of the recipe's folder, opened by libraries that did not make them."""

from __future__ import annotations

import io
import re

import pytest
from lxml import etree
from msgspec.structs import replace
from PIL import Image

from foldwright.document.model import Photograph
from foldwright.outputs.list_picture import list_picture
from foldwright.outputs.pages import tutorial_page
from foldwright.render.photos import Unusable, prepare
from workbench.compiled import RECIPES
from workbench.entries import source_of

TEXT = (RECIPES / "twine-tag" / "recipe.md").read_text(encoding="utf-8")


def photograph(wide: int, high: int) -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (wide, high), "teal").save(out, "PNG")
    return out.getvalue()


def test_a_drawing_is_an_svg_of_the_size_it_says() -> None:
    made = list_picture(source_of(TEXT, "twine-tag"))
    assert made.told
    (size,) = made.told.sizes
    root = etree.fromstring(made.files[size.file])
    assert root.tag == "{http://www.w3.org/2000/svg}svg"
    _, _, wide, high = map(float, root.get("viewBox", "").split())
    assert abs(high / wide - size.height / size.width) < 1 / size.width
    assert made.told.shows.startswith("The finished project.")


@pytest.mark.parametrize(("wide", "widths"), [(1200, [480, 960]), (700, [480, 700]), (300, [300])])
def test_a_photograph_comes_in_two_sizes_and_is_never_enlarged(wide: int, widths: list[int]) -> None:
    source = source_of(TEXT, "twine-tag")
    ready = prepare(photograph(wide, wide // 2))
    assert not isinstance(ready, Unusable)
    document = replace(source.document, photo=Photograph("tag.png", "A tag on a jar"))
    made = list_picture(replace(source, document=document, photos={"tag.png": ready}))
    assert made.told and made.told.shows == "A tag on a jar"
    assert [size.width for size in made.told.sizes] == widths
    for size in made.told.sizes:
        assert Image.open(io.BytesIO(made.files[size.file])).size == (size.width, size.height)


def test_a_photograph_that_is_none_leaves_its_place_to_the_drawing() -> None:
    source = source_of(TEXT, "twine-tag")
    broken = replace(source, document=replace(source.document, photo=Photograph("tag.png", "A tag")))
    assert list_picture(broken) == list_picture(source)


def test_beside_a_page_of_a_library_lie_its_picture_and_what_its_short_address_leads_to() -> None:
    source = source_of(TEXT, "twine-tag")
    alone = tutorial_page(replace(source, wish=replace(source.wish, in_library=False)))
    assert set(alone.files) == {"tutorial.html"}
    files = tutorial_page(source).files
    told = list_picture(source).told
    assert told
    # The list shows the very file the page does: no other drawing of the finished thing lies beside it.
    assert [name for name in files if "finished" in name] == [size.file for size in told.sizes]
    assert {name for name in files if not name.startswith("drawings/")} == {"tutorial.html", "index.html"}
    page = etree.HTML(files["index.html"])
    assert page.xpath("//a/@href") == ["tutorial.html"]
    (refresh,) = page.xpath("//meta[@http-equiv='refresh']/@content")
    assert re.fullmatch(r"0; url=tutorial\.html", refresh)
    assert page.xpath("//link[@rel='canonical']/@href") == ["https://harbourstreet.example/twine-tag/tutorial.html"]
