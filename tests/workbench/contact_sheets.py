"""Contact sheets: every form and every act, all their pictures side by side, to be looked at. Not a test."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

from playwright.sync_api import Browser

from foldwright.recipe.reading import read_recipe
from workbench.demo_pages import TOP

REFERENCE = TOP / "tests" / "cases" / "reference"
ACTS = TOP / "tests" / "cases" / "acts"
"""A recipe with a piece of each form; one with a step for each act."""
WIDTH = 1560
"""Pixels: six pictures side by side."""

_REARRANGE = """() => {
  const grid = document.createElement("div");
  for (const step of document.querySelectorAll("ol.steps > li")) {
    const pictures = [...step.querySelectorAll("figure")];
    if (!pictures.length) continue;
    const part = document.createElement("section");
    const head = document.createElement("h4");
    head.textContent = step.querySelector("h3").lastChild.textContent.trim();
    part.append(head, ...pictures);
    grid.append(part);
  }
  grid.id = "contact";
  document.body.replaceChildren(grid);
  const style = document.createElement("style");
  style.textContent = `
    body { max-width: none; margin: 12px; background: #fff }
    #contact { display: flex; flex-wrap: wrap; gap: 14px }
    #contact section { display: flex; flex-wrap: wrap; gap: 8px; border: 1px solid #ccc; padding: 8px }
    #contact h4 { width: 100%; margin: 0; font: 600 15px/1.2 sans-serif }
    #contact figure { width: 236px; margin: 0; font-size: 12px }
    #contact figure > svg { display: block !important; visibility: visible !important }
    #contact figure svg { width: 100%; height: auto }
    #contact .folding, #contact .u-metric, #contact .controls { display: none !important }`;
  document.head.append(style);
}"""
"""In the page: nothing but the pictures of the steps, each step under its name."""


def recipe_of_forms(folder: Path) -> Path:
    """The recipe of the reference, with steps that make every piece, one piece after the other."""
    recipe = Path(shutil.copytree(REFERENCE, folder / "forms")) / "recipe.md"
    text = recipe.read_text(encoding="utf-8")
    known = read_recipe(text, "recipe.md", "forms").recipe
    assert known is not None
    facts = text[: text.index("\n---\n", 4) + len("\n---\n")]
    for piece in known.pieces:
        name, form = piece.name.value, piece.fold.value.form if piece.fold else ""
        shape = f", roll {name}" if form in ("tube", "cone") else f", fold {name}" if piece.fold else ""
        glue = f", glue {name}" if form not in ("", "card", "gate", "tri-fold", "accordion", "flat") else ""
        facts += f"\n## {name.capitalize()} ({form or 'flat'})\n\ndo: cut and score {name}{shape}{glue}\n"
    recipe.write_text(facts, encoding="utf-8")
    return recipe.parent


def contact_sheet(browser: Browser, recipe: Path, built: Path, picture: Path) -> None:
    """All step pictures of a recipe on one PNG, as a page shows them."""
    words = ["build", recipe, "--out", built, "--only", "tutorial"]
    subprocess.run([sys.executable, "-m", "foldwright", *words], check=True, stdout=subprocess.DEVNULL)
    page = browser.new_page(viewport={"width": WIDTH, "height": 80}, color_scheme="light", bypass_csp=True)
    page.goto((built / recipe.name / "tutorial.html").as_uri())
    page.evaluate("document.fonts.ready")
    page.evaluate(_REARRANGE)
    page.screenshot(path=picture, full_page=True)
    page.close()
