"""Recipes to print, made at random: one step or forty, long or short words, with pictures or without. Not a test.

They are of the invented Harbour Street Paper Studio, as all our recipes; what they say makes no sense.
"""

from __future__ import annotations

import io
from collections.abc import Mapping
from random import Random

from msgspec import Struct
from PIL import Image, ImageDraw

from foldwright.document.model import Document
from foldwright.pipeline import Checked
from foldwright.render.photos import ReadyPhoto, prepare_photos
from workbench.compiled import compiled

SHORT = "a to of in on it and the fold card glue trim edge flap side tape so that with from each press rub turn".split()
LONG = (
    "accordion-pleated double-sided watercolour-coated Candlemaking embellishments straightforward counterclockwise "
    "reinforcement symmetrically Weihnachtsgeschenkpapier burnished-and-creased perpendicularly approximately"
).split()
MEASURES = ("3 1/4 in", "12 mm", "5 x 4 1/4 in", "1/16 in", "105 mm", "2 1/2 to 3 in", "7/8 in")
DRESSED = ("*slowly*", "**never**", "`A-4`", "*good side up*", "[the page](https://harbourstreet.example/fold)", "“so”")
ACTS = ("cut", "score", "fold", "tape", "punch", "stick", "slit", "pierce", "emboss", "wrap", "tie", "hot glue")
TOOLS = (
    "paper trimmer with scoring blade", "small sharp scissors", "bone folder", "craft knife", "hot glue gun", "awl",
    "1 in circle punch, instead a coin to draw round and small scissors", "heat tool", "stapler", "pencil",
)  # fmt: skip
SUPPLIES = (
    "cotton twine: twine, use 36 in", "strong tape: double-sided tape, width 1/4 in, use 12 in",
    "foam square: foam adhesive, use 4", "ink pad: ink, colour brown or plum, use a little, optional",
    "caramel: wrapped sweet, use 3, size 1 x 5/8 x 1/2 in, contains milk", "spray: spray adhesive, instead glue stick",
    "toffee: wrapped sweet, use 2", "mint: wrapped sweet, use 5, contains nothing to declare", "brad: brad, use 8",
    "praline: wrapped sweet, use 2, contains milk and hazelnuts",
    "satin ribbon: ribbon, use 2 yd",
)  # fmt: skip
SHAPES = ((600, 400), (400, 600), (640, 640), (1200, 150), (90, 1100), (60, 40), (1, 9000), (800, 799))
"""Photographs in pixels: ordinary ones, and some that are hard to place or cannot be printed at all."""


class Written(Struct, frozen=True):
    """A recipe as its author has it: the text, and the photographs beside it."""

    text: str
    files: Mapping[str, bytes]

    def compiled(self) -> tuple[Document, Checked, Mapping[str, ReadyPhoto]]:
        """The sheet, what was known before, and the photographs made ready."""
        sheet, checked = compiled(self.text)
        assert checked.recipe is not None
        photos, _ = prepare_photos(checked.recipe, lambda path, most: self.files[path])
        return sheet, checked, photos


def recipe_of(random: Random, most_steps: int = 40) -> Written:
    """A recipe; the smaller the numbers drawn, the plainer it is."""
    return _Author(random, most_steps).write()


