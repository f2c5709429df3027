"""A made-up library: as many recipes as are asked for, varied as a studio's own are, and no two alike.

    made_up_library(folder, count, seed)

writes `studio.yaml`, a folder for every recipe, and photographs for a third of them. The same call writes the same
bytes; recipe `number` is the same however many there are, and every one checks without anything wrong.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path
from random import Random

from bench import made_up_forms, made_up_words
from bench.made_up_forms import Project

SEED = 21
STUDIO = """\
studio: Harbour Street Paper Studio
author: The Tuesday table
licence: CC BY 4.0
money: EUR
papers: letter, A4
card thickness: 0.32 mm
address: https://harbourstreet.example
"""
_FIRST_DAY, _DAYS = date(2016, 1, 4), 3650
_PHOTOGRAPHED = 1 / 3
_IN_SIZES = 1 / 6
"""Of those whose form comes in a larger size as well."""


def made_up_library(folder: Path, count: int, seed: int = SEED, photographs: bool = True) -> None:
    """Write recipes 1 to `count` into `folder`, each into a folder of its own beside `studio.yaml`."""
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "studio.yaml").write_text(STUDIO, encoding="utf-8")
    for number in range(1, count + 1):
        home = folder / slug_of(number, seed)
        home.mkdir()
        (home / "recipe.md").write_text(recipe_text(number, seed, photographs), encoding="utf-8")
        if photographs and _photographed(number, seed):
            (home / "finished.jpg").write_bytes(_photograph(number, seed))


def slug_of(number: int, seed: int = SEED) -> str:
    """The name of a recipe's folder: what it is, and its number, since titles may come again after thousands."""
    words = made_up_words.title_of(number, _project(number, seed).noun).lower().split()
    return "-".join((*words, f"{number:05}"))


def recipe_text(number: int, seed: int = SEED, photographs: bool = True) -> str:
    """The text of recipe `number`."""
    dice, project = Random(f"words {seed} {number}"), _project(number, seed)
    photo = photographs and _photographed(number, seed)
    return "".join((*_facts(number, project, dice, photo), *_words(number, project, dice)))


def _project(number: int, seed: int) -> Project:
    return made_up_forms.project(Random(f"form {seed} {number}"))


def _photographed(number: int, seed: int) -> bool:
    return Random(f"photograph {seed} {number}").random() < _PHOTOGRAPHED


def _facts(number: int, project: Project, dice: Random, photo: bool) -> Iterator[str]:
    title = made_up_words.title_of(number, project.noun)
    yield f"---\ntitle: {title}\nsummary: {made_up_words.summary(number, project.noun, dice)}\n"
    yield f"makes: 1 {project.noun.split()[-1]}\nmeasured in: {project.unit.called}\nlevel: {project.level}\n"
    if photo:
        yield f"photo: finished.jpg\nphoto shows: {title}, finished, on a {dice.choice(made_up_words.COLOURS)} table\n"
    yield from _listing(number, project, dice)
    yield f"hush: {', '.join(made_up_forms.HUSHED)}\n"
    yield "\nsupplies:\n"
    yield from (f"  {supply}\n" for supply in project.supplies)
    yield "\ntools:\n"
    yield from (f"  - {tool}\n" for tool in project.tools)
    yield "\npieces:\n"
    yield from (f"  {line}\n" for line in project.pieces)
    if project.larger and dice.random() < _IN_SIZES:
        yield "\nsizes:\n  large:\n    summary: The same again, a good deal larger.\n"
        yield from (f"    {line}\n" for line in project.larger)
    yield "---\n"


def _listing(number: int, project: Project, dice: Random) -> Iterator[str]:
    """How a library lists it: most have been published on one day of the last years or another, some not yet."""
    tags = dice.sample((*made_up_words.TAGS, made_up_words.motif_of(number)), dice.randint(0, 3))
    yield f"tags: {', '.join([project.noun, *tags])}\n"
    if dice.random() < 0.5:
        yield f"season: {made_up_words.season_of(number)}\n"
    if dice.random() < 0.9:
        yield f"published: {_FIRST_DAY + timedelta(days=dice.randrange(_DAYS))}\n"


def _words(number: int, project: Project, dice: Random) -> Iterator[str]:
    yield f"\n{made_up_words.opening(dice)}\n"
    steps = [*project.steps, *made_up_words.endings(project, number, dice)]
    for at, step in enumerate(steps):
        minutes = dice.randint(1, 6)
        early = at == 0 and dice.random() < 0.5
        block = [f"do: {step.do}", f"time: {minutes} min", *step.facts]
        block += ["when: before class", f"get ready: {dice.randint(1, 4)} min"] if early else []
        tip = [f"tip: {made_up_words.tip(dice)}"] if dice.random() < 0.2 else []
        yield f"\n## {step.heading}\n\n```step\n" + "\n".join([*block, *tip]) + "\n```\n"
        yield f"\n{step.words}\n" if step.words else ""
    if dice.random() < 0.5:
        yield f"\n## Tips\n\n{made_up_words.tip(dice)}\n"
    if dice.random() < 0.2:
        yield f"\n## Variations\n\n{made_up_words.variation(number, dice)}\n"


def _photograph(number: int, seed: int) -> bytes:
    """Blurred patches of colour and a little grain, as large as a picture sent by telephone."""
    import io

    from PIL import Image, ImageFilter

    dice = Random(f"photograph {seed} {number} shown")
    patches = Image.frombytes("RGB", (16, 12), dice.randbytes(16 * 12 * 3)).resize(
        (1200, 900), Image.Resampling.BICUBIC
    )
    grain = Image.frombytes("L", (300, 225), dice.randbytes(300 * 225)).resize((1200, 900)).convert("RGB")
    out = io.BytesIO()
    Image.blend(patches.filter(ImageFilter.BoxBlur(2)), grain, 0.08).save(out, "JPEG", quality=82)
    return out.getvalue()
