"""What a call of `foldwright kit` plans, without a paper being set: its `kit.json`. No test."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from foldwright.cli.app import COMMANDS
from foldwright.cli.calls import KitCall
from foldwright.cli.options import read_call
from foldwright.event.document.data import event_json
from foldwright.event.making import plan_read
from foldwright.event.reading import GivenRecipe, ListFile, read_event, read_recipes
from foldwright.event.wishes import KitWish, read_wish
from foldwright.outputs.reading import AS_WRITTEN, in_sizes, read_texts
from foldwright.outputs.sources import find_sources
from workbench.kit_schema import checked_kit


def planned_kit(folder: Path, *words: str) -> dict[str, Any]:
    """The data for the words of a call that is made in `folder`."""
    call = read_call(COMMANDS["kit"], words)
    assert isinstance(call, KitCall)
    found, wrong = find_sources([folder / path for path in call.paths])
    sources, unknown = in_sizes(found, call.size, AS_WRITTEN)
    wish = read_wish(call, len(sources))
    assert isinstance(wish, KitWish) and not wrong and not unknown
    slugs = {one.path: one.slug for one in found}
    recipes, _ = read_recipes(
        GivenRecipe(read_texts(one), one.surroundings, one.path, slugs[one.path], one.size) for one in sources
    )
    stock, guests = (
        ListFile(name, (folder / name).read_bytes()) if name else None for name in (call.stock, call.names)
    )
    reading = read_event(recipes, stock, guests, wish)
    assert reading.event is not None, reading
    return checked_kit(event_json(plan_read(reading.event, wish)))
