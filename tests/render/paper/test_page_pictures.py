"""Pages as pictures: the right size, the right way round, in their own colours. Another library writes the PDF."""

from __future__ import annotations

import io

import pikepdf
from PIL import Image

from foldwright.render.paper.page_pictures import page_pictures


def a_pdf(*pages: tuple[float, float, str]) -> bytes:
    """Pages of a width and a height in points, each with what is drawn on it in the operators of PDF."""
    written = io.BytesIO()
    with pikepdf.new() as pdf:
        for width, height, drawn in pages:
            page = pdf.add_blank_page(page_size=(width, height))
            page.Contents = pdf.make_stream(drawn.encode())
        pdf.save(written)
    return written.getvalue()


def test_a_page_is_as_wide_as_asked_and_as_high_as_its_shape_makes_it() -> None:
    upright, lying = page_pictures(a_pdf((612, 792, ""), (792, 612, "")), 900)
    assert (upright.width, lying.width) == (900, 900)
    assert abs(upright.height - 900 * 792 / 612) <= 1
    assert abs(lying.height - 900 * 612 / 792) <= 1


def test_what_is_drawn_at_the_foot_is_at_the_foot_and_in_its_colour() -> None:
    (page,) = page_pictures(a_pdf((100, 100, "1 0 0 rg 0 0 50 20 re f")), 200)
    with Image.open(io.BytesIO(page.png)) as image:
        assert image.format == "PNG" and image.size == (page.width, page.height)
        pixels = image.convert("RGB")
        assert pixels.getpixel((40, 190)) == (255, 0, 0)
        assert pixels.getpixel((160, 190)) == (255, 255, 255)
        assert pixels.getpixel((40, 10)) == (255, 255, 255)


def test_a_page_like_a_ribbon_stays_within_bounds() -> None:
    (page,) = page_pictures(a_pdf((10, 10_000, "")), 900)
    assert max(page.width, page.height) <= 4_000


def test_pages_that_look_alike_are_one_picture_and_others_are_not() -> None:
    red, again, blue, large = page_pictures(
        a_pdf(
            (100, 100, "1 0 0 rg 0 0 50 20 re f"),
            (100, 100, "1 0 0 rg 0 0 50 20 re f"),
            (100, 100, "0 0 1 rg 0 0 50 20 re f"),
            (100, 200, ""),
        ),
        200,
    )
    assert red is again
    assert red.png != blue.png
    # PDFium rounds up, and a page is asked for half a pixel smaller.
    assert (large.width, large.height) == (200, 399)
