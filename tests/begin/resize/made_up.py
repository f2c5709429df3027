"""Made-up projects to be made in another size: boxes, cards and tags with what lies on them, goes over or into them."""

from __future__ import annotations

import random
from fractions import Fraction

from foldwright.begin.options import SizeOptions
from foldwright.begin.resize.sizing import NewSize, resize, with_new_size
from foldwright.finding import Wrong
from foldwright.outputs.checking import check_texts
from foldwright.outputs.texts import Texts, texts_of
from foldwright.pipeline import Understood
from foldwright.recipe.facts.writing import write_number
from foldwright.surroundings import Refusal

HEAD = """---
title: Made up
makes: 1 thing
measured in: {units}
supplies:
  card: cardstock, weight 270 g/m2, thickness 0.3 mm, sheet 2000 x 2000 mm
{supplies}pieces:
{pieces}---

## Make it

```step
do: cut {first}
{step}```

{words}
"""


class Beside:
    """The folder of a made-up recipe: the files that are given."""

    def __init__(self, **files: str) -> None:
        self._files = {name.replace("_", "."): text.encode() for name, text in files.items()}

    def read(self, path: str, at_most: int) -> bytes | Refusal:
        return self._files.get(path, Refusal.MISSING)

    def theme(self, name: str) -> str | None:
        return None


def recipe(pieces: str, supplies: str = "", words: str = "Cut it.", step: str = "", units: str = "millimetres") -> str:
    """A recipe of the pieces, as lines of their own; its one step cuts the first of them."""
    first = pieces.strip().partition(":")[0]
    return HEAD.format(units=units, supplies=supplies, pieces=pieces, first=first, step=step, words=words)


def understood(texts: Texts, beside: Beside) -> Understood:
    """A recipe in which nothing is wrong."""
    checked = check_texts(texts, beside)
    assert not checked.wrong, checked.findings
    assert checked.understood is not None
    return checked.understood


def resized(text: str, scale: str = "", beside: Beside | None = None, **asked: str) -> NewSize:
    """A recipe in the size called new."""
    beside, texts = beside or Beside(), texts_of("made-up", text)
    written = understood(texts, beside)
    ways = resize(written, SizeOptions(scale=scale, **asked))
    assert not isinstance(ways, Wrong), ways
    return with_new_size(texts, beside, "new", written, ways)


def entry_of(size: NewSize) -> str:
    """The entry as text, without the name of the size."""
    return "\n".join(line.removeprefix("  ") for line in size.entry[1:])


# --- at random --------------------------------------------------------------------------------------------------------


