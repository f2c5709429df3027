"""In which manner things in space are drawn: in flat tones, on a shadow, or as an engraver would."""

from __future__ import annotations

from enum import Enum

from foldwright.geometry.scene import Scene, on_ground


class DrawingManner(Enum):
    """How a look draws what stands in space. Flat plans are drawn alike by all."""

    PLAIN = "plain"
    """Each side in a flat tone, darker the farther it is turned from the light."""
    SHADOW = "shadow"
    """The same, on a pale shadow on the ground."""
    ENGRAVED = "engraved"
    """Each side in the colour of its paper, its shade in fine parallel strokes."""

    def posed(self, scene: Scene) -> Scene:
        """The scene with as much round it as the manner needs."""
        return on_ground(scene) if self is DrawingManner.SHADOW else scene
