"""The measured blocks of a galley in the wordings of the versions, mended by what is seen when they are laid out."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec.structs import replace

from foldwright.render.paper.content import Content, Version
from foldwright.render.paper.galley import Galley
from foldwright.render.paper.measured import Block

CONFIRMATIONS = 8
"""How often a page is laid out anew because a line broke elsewhere than reckoned; once is rare."""
HAIR_MM = 0.05
"""By so little a block may come out higher than reckoned: lengths in styles are written to a thousandth."""


class VersionBlocks:
    """Blocks put together from their parts, once for each wording."""

    def __init__(self, content: Content, galley: Galley) -> None:
        self._content = content
        self._galley = galley
        self._blocks: dict[tuple[str, tuple[str, ...]], Block] = {}
        self._more: dict[str, float] = {}

    def block_of(self, name: str, version: Version) -> Block:
        """A block as it stands in a version. What a theme of one's own does not set takes no room."""
        key = name, self._content.block(name).parts(version.wordings)
        if key not in self._blocks:
            block = self._galley.blocks.get(name, Block(name, (), 0.0))
            block = block.with_parts(part for part in key[1] if part in block.parts)
            self._blocks[key] = replace(block, fixed=block.fixed + self._more.get(name, 0.0))
        return self._blocks[key]

    def raise_by(self, ems: Mapping[str, float]) -> None:
        """Reckon these blocks so much higher from now on."""
        for name, more in ems.items():
            self._more[name] = self._more.get(name, 0.0) + more
        self._blocks.clear()


def risen(seen: Mapping[str, float], reckoned: Mapping[str, float], em: float) -> dict[str, float]:
    """Blocks that came out higher than reckoned, and by how many ems; the heights and the em are in millimetres."""
    more = {name: seen[name] - high for name, high in reckoned.items() if name in seen}
    return {name: over / em for name, over in more.items() if over > HAIR_MM}