class Maker:
    """Makes up recipes, in whole millimetres or in eighths of an inch."""

    def __init__(self, seed: int) -> None:
        self._random = random.Random(seed)
        self.inches = self._random.random() < 0.5

    def recipe(self) -> str:
        """One of the projects, with what belongs to it."""
        pieces = self._random.choice((self._box, self._drawer, self._card, self._tag, self._envelope))()
        return recipe(pieces, units="inches" if self.inches else "millimetres")

    def _long(self, least: int, most: int) -> Fraction:
        """A length between two numbers of millimetres, or of eighths of an inch that are a third as many."""
        number = self._random.randint(least, most)
        return Fraction(max(number // 3, 1), 8) if self.inches else Fraction(number)

    def _by(self, mm: int) -> Fraction:
        """A border or a gap: so many millimetres, or sixteenths of an inch."""
        return Fraction(mm, 16) if self.inches else Fraction(mm)

    def _size(self, *lengths: Fraction) -> str:
        return " x ".join(map(self._number, lengths)) + (" in" if self.inches else " mm")

    def _number(self, value: Fraction) -> str:
        return write_number(value, self.inches)

    def _row(self, *lengths: Fraction) -> str:
        return " | ".join(map(self._number, lengths))

    def _tray(self, name: str, form: str, floor: tuple[Fraction, Fraction], wall: Fraction) -> str:
        return (
            f"  {name}:\n    from: card\n    size: {self._size(floor[0] + 2 * wall, floor[1] + 2 * wall)}\n"
            f"    across: {self._row(wall, floor[0], wall)}\n    down: {self._row(wall, floor[1], wall)}\n"
            f"    flaps: joined to front and back\n    fold: {form}\n"
        ).replace("front and back", "top and bottom")

    def _flat(self, name: str, across: Fraction, down: Fraction, more: str) -> str:
        return f"  {name}:\n    from: card\n    size: {self._size(across, down)}\n{more}"

    def _box(self) -> str:
        floor, wall = (self._long(50, 120), self._long(50, 120)), self._long(20, 24)
        pieces = self._tray("base", "tray", floor, wall)
        lid = (floor[0] + self._by(3), floor[1] + self._by(3))
        pieces += self._tray("lid", "lid", lid, self._long(15, 18)) + "    fits over: base\n"
        border = self._by(self._random.randint(2, 5))
        if self._random.random() < 0.5:
            sides = lid[0] - 2 * border, lid[1] - 2 * border
            return pieces + self._flat("mat", *sides, "    goes on: outside of lid floor, centred\n")
        return pieces + self._flat("label", lid[0] / 2, lid[1] / 4, "    goes on: outside of lid floor, centred\n")

    def _drawer(self) -> str:
        floor, wall, play = (self._long(40, 90), self._long(90, 120)), self._long(18, 20), self._by(2)
        glue = Fraction(1, 2) if self.inches else Fraction(12)
        sides = (floor[0] + play, wall + play) * 2
        sleeve = (
            f"  sleeve:\n    from: card\n    size: {self._size(sum(sides, glue), floor[1])}\n"
            f"    across: {self._row(*sides)} | {self._number(glue)} glue flap\n    fold: sleeve\n"
        )
        return self._tray("drawer", "tray", floor, wall) + "    slides in: sleeve\n" + sleeve

    def _card(self) -> str:
        front = self._long(70, 140), self._long(90, 160)
        pieces = (
            f"  card:\n    from: card\n    size: {self._size(front[0] * 2, front[1])}\n"
            f"    across: {self._row(front[0], front[0])}\n    fold: card\n"
        )
        border = self._by(self._random.randint(2, 4))
        border_text = self._size(border)
        pieces += (
            f"  mat:\n    from: card\n    size: {border_text} smaller on every side than card right\n"
            "    goes on: outside of card right, centred\n"
        )
        label = (front[0] / 2, front[1] / 5)
        return pieces + self._flat("label", *label, "    goes on: mat, centred\n")

    def _tag(self) -> str:
        tag = self._long(40, 80), self._long(90, 150)
        pieces = self._flat(
            "tag",
            *tag,
            f"    holes: round {self._size(self._by(4))}, centred, middle {self._size(self._by(10))} from the top\n",
        )
        more, up = self._by(self._random.randint(4, 8)), self._size(self._by(2))
        pieces += self._flat("banner", tag[0] + 2 * more, tag[1] / 4, "    goes on: tag, centred\n")
        panel = tag[0] - 2 * self._by(2), tag[1] / 2
        return pieces + self._flat("panel", *panel, f"    goes on: tag, lined up {up} from the bottom\n")

    def _envelope(self) -> str:
        note = self._long(60, 110), self._long(60, 110)
        pocket = note[0] + self._by(4), note[1] + self._by(4)
        form = self._random.choice(("pocket", "envelope"))
        return self._flat("note", *note, "    slides in: holder\n") + (
            f"  holder:\n    from: card\n    fold: {form}\n    finished: {self._size(*pocket)}\n"
        )

    def holder(self) -> tuple[str, str]:
        """A box or a drawer that holds one small sweet, and what it is to hold instead."""
        pieces = self._random.choice((self._box, self._drawer))()
        pieces = pieces.replace("    fold: tray\n", "    fold: tray\n    holds: sweet\n", 1)
        units = "inches" if self.inches else "millimetres"
        text = recipe(pieces, "  sweet: sweet, size 10 x 10 x 10 mm, use 1\n", units=units)
        sides = sorted((self._random.randint(15, 60) for _ in range(3)), reverse=True)
        return text, f"{self._random.randint(1, 6)} sweets of {' x '.join(map(str, sides))} mm"

    def scale(self) -> str:
        """From three fifths to twice as large."""
        return f"{self._random.randint(60, 200) / 100:g}"
