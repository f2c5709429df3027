"""Kinds of supply: which are sheets to cut from, which stick, which are food, which a small child could swallow."""

from __future__ import annotations

from functools import lru_cache

from msgspec import Struct

from foldwright.vocabulary.names import KnownNames


class SupplyKind(Struct, frozen=True):
    """`sheet`: pieces are cut from it. `adhesive`: it joins.

    `food`: it is eaten. `small`: it may fit the small-parts cylinder of 16 CFR 1501.4. `hazards` are codes.
    """

    name: str
    forms: tuple[str, ...] = ()
    sheet: bool = False
    adhesive: bool = False
    food: bool = False
    small: bool = False
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
    SupplyKind("wire", ("florist wire", "pipe cleaner", "stem wire"), hazards=("sharp-ends",)),
    # what sticks
    SupplyKind("adhesive", ("glue",), adhesive=True),
    SupplyKind(
        "wet glue",
        ("liquid glue", "white glue", "pva", "pva glue", "craft glue", "thick glue", "thick craft glue"),
        adhesive=True,
    ),
    SupplyKind("glue stick", ("paper glue stick",), adhesive=True),
    SupplyKind(
        "hot glue",
        ("hot melt", "hot melt glue", "hot melt adhesive", "hot glue stick", "hot melt stick", "glue gun stick"),
        adhesive=True,
        hazards=("hot-glue",),
    ),
    SupplyKind(
        "super glue",
        ("superglue", "instant glue", "instant adhesive", "quick setting glue", "cyanoacrylate", "cyanoacrylate glue"),
        adhesive=True,
        hazards=("super-glue",),
    ),
    SupplyKind(
        "contact adhesive",
        ("contact glue", "contact cement", "rubber cement", "rubber solution", "solvent glue", "solvent adhesive"),
        adhesive=True,
        hazards=("solvent",),
    ),
    SupplyKind(
        "resin",
        ("epoxy", "epoxy glue", "epoxy resin", "two part glue", "two part adhesive", "uv resin", "uv glue", "hardener"),
        adhesive=True,
        hazards=("resin",),
    ),
    SupplyKind(
        "spray adhesive",
        ("spray glue", "mounting spray", "adhesive spray"),
        adhesive=True,
        hazards=("spray",),
    ),
    SupplyKind(
        "double-sided tape", ("double sided tape", "tape", "adhesive tape", "clear tape", "sticky tape"), adhesive=True
    ),
    SupplyKind("masking tape", ("washi tape", "paper tape", "low tack tape", "decorative tape"), adhesive=True),
    SupplyKind(
        "foam adhesive", ("foam square", "foam pad", "foam tape", "foam dot", "sticky foam"), adhesive=True, small=True
    ),
    SupplyKind("adhesive dot", ("dot of adhesive", "dot of glue", "sticky dot", "adhesive point"), adhesive=True),
    SupplyKind("adhesive sheet", ("double sided sheet", "adhesive film"), adhesive=True),
    SupplyKind("adhesive putty", ("sticky putty", "mounting putty", "sticky tack"), adhesive=True),
    # colour
    SupplyKind("ink", ("ink pad", "inkpad", "stamp pad", "stamping ink", "dye ink", "pigment ink")),
    SupplyKind("embossing powder", ("heat powder",), hazards=("heat",)),
    SupplyKind("sealing wax", ("wax seal", "wax stick"), hazards=("heat",)),
    SupplyKind(
        "paint",
        ("watercolour", "watercolor", "acrylic paint", "gouache", "poster paint", "food colouring", "food coloring"),
    ),
    SupplyKind(
        "spray paint",
        ("varnish spray", "spray varnish", "fixative", "fixing spray", "spray", "aerosol", "spray can"),
        hazards=("spray",),
    ),
    SupplyKind(
        "varnish",
        ("lacquer", "sealer", "shellac", "wood stain", "nail varnish", "nail polish"),
        hazards=("solvent",),
    ),
    SupplyKind(
        "solvent",
        (
            "acetone",
            "white spirit",
            "mineral spirit",
            "turpentine",
            "turps",
            "methylated spirit",
            "surgical spirit",
            "rubbing alcohol",
            "isopropyl alcohol",
            "thinner",
            "nail varnish remover",
            "nail polish remover",
            "adhesive remover",
            "alcohol ink",
        ),
        hazards=("solvent",),
    ),
    SupplyKind("glitter", ("glitter powder", "loose glitter"), hazards=("glitter",)),
    SupplyKind("glitter glue", ("glitter gel", "glitter pen", "glitter tape", "glitter sticker")),
    # small things
    SupplyKind("brad", ("paper fastener", "split pin"), small=True, hazards=("sharp-ends",)),
    SupplyKind("eyelet", ("grommet",), small=True),
    SupplyKind("staple", (), small=True, hazards=("sharp-ends",)),
    SupplyKind("button", (), small=True),
    SupplyKind("bead", ("pearl", "gem", "rhinestone", "sequin", "jewel", "enamel dot"), small=True),
    SupplyKind("bell", ("jingle bell",), small=True),
    SupplyKind("charm", ("embellishment", "confetti", "pompom", "pom pom", "wiggle eye", "marble"), small=True),
    SupplyKind(
        "magnet",
        ("magnetic disc", "magnetic button", "magnetic closure", "magnetic clasp", "magnetic"),
        small=True,
        hazards=("magnet",),
    ),
    SupplyKind("balloon", ("party balloon", "water balloon"), hazards=("balloon",)),
    SupplyKind("hook and loop dot", ("hook and loop fastener",), small=True),
    SupplyKind("sticker", ("seal", "label")),
    SupplyKind("tag", ("ready made tag", "gift tag")),
    SupplyKind("bow", ("ready made bow",)),
    SupplyKind(
        "pin",
        ("needle", "safety pin", "florist pin", "drawing pin", "push pin", "brooch pin", "thumb tack", "tack"),
        small=True,
        hazards=("sharp-ends",),
    ),
    SupplyKind("wooden stick", ("lolly stick", "craft stick", "skewer", "dowel")),
    SupplyKind(
        "tea light",
        ("tealight", "t light", "candle", "night light", "votive", "wick", "flame", "sparkler", "incense"),
        hazards=("flame",),
    ),
    SupplyKind(
        "battery light",
        (
            "led",
            "led light",
            "led tea light",
            "led tealight",
            "led candle",
            "battery candle",
            "battery tea light",
            "battery tealight",
            "electric candle",
            "electric tea light",
            "flameless candle",
            "fairy light",
            "string light",
            "light string",
            "sound module",
            "music module",
        ),
        small=True,
        hazards=("cell",),
    ),
    SupplyKind(
        "coin cell",
        ("button cell", "button battery", "coin battery", "lithium cell", "battery", "watch battery"),
        small=True,
        hazards=("cell",),
    ),
    # containers
    SupplyKind("envelope", ()),
    SupplyKind("bag", ("clear bag", "film bag", "clear film bag", "paper bag", "food bag", "treat bag")),
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
            "chocolate coin",
            "chocolate egg",
            "chewing gum",
            "fudge",
            "truffle",
            "nougat",
            "praline",
            "liquorice",
            "licorice",
            "humbug",
            "boiled sweet",
            "hard candy",
            "peppermint",
            "bonbon",
            "sweetie",
            "bubble gum",
        ),
        food=True,
        small=True,
        hazards=("wrapped-food",),
    ),
    SupplyKind(
        "unwrapped food",
        (
            "food",
            "snack",
            "biscuit",
            "cookie",
            "cake",
            "cupcake",
            "muffin",
            "macaroon",
            "macaron",
            "shortbread",
            "gingerbread",
            "brownie",
            "pretzel",
            "nut",
            "peanut",
            "almond",
            "sugared almond",
            "popcorn",
            "loose sweet",
            "jelly bean",
            "jelly sweet",
            "gummy bear",
            "gummy",
            "marshmallow",
            "meringue",
            "dried fruit",
            "raisin",
            "sprinkle",
        ),
        food=True,
        small=True,
        hazards=("food-contact",),
    ),
    SupplyKind(
        "tea bag",
        ("teabag", "tea", "coffee", "hot chocolate", "cocoa", "honey", "jam", "spice", "spice mix", "sugar"),
        food=True,
        hazards=("wrapped-food",),
    ),
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

_NAMES = KnownNames.of((kind, (kind.name, *kind.forms)) for kind in SUPPLY_KINDS)


@lru_cache(maxsize=1024)
def kind_of(name: str) -> SupplyKind | None:
    """The kind of supply a name means by its longest known part: `charcoal card` is cardstock; None for a new word."""
    return _NAMES.best_in(name)