def photograph(width: int, height: int, shade: int = 0) -> bytes:
    """A picture of that many pixels, as PNG: a chequered sheet, so that it is seen which way up it is."""
    image = Image.new("RGB", (width, height), (210 - shade, 190, 170 + shade))
    draw = ImageDraw.Draw(image)
    for at in range(0, max(width, height), max(8, max(width, height) // 12)):
        draw.line((at, 0, 0, at), fill=(90, 60 + shade, 50), width=3)
    draw.rectangle((0, 0, width // 4, height // 4), fill=(40, 40, 60))
    out = io.BytesIO()
    image.save(out, "PNG")
    return out.getvalue()


class _Author:
    def __init__(self, random: Random, most_steps: int) -> None:
        self._random = random
        self._steps = random.choice((random.randint(1, 3), random.randint(3, 10), random.randint(1, most_steps)))
        self._wordy = random.choice((4, 8, 12, 30, 60) if self._steps < 12 else (4, 8, 12, 20))
        self._plans = random.choice((0, 0, 1, 2, 4, 10))
        self._photos = random.choice((0, 0, 1, 3, 10))
        self._tongue = random.choice((SHORT, SHORT, SHORT + LONG, LONG))
        self._files: dict[str, bytes] = {}

    def write(self) -> Written:
        often, random = self._often, self._random
        front = [
            f"title: {self._title()}",
            *([f"summary: {self._sentence(self._wordy)}"] if often(0.7) else []),
            *(["makes: 1 box"] if often(0.8) else []),
            f"measured in: {random.choice(('inches', 'millimetres'))}",
            *(["level: easy"] if often(0.6) else []),
            *(["for: children under three"] if often(0.2) else []),
            *(["revised: 2026-11-20"] if often(0.7) else []),
            *(self._photo("finished") if often(0.4) else []),
            *self._supplies(),
            *self._tools(),
            *self._pieces(),
        ]
        steps = [self._step(number) for number in range(1, self._steps + 1)]
        sections = [f"## {name}\n\n{self._passage()}" for name in ("Tips", "Notes", "Before you start") if often(0.25)]
        body = "\n\n".join([self._sentence(self._wordy), *steps, *sections])
        return Written("---\n" + "\n".join(front) + f"\n---\n\n{body}\n", self._files)

    # --- what stands above the words --------------------------------------------------------------------------------

    def _title(self) -> str:
        if self._often(0.1):
            return " ".join(self._random.choice(SHORT) for _ in range(60)).capitalize()
        return " ".join(self._random.choice(self._tongue) for _ in range(self._random.randint(1, 9))).capitalize()

    def _supplies(self) -> list[str]:
        card = ["  charcoal card: cardstock, weight 100 lb cover, sheet 8 1/2 x 11 in or A4, grain long"]
        more = self._random.sample(SUPPLIES, self._random.choice((0, 2, len(SUPPLIES))))
        if not self._plans and not more and self._often(0.5):
            return []
        return [
            "supplies:",
            *(card if self._plans or self._often(0.5) else []),
            *(f"  {one}" for one in more or SUPPLIES[:1]),
        ]

    def _tools(self) -> list[str]:
        tools = self._random.sample(TOOLS, self._random.choice((0, 2, 4, len(TOOLS))))
        return ["tools:", *(f"  - {tool}" for tool in tools)] if tools else []

    def _pieces(self) -> list[str]:
        found = ["pieces:"] if self._plans else []
        for number in range(self._plans):
            kind = self._random.choice(("tray", "card", "strip", "flat", "sleeve"))
            wide, high = self._random.randint(60, 120), self._random.randint(60, 150)
            found += [f"  piece {number}:", "    from: charcoal card", f"    count: {self._random.choice((1, 1, 2))}"]
            if kind == "tray":
                found += [
                    f"    across: 20 mm left | {wide} mm floor | 20 mm right",
                    f"    down: 25 mm | {high} mm | 25 mm",
                ]
                found += ["    flaps: joined to top and bottom", "    fold: tray"]
            elif kind == "card":
                found += [f"    across: {wide} mm back | {wide} mm front", f"    down: {high} mm", "    fold: card"]
            elif kind == "strip":
                found += ["    across: 8 of 30 mm", f"    down: {high} mm", "    fold: accordion"]
            elif kind == "sleeve":
                found += [
                    "    across: 60 mm | 20 mm | 60 mm | 20 mm | 15 mm glue flap",
                    f"    down: {high} mm",
                    "    fold: sleeve",
                ]
            else:
                found += [f"    size: {wide} x {high} mm", "    holes: round 10 mm, centred, middle 15 mm from the top"]
        return found

    # --- steps and sections -----------------------------------------------------------------------------------------

    def _step(self, number: int) -> str:
        often, random = self._often, self._random
        piece = f"piece {random.randrange(self._plans)}" if self._plans else ""
        facts = [
            *([f"do: {random.choice(ACTS)} {piece}".strip()] if often(0.7) else []),
            *([f"time: {random.randint(1, 90)} min"] if often(0.6) else []),
            *(["when: before class"] if often(0.2) else []),
            *(["wait: 10 min"] if often(0.1) else []),
            *([f"tip: {self._sentence(self._wordy // 2)}"] if often(0.2) else []),
            *([f"caution: {self._sentence(8)}"] if often(0.1) else []),
            *([f"short: {self._sentence(min(self._wordy, 9))}"] if often(0.4) else []),
            *(["optional: yes"] if often(0.1) else []),
            *(self._photo(f"step-{number}") if len(self._files) < self._photos else []),
        ]
        block = "\n".join(["```step", *facts, "```", ""]) if facts else ""
        heading = self._words(random.randint(1, 6)).capitalize()
        return f"## {heading} {number}\n\n{block}\n{self._passage()}"

    def _photo(self, name: str) -> list[str]:
        width, height = self._random.choice(SHAPES)
        path = f"{name}.png"
        self._files[path] = photograph(width, height, len(self._files) * 10)
        return [f"photo: {path}", f"photo shows: {' '.join(self._random.choice(SHORT) for _ in range(6))}"]

    def _passage(self) -> str:
        kind = self._random.random()
        if kind < 0.75:
            parts = [self._sentence(self._wordy) for _ in range(self._random.choice((1, 1, 2)))]
        elif kind < 0.85:
            parts = ["\n".join(f"- {self._sentence(self._wordy // 3)}" for _ in range(3))]
        elif kind < 0.92:
            parts = [self._sentence(5), f"1. {self._sentence(6)}\n   - {self._sentence(4)}\n2. {self._sentence(5)}"]
        elif kind < 0.97:
            parts = [f"> {self._sentence(self._wordy)}", self._sentence(4)]
        else:
            parts = [f"{self._sentence(4)}\\\n{self._sentence(6)}", "---", self._sentence(3)]
        return "\n\n".join(parts)

    def _sentence(self, about: int) -> str:
        return self._words(max(1, round(about * self._random.uniform(0.5, 1.5)))).capitalize() + "."

    def _words(self, count: int) -> str:
        found = []
        for _ in range(count):
            kind = self._random.random()
            several = MEASURES if kind < 0.06 else DRESSED if kind < 0.1 else self._tongue
            found.append(self._random.choice(several))
        return " ".join(found)

    def _often(self, part: float) -> bool:
        return self._random.random() < part
