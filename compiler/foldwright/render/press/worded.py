"""The measured blocks of a galley in the wordings of the versions."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec.structs import replace

from foldwright.render.press.content import Content, Version
from foldwright.render.press.galley import Galley
from foldwright.render.press.measured import Block


class Words:
    """Blocks put together from their parts, once for each wording."""

    def __init__(self, content: Content, galley: Galley) -> None:
        self._content = content
        self._galley = galley
        self._blocks: dict[tuple[str, tuple[str, ...]], Block] = {}
        self._more: dict[str, float] = {}

    def worded(self, name: str, version: Version) -> Block:
        """A block as it stands in a version."""
        key = name, self._content.block(name).parts(version.wordings)
        if key not in self._blocks:
            block = self._galley.blocks[name].with_parts(key[1])
            self._blocks[key] = replace(block, fixed=block.fixed + self._more.get(name, 0.0))
        return self._blocks[key]

    def raise_by(self, ems: Mapping[str, float]) -> None:
        """Reckon these blocks so much higher from now on."""
        for name, more in ems.items():
            self._more[name] = self._more.get(name, 0.0) + more
        self._blocks.clear()
