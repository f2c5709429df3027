"""Takes the pictures of README and guide from pages just built: `python3 compiler/start.py pictures`. Not a test."""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

from PIL import Image
from playwright.sync_api import Browser, sync_playwright

from foldwright.guide import FOLDER
from foldwright.measure.length import System
from foldwright.outputs.checking import check_texts
from foldwright.outputs.reading import read_texts
from foldwright.outputs.sources import find_sources
from foldwright.pipeline import compose_document
from foldwright.render.web.blog_pictures import png
from foldwright.render.web.tutorial import draw_plan
from workbench.contact_sheets import ACTS, REFERENCE, contact_sheet, recipe_of_forms
from workbench.demo_pages import CHROMIUM_FLAGS, THEMES, TOP
from workbench.desk_pictures import take_desk

README = TOP / ".pictures"
GUIDE = FOLDER / "pictures"
SHOWN = (("birdhouse", "card", "letter"), ("twine-tag", "card", "4x6"), ("keepsake-box", "handout", "letter"))
"""What the guide shows of every theme: recipe, output, paper."""
WIDTHS = {"letter": 72, "4x6": 96}
"""Dots to the inch at which a paper is shown."""
REFERENCE_WIDTH = 480
COLOURS = 96
"""As many as a printed page needs to be shown."""


def main() -> int:
    README.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory(prefix="foldwright-pictures-") as name, sync_playwright() as playwright:
        built = Path(name)
        for theme in THEMES:
            words = [
                "build",
                TOP / "recipes",
                "--out",
                built / theme,
                "--theme",
                theme,
                "--only",
                "tutorial",
                "--no-library",
            ]
            subprocess.run([sys.executable, "-m", "foldwright", *words], check=True, stdout=subprocess.DEVNULL)
        browser = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=CHROMIUM_FLAGS)
        take(browser, built / "harbour" / "birdhouse", README / "tutorial.png", 1240, 860)
        take(browser, built / "harbour" / "birdhouse", GUIDE / "steps.png", 1240, 900, "#step-3")
        take(browser, built / "harbour" / "drawer-box", README / "phone.png", 390, 844)
        take(browser, built / "almanac" / "concertina", GUIDE / "almanac.png", 1000, 900)
        take(browser, built / "workbench" / "keepsake-box", GUIDE / "workbench.png", 1000, 900)
        show_proposals(browser, built / "proposals.html")
        take_desk(browser, GUIDE / "desk-begin.png", README / "desk.png")
        for picture in (GUIDE / "desk-begin.png", README / "desk.png"):
            shrink(picture)
        for name, recipe in {"forms": recipe_of_forms(built), "acts": ACTS}.items():
            contact_sheet(browser, recipe, built / "sheets", README / f"{name}.png")
            shrink(README / f"{name}.png")
        browser.close()
        draw_reference()
        print_template(built / "templates")
        print_gallery(built / "paper")
        shutil.copy(GUIDE / "card-letter-harbour.png", README)
        print_event(built / "event")
    return 0


def shrink(picture: Path) -> None:
    Image.open(picture).convert("RGB").quantize(COLOURS).save(picture, optimize=True)


def show_proposals(browser: Browser, page: Path) -> None:
    """The page of proposals for three treats."""
    words = ["design", "3 treats of 1 1/8 x 3/4 x 1/2 in", "--html", page]
    subprocess.run([sys.executable, "-m", "foldwright", *words], check=True, stdout=subprocess.DEVNULL)
    shown = browser.new_page(viewport={"width": 1240, "height": 900}, color_scheme="light")
    shown.goto(page.as_uri())
    shown.evaluate("document.fonts.ready")
    shown.screenshot(path=GUIDE / "design.png")
    shown.close()
    shrink(GUIDE / "design.png")


def print_template(built: Path) -> None:
    """The first page of a template."""
    words = ["build", TOP / "recipes" / "keepsake-box", "--out", built, "--only", "template", "--units", "imperial"]
    subprocess.run([sys.executable, "-m", "foldwright", *words], check=True, stdout=subprocess.DEVNULL)
    (printed,) = (built / "keepsake-box").glob("template-*.pdf")
    picture = GUIDE / "template"
    subprocess.run(["pdftoppm", "-r", "72", "-png", "-singlefile", "-f", "1", printed, picture], check=True)


def print_gallery(built: Path) -> None:
    """A card, a small card and a handout in every theme, as they come out of a printer."""
    for theme in THEMES:
        out = built / theme
        for recipe, output, paper in SHOWN:
            words = ["build", TOP / "recipes" / recipe, "--out", out, "--theme", theme, "--only", output]
            words += ["--units", "imperial", "--paper", paper]
            subprocess.run([sys.executable, "-m", "foldwright", *words], check=True, stdout=subprocess.DEVNULL)
            (printed,) = (out / recipe).glob(f"{output}-*.pdf")
            picture = GUIDE / f"{output}-{paper}-{theme}"
            dots = str(WIDTHS[paper])
            subprocess.run(["pdftoppm", "-r", dots, "-png", "-singlefile", "-f", "1", printed, picture], check=True)
            shrink(picture.with_suffix(".png"))


def print_event(built: Path) -> None:
    """A page of an event's cutting plan, and what its helpers do before class."""
    words = ["kit", TOP / "recipes" / "birdhouse", "--for", "100", "--helpers", "4", "--out", built]
    subprocess.run([sys.executable, "-m", "foldwright", *words], check=True, stdout=subprocess.DEVNULL)
    for paper, page in (("cutting-plan", "2"), ("before-class", "1")):
        printed, picture = built / "event-birdhouse" / f"{paper}-letter.pdf", GUIDE / paper
        subprocess.run(["pdftoppm", "-r", "72", "-png", "-singlefile", "-f", page, printed, picture], check=True)
        shrink(picture.with_suffix(".png"))


def draw_reference() -> None:
    """The flat plan of every piece of the reference recipe; and its mat, woven, in the place of a strip."""
    (source,), _ = find_sources([REFERENCE])
    texts = read_texts(source)
    understood = check_texts(texts, source.surroundings).understood
    assert understood is not None
    document = compose_document(understood, (), texts.by_name)
    shown = {piece.name: piece.picture for piece in document.pieces if piece.picture}
    drawings = (picture for step in document.steps for picture in step.pictures)
    del shown["strip"]
    shown["woven"] = next(picture for picture in drawings if picture.kind == "weave")
    for name, picture in shown.items():
        file = GUIDE / f"reference-{name}.png"
        file.write_bytes(png(draw_plan(picture, System.IMPERIAL), REFERENCE_WIDTH))
        shrink(file)


def take(browser: Browser, folder: Path, picture: Path, width: int, height: int, at: str = "") -> None:
    """`width` by `height` pixels of a page, from its top or from what `at` selects, as `picture`."""
    page = browser.new_page(viewport={"width": width, "height": height}, color_scheme="light")
    page.goto((folder / "tutorial.html").as_uri())
    page.evaluate("document.fonts.ready")
    if at:
        page.evaluate("at => window.scrollTo(0, document.querySelector(at).getBoundingClientRect().top - 84)", at)
    page.screenshot(path=picture)
    page.close()
    shrink(picture)


if __name__ == "__main__":
    sys.exit(main())
