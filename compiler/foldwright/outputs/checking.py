"""From a recipe's texts to all that is the matter with them."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec.structs import replace

from foldwright.finding import Finding, Strength
from foldwright.outputs.texts import Texts
from foldwright.pipeline import Checked, check_in_size, check_recipe, in_text_order
from foldwright.recipe.model import Recipe
from foldwright.surroundings import Surroundings


def check_texts(texts: Texts, surroundings: Surroundings, size: str = "", strict: bool = False) -> Checked:
    """A recipe checked, as it is written or in one of its sizes; without a text there is only what could not be read.

    `strict` also tells measures that match nothing.
    """
    if texts.text is None:
        return Checked(None, in_text_order(texts.findings))
    facts = (texts.text, texts.name, texts.slug)
    checked = check_recipe(*facts, texts.studio, strict, surroundings.read)
    if size and checked.understood:
        checked = check_in_size(*facts, size, checked.understood, texts.studio, surroundings.read)
    return replace(checked, findings=in_text_order((*texts.findings, *checked.findings)))


def check_every_size(texts: Texts, surroundings: Surroundings, strict: bool = False) -> Iterator[tuple[str, Checked]]:
    """A recipe checked as it is written, its photographs too, then in each of its other sizes, by the size's name.

    Of those it holds only what is not found in the recipe as written.
    """
    written = check_texts(texts, surroundings, strict=strict)
    if texts.text is None or written.understood is None:
        yield "", written
        return
    recipe = written.understood.recipe
    yield "", replace(written, findings=in_text_order((*written.findings, *_photo_findings(recipe, surroundings))))
    known = set(written.findings)
    thoughts = {(finding.code, finding.place) for finding in known}
    for size in recipe.other_sizes:
        facts = (texts.text, texts.name, texts.slug, size, written.understood, texts.studio)
        checked = check_in_size(*facts, surroundings.read)
        # A thought is the same one when other numbers stand in it.
        new = tuple(
            finding
            for finding in checked.findings
            if finding not in known
            and not (finding.strength is Strength.THOUGHT and (finding.code, finding.place) in thoughts)
        )
        thoughts |= {(finding.code, finding.place) for finding in new}
        yield size, replace(checked, findings=new)


def _photo_findings(recipe: Recipe, surroundings: Surroundings) -> tuple[Finding, ...]:
    if recipe.photo is None and all(step.photo is None for step in recipe.steps):
        return ()
    from foldwright.render.photos import check_photos

    return check_photos(recipe, surroundings.read)
