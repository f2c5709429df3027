"""What became of each recipe of a build."""

from __future__ import annotations

from enum import Enum

from msgspec import Struct

from foldwright.cli.records import Record
from foldwright.document.findings import Told
from foldwright.finding import Strength, Wrong
from foldwright.outputs.sources import Source


class Became(Enum):
    """What became of a recipe."""

    MADE = "made"
    UNCHANGED = "unchanged"
    KEPT = "kept"
    """It has an error now, and its good pages were left as they were."""
    NOTHING = "nothing"


class Outcome(Struct, frozen=True):
    """What became of one recipe, the files written, what was found, what kept it from being written.

    `record` is what is remembered, if anything was written or still stands; `notes` say what was chosen on paper.
    """

    source: Source
    became: Became
    told: tuple[Told, ...]
    written: tuple[str, ...] = ()
    stays: int = 0
    """How many files were not made anew."""
    gone: tuple[str, ...] = ()
    """Files that were taken away, as they were not asked for this time."""
    trouble: Wrong | None = None
    record: Record | None = None
    notes: tuple[str, ...] = ()

    @property
    def wrong(self) -> bool:
        """Whether it was not written, or anything found is stronger than a thought."""
        return self.trouble is not None or any(one.strength > Strength.THOUGHT for one in self.told)


class LibraryOutcome(Struct, frozen=True):
    """What could not be done round the recipes, and what there is to tell of them together. `stands` says that nothing
    there had to be made anew.
    """

    troubles: tuple[Wrong, ...] = ()
    told: tuple[Told, ...] = ()
    stands: bool = False

    @property
    def news(self) -> tuple[Told, ...]:
        """What is worth saying now: where all stands as it did, only what is wrong."""
        return tuple(one for one in self.told if one.strength > Strength.THOUGHT or not self.stands)
