"""Recipes of ten steps made by number, no two alike, and pages of ten headings with the same words for comparison."""

from __future__ import annotations

from pathlib import Path

STEPS = 10

_FRONT = """\
---
title: Practice box {number}
summary: A plain tray with a lining and a label, made again and again to see how long it takes.
makes: 1 box
measured in: inches
level: easy

supplies:
  blue card: cardstock, weight 100 lb cover, sheet 12 x 12 in, pack 24 sheets at 8.40
  lining paper: patterned paper, sheet 12 x 12 in, pack 12 sheets at 6.80
  strong tape: double-sided tape, width 1/4 in, use 12 in, pack 27 yd at 4.00

tools:
  - paper trimmer with scoring blade
  - small sharp scissors
  - bone folder

pieces:
  base:
    from: blue card
    size: {across} x 5 in
    across: 1 1/8 left end | rest floor | 1 1/8 right end
    down: 1 1/8 front | 2 3/4 floor | 1 1/8 back
    flaps: joined to front and back
    fold: tray
  lining:
    from: lining paper
    size: {lining} x 2 5/8 in
    goes on: inside of base floor
  label:
    from: lining paper
    size: 1 3/8 x 1 3/8 in
    goes on: outside of base front
---

Made for practice, {number} times over.
"""

_STEPS = (
    ("Cut the base", "cut base", "Cut the blue card to {across} x 5 in."),
    ("Score the base", "score base", "Score 1 1/8 in from each edge, all the way round."),
    ("Cut the flaps free", "slit base", "Make four cuts, each 1 1/8 in long, from the short edges to the first score."),
    ("Fold the walls", "fold base", "Fold every score away from you and rub it down with the bone folder."),
    ("Tape the flaps", "tape base", "Put a strip of tape, 1 in long, on the outside of each flap."),
    ("Cut the lining", "cut lining", "Cut the lining paper to {lining} x 2 5/8 in."),
    ("Put the lining in", "tape lining to base", "Tape the lining to the floor, 1/16 in from the walls."),
    ("Cut the label", "cut label", "Cut a label 1 3/8 x 1 3/8 in from what is left of the lining paper."),
    ("Put the label on", "tape label to base", "Tape the label to the middle of the front wall."),
    ("Press it together", "press base", "Lift the walls, press the corners and hold them until they stay."),
)


def recipe(number: int) -> str:
    """The text of recipe `number`: ten steps, three pieces, sizes of its own."""
    sizes = _sizes(number)
    steps = [
        f"\n## {heading}\n\n```step\ndo: {do}\ntime: 2 min\n```\n\n{words.format(**sizes)}\n"
        for heading, do, words in _STEPS
    ]
    return _FRONT.format(number=number, **sizes) + "".join(steps)


def page(number: int) -> str:
    """A Markdown page of ten headings with the same words."""
    sizes = _sizes(number)
    steps = [f"\n## {heading}\n\n{words.format(**sizes)}\n" for heading, _do, words in _STEPS]
    return f"# Practice box {number}\n\nMade for practice, {number} times over.\n" + "".join(steps)


def _sizes(number: int) -> dict[str, str]:
    """Across from 6 to 11 in by sixteenths; the lining is smaller than the floor by 1/8 in."""
    sixteenths = number % 80
    across, lining = 6 * 16 + sixteenths, 6 * 16 + sixteenths - 38
    return {"across": _inches(across), "lining": _inches(lining)}


def _inches(sixteenths: int) -> str:
    whole, part = divmod(sixteenths, 16)
    below = 16
    while part and part % 2 == 0:
        part, below = part // 2, below // 2
    return f"{whole} {part}/{below}" if part else str(whole)


def write_recipes(folder: Path, count: int) -> None:
    for number in range(1, count + 1):
        home = folder / f"practice-{number:03}"
        home.mkdir(parents=True)
        (home / "recipe.md").write_text(recipe(number), encoding="utf-8")


def write_pages(folder: Path, count: int) -> None:
    """A MkDocs project with `count` pages and nothing but the defaults."""
    docs = folder / "docs"
    docs.mkdir(parents=True)
    (folder / "mkdocs.yml").write_text("site_name: Practice\nuse_directory_urls: true\n", encoding="utf-8")
    (docs / "index.md").write_text("# Practice\n", encoding="utf-8")
    for number in range(1, count + 1):
        (docs / f"practice-{number:03}.md").write_text(page(number), encoding="utf-8")
