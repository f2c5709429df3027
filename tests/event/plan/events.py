"""Small events for the tests of planning, from recipes as authors write them. Not a test."""

from __future__ import annotations

from foldwright.event.plan.model import Making, WorkedRecipe
from foldwright.measure.length import System
from foldwright.pipeline import check_recipe
from foldwright.recipe.facts.studio import read_studio

STUDIO = read_studio("studio: Harbour Street Paper Studio\nmoney: EUR\n", "studio.yaml")[0]
TRAY = "  p:\n    from: card\n    size: 100 x 140 mm\n"
STEPS = "## Cut\n\ndo: cut p\ntime: 2 min\nwhen: before class\n\nCut.\n\n## Tie\n\ndo: tie p\ntime: 2 min\n\nTie.\n"


def recipe_text(supplies: str, tools: str = "", pieces: str = TRAY, steps: str = STEPS, title: str = "Tray") -> str:
    """`supplies` and `tools` a line each, without their indents; the card is given unless it is said."""
    lines = [line for line in supplies.splitlines() if line.strip()]
    if not any(line.startswith("card:") for line in lines) and "from: card" in pieces:
        lines.insert(0, "card: cardstock, sheet A4, pack 10 sheets at 2.00")
    listed = "".join(f"  - {line}\n" for line in tools.splitlines() if line.strip())
    return (
        f"---\ntitle: {title}\nmakes: 1 tray\nmeasured in: millimetres\nsupplies:\n"
        + "".join(f"  {line}\n" for line in lines)
        + (f"tools:\n{listed}" if listed else "")
        + (f"pieces:\n{pieces}" if pieces else "")
        + f"---\n\n{steps}"
    )


def making_of(
    text: str, kits: int, slug: str = "tray", spare: int = 0, system: System = System.METRIC, file: str = "recipe.md"
) -> Making:
    understood = check_recipe(text, file, slug, STUDIO).understood
    assert understood is not None
    worked = WorkedRecipe(understood.recipe, understood.flat, understood.times)
    return Making(worked, understood.figures[system], kits, spare)
