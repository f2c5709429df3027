"""Kinds of supply: which are sheets to cut from, which stick, which are food, which a small child could swallow."""

from __future__ import annotations

from functools import lru_cache

from msgspec import Struct

from foldwright.vocabulary.names import Names


class SupplyKind(Struct, frozen=True):
    """`sheet`: pieces are cut from it. `adhesive`: it joins. `drying`: seconds until it holds (common practice).

    `food`: it is eaten. `small`: it may fit the small-parts cylinder of 16 CFR 1501.4. `hazards` are codes.
    """

    name: str
    forms: tuple[str, ...] = ()
    sheet: bool = False
    adhesive: bool = False
    food: bool = False
    small: bool = False
    drying: int = 0
    hazards: tuple[str, ...] = ()


SUPPLY_KINDS: tuple[SupplyKind, ...] = (
    # sheets
    SupplyKind(
        "cardstock", ("card stock", "card", "plain card", "coloured card", "colored card", "white card"), sheet=True
    ),
    SupplyKind("patterned card", ("printed card", "decorative card", "patterned cardstock"), sheet=True),
    SupplyKind("paper", ("plain paper", "drawing paper", "copy paper", "coloured paper", "text paper"), sheet=True),
    SupplyKind(
        "patterned paper",
        ("printed paper", "decorative paper", "wrapping paper", "gift wrap", "scrapbook paper"),
        sheet=True,
    ),
    SupplyKind("vellum", ("tracing paper", "glassine", "translucent paper"), sheet=True),
    SupplyKind("watercolour paper", ("watercolor paper", "art paper"), sheet=True),
    SupplyKind("kraft card", ("kraft paper", "kraft"), sheet=True),
    SupplyKind("mirror card", ("foil card", "metallic card", "glitter card", "pearl card"), sheet=True),
    SupplyKind("greyboard", ("grey board", "grayboard", "gray board", "chipboard", "book board", "board"), sheet=True),
    SupplyKind("corrugated card", ("corrugated cardboard", "cardboard"), sheet=True),
    SupplyKind("tissue paper", ("crepe paper", "crêpe paper"), sheet=True),
    SupplyKind(
        "clear sheet", ("acetate", "film", "clear film", "window sheet", "overhead film", "clear plastic"), sheet=True
    ),
    SupplyKind("felt", ("felt sheet",), sheet=True),
    SupplyKind("fabric", ("cloth", "cotton fabric"), sheet=True),
    SupplyKind("foam sheet", ("craft foam",), sheet=True),
    SupplyKind("label sheet", ("sticker sheet", "sticker paper"), sheet=True),
    # lines
    SupplyKind("twine", ("string", "cord", "yarn", "thread", "raffia", "baker's twine", "wool"), hazards=("cord",)),
    SupplyKind("ribbon", ("satin ribbon", "lace", "trim", "seam binding"), hazards=("cord",)),
    SupplyKind("elastic", ("elastic cord", "rubber band", "elastic band"), hazards=("cord",)),
    SupplyKind("wire", ("florist wire", "pipe cleaner")),
    # what sticks
    SupplyKind("adhesive", ("glue",), adhesive=True),
    SupplyKind(
        "wet glue",
        ("liquid glue", "white glue", "pva", "pva glue", "craft glue", "tacky glue"),
        adhesive=True,
        drying=600,
    ),
    SupplyKind("glue stick", ("paper glue stick",), adhesive=True, drying=60),
    SupplyKind(
        "hot glue", ("hot melt", "hot glue stick", "glue gun stick"), adhesive=True, drying=60, hazards=("hot-glue",)
    ),
    SupplyKind("spray adhesive", ("spray glue", "spray mount"), adhesive=True, drying=120, hazards=("fumes",)),
    SupplyKind(
        "double-sided tape", ("double sided tape", "tape", "adhesive tape", "clear tape", "sticky tape"), adhesive=True
    ),
    SupplyKind("masking tape", ("washi tape", "paper tape", "low tack tape", "decorative tape"), adhesive=True),
    SupplyKind(
        "foam adhesive", ("foam square", "foam pad", "foam tape", "foam dot", "sticky foam"), adhesive=True, small=True
    ),
    SupplyKind("glue dot", ("adhesive dot", "sticky dot", "glue point"), adhesive=True),
    SupplyKind("adhesive sheet", ("double sided sheet", "adhesive film"), adhesive=True),
    # colour
    SupplyKind("ink", ("ink pad", "inkpad", "stamp pad", "stamping ink", "dye ink", "pigment ink")),
    SupplyKind("embossing powder", ("heat powder",)),
    SupplyKind("paint", ("watercolour", "watercolor", "acrylic paint", "gouache", "poster paint"), drying=900),
    SupplyKind("spray paint", ("varnish spray", "fixative"), drying=1800, hazards=("fumes",)),
    SupplyKind("varnish", ("lacquer", "sealer"), drying=1800),
    SupplyKind("glitter", ("glitter powder",)),
    # small things
    SupplyKind("brad", ("paper fastener", "split pin"), small=True, hazards=("point",)),
    SupplyKind("eyelet", ("grommet",), small=True),
    SupplyKind("staple", (), small=True, hazards=("point",)),
    SupplyKind("button", (), small=True),
    SupplyKind("bead", ("pearl", "gem", "rhinestone", "sequin", "jewel", "enamel dot"), small=True),
    SupplyKind("bell", ("jingle bell",), small=True),
    SupplyKind("charm", ("embellishment", "confetti", "pompom", "pom pom", "googly eye"), small=True),
    SupplyKind("magnet", ("magnetic disc", "magnetic button"), small=True, hazards=("magnet",)),
    SupplyKind("hook and loop dot", ("hook and loop fastener",), small=True),
    SupplyKind("sticker", ("seal", "label")),
    SupplyKind("tag", ("ready made tag", "gift tag")),
    SupplyKind("bow", ("ready made bow",)),
    SupplyKind("pin", ("needle", "safety pin"), small=True, hazards=("point",)),
    SupplyKind("wooden stick", ("lolly stick", "craft stick", "skewer", "dowel")),
    SupplyKind("tea light", ("candle",), hazards=("flame",)),
    SupplyKind("battery light", ("led light", "led tea light"), small=True),
    # containers
    SupplyKind("envelope", ()),
    SupplyKind("bag", ("clear bag", "cello bag", "paper bag", "food bag", "treat bag", "cellophane bag")),
    SupplyKind("box", ("gift box",)),
    SupplyKind("jar", ("tube", "tin", "bottle")),
    # food
    SupplyKind(
        "wrapped sweet",
        (
            "wrapped candy",
            "sweet",
            "candy",
            "caramel",
            "toffee",
            "wrapped chocolate",
            "chocolate",
            "mint",
            "lollipop",
            "wrapped treat",
            "treat",
            "chocolate bar",
            "chewing gum",
        ),
        food=True,
        small=True,
        hazards=("wrapped-food",),
    ),
    SupplyKind(
        "unwrapped food",
        ("biscuit", "cookie", "cake", "nut", "popcorn", "loose sweet"),
        food=True,
        small=True,
        hazards=("food-contact",),
    ),
    SupplyKind("tea bag", ("teabag", "tea", "coffee"), food=True, hazards=("wrapped-food",)),
    SupplyKind("seed", ("seed packet",), small=True),
    # other
    SupplyKind("gift card", ("voucher",)),
    SupplyKind("photo", ("photograph", "picture", "print")),
    SupplyKind("filler", ("shredded paper", "wood wool", "cotton wool", "stuffing")),
    SupplyKind("water", ()),
    SupplyKind("other", ("anything", "item")),
)

OFF_A_ROLL = frozenset({"twine", "ribbon", "elastic", "wire", "double-sided tape", "masking tape"})
"""The kinds that are cut to length by eye, off a roll or a spool."""

_NAMES = Names.of((kind, (kind.name, *kind.forms)) for kind in SUPPLY_KINDS)


@lru_cache(maxsize=1024)
def kind_of(name: str) -> SupplyKind | None:
    """The kind of supply a name means by its longest known part: `charcoal card` is cardstock; None for a new word."""
    return _NAMES.best_in(name)
