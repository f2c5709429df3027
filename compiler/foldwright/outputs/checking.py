"""From a recipe's texts to all that is the matter with them."""

from __future__ import annotations

from foldwright.outputs.texts import Texts
from foldwright.pipeline import Checked, check_in_size, check_recipe, in_text_order
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
    return Checked(checked.understood, in_text_order((*texts.findings, *checked.findings)))
