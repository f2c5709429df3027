"""What colour a paper is, and what is printed on it, by the words crafters use for it.

The tones are our own, muted, so that lines and words on them can be seen; no published colour is that pale. The named
colours of CSS Color Module Level 4 (W3C, section 6.1) say which hue is meant and which of two is the lighter, for every
word that has one there (the third column). Words without one are the paper trade's, their tones by eye and no source.
"""

from __future__ import annotations

from functools import lru_cache

from msgspec import Struct

from foldwright.vocabulary.names import KnownNames, names_in, plain_words, rows_of

_COLOURS = """
# whites
white | #eeece7 | white | bright white, ice
ivory | #f0ebd8 | ivory | eggshell, off white
cream | #efe3c6 | | buttermilk, vanilla
snow | #ece9e9 | snow | pearl
vellum | #e6e9e6 | | tracing, glassine
clear | #dce8ec | | acetate, transparent
linen | #ece3d6 | linen | natural, oatmeal, parchment, antique
beige | #ebe6cf | beige | ecru
# browns
sand | #dccdb0 | | stone, wheat, straw, biscuit
tan | #cdb592 | tan | camel, caramel, honey
kraft | #c2a078 | | manila, craft brown, cork
brown | #8a5f45 | saddlebrown | cocoa, mocha, coffee, walnut
chocolate | #6b4636 | | espresso
terracotta | #bb6f52 | | rust, clay, sienna, copper
# greys
silver | #c9cacb | silver | pewter, pale grey, pale gray, light grey, light gray, dove
grey | #97999b | gray | gray, greyboard, grayboard, chipboard, ash
slate | #75838f | slategray | slate grey, slate gray, steel
charcoal | #44484c | | graphite, anthracite, dark grey, dark gray
black | #333335 | black | ebony, onyx, jet
# pinks and reds
blush | #f1dbd6 | mistyrose | nude, shell
pink | #efc0c8 | lightpink | candy, bubblegum
rose | #d98e98 | | dusky pink, watermelon
hot pink | #dd6f9e | hotpink | fuchsia, magenta, cerise
coral | #ea9178 | coral | flamingo
salmon | #e7a08f | salmon
peach | #f2d3ba | peachpuff | apricot
red | #c1453f | red | scarlet, cherry, poppy, holly
crimson | #a83a48 | crimson | raspberry, cranberry, berry
burgundy | #74333c | maroon | maroon, wine, claret, bordeaux
brick | #a4524a | firebrick
# oranges and yellows
orange | #e9a45c | orange | tangerine, pumpkin, amber
yellow | #f3df7c | gold | sunflower, sunshine, daffodil
lemon | #f2eab2 | lemonchiffon | butter, primrose
mustard | #cfa64e | goldenrod | ochre
gold | #d6b765 | | brass, gilt
khaki | #c9bf8c | darkkhaki
# greens
mint | #cbe3d2 | | seafoam, pistachio, celadon, honeydew
sage | #a9b99a | darkseagreen | eucalyptus
lime | #b9d873 | | chartreuse, apple
olive | #85834f | olive | moss, avocado
green | #5f9259 | green | leaf green, grass, emerald, shamrock, jade
forest | #3f6546 | darkgreen | pine, fern, bottle green, holly green, evergreen, spruce
# blues
teal | #3f8084 | teal | peacock, lagoon
turquoise | #86cdc6 | turquoise | aqua, aquamarine, cyan, duck egg
sky | #abcfe2 | skyblue | powder blue, baby blue, pale blue, light blue, ice blue
cornflower | #8ea3d6 | cornflowerblue | periwinkle
blue | #5079b8 | royalblue | royal, cobalt, azure
denim | #55708f | | airforce, petrol
navy | #34496f | midnightblue | midnight, ink blue, dark blue, indigo
# purples
lavender | #cfc6e4 | lavender | lilac, wisteria
mauve | #b79bb6 | | heather, orchid
violet | #8a6bb0 | mediumpurple | purple, amethyst
plum | #6a4266 | | aubergine, eggplant, damson
"""
"""Word, tone, the published colour, other words for it. A trade's plum is the fruit's skin, far darker than the
published one."""

_PATTERNS = """
gingham | check, checked, chequered, plaid, tartan
dots | dot, dotted, spot, spotted, polka, polka dot, confetti
stripes | stripe, striped, ticking, pinstripe
leaf | botanical, foliage, fern leaf, leafy
stars | star, starry
floral | flower, flowery, blossom
map | atlas
"""

_PALE, _DEEP = frozenset({"pale", "light", "soft", "pastel", "baby"}), frozenset({"dark", "deep"})
_CHANGED = 0.4
"""How far `pale` and `deep` go towards white and black."""
_SAME, _HALVINGS = 0.5, 10
"""Half a step of lightness is not seen; ten halvings are finer than a channel's 256 steps."""


class SaidColours(Struct, frozen=True):
    """What the words of a paper say: its colours, the ground first, as `#rrggbb`, and what is printed on it."""

    tones: tuple[str, ...] = ()
    pattern: str = ""


class ColourWord(Struct, frozen=True):
    """A colour as crafters call it, and the named colour of CSS that says its hue (empty: there is none)."""

    name: str
    tone: str
    published: str
    others: tuple[str, ...]


COLOURS = tuple(
    ColourWord(name, tone, published, names_in(others)) for name, tone, published, others in rows_of(_COLOURS, 4)
)
_KNOWN = KnownNames.of((colour, (colour.name, *colour.others)) for colour in COLOURS)
_PRINTED = KnownNames.of((word, [word, *names_in(others)]) for word, others in rows_of(_PATTERNS, 2))


@lru_cache(maxsize=1024)
def paper_words(text: str) -> SaidColours:
    """`navy card with cream spots`: navy and cream, dots."""
    tones: list[str] = []
    others: list[str] = []
    before = ""
    for colour, run in _KNOWN.runs_in(plain_words(text)):
        if colour is not None:
            towards = "#ffffff" if before in _PALE else "#000000" if before in _DEEP else colour.tone
            tones.append(mixed(colour.tone, towards, _CHANGED))
        else:
            others += run
        before = run[-1]
    printed = _PRINTED.all_in(" ".join(others))
    return SaidColours(tuple(dict.fromkeys(tones)), printed[0] if printed else "")


@lru_cache(maxsize=1024)
def mixed(tone: str, other: str, part: float) -> str:
    """A tone with so much of another in it."""
    pairs = zip(_channels(tone), _channels(other), strict=True)
    return "#" + "".join(f"{round(one + (two - one) * part):02x}" for one, two in pairs)


@lru_cache(maxsize=1024)
def luminance(tone: str) -> float:
    """Relative luminance, 0 to 1, as WCAG 2.2 defines it."""
    red, green, blue = (_linear(channel / 255) for channel in _channels(tone))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """The contrast of two colours, 1 to 21, as WCAG 2.2 defines it."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def _channels(tone: str) -> tuple[int, int, int]:
    return int(tone[1:3], 16), int(tone[3:5], 16), int(tone[5:7], 16)


def _linear(channel: float) -> float:
    return channel / 12.92 if channel <= 0.04045 else ((channel + 0.055) / 1.055) ** 2.4


def lightness(tone: str) -> float:
    """CIE 1976 L*, 0 to 100 (ISO/CIE 11664-4): equal steps look about equal."""
    share = luminance(tone)
    return 116 * share ** (1 / 3) - 16 if share > 216 / 24389 else share * 24389 / 27


def lit(tone: str, level: float) -> str:
    """The tone made as light as `level` with white, or as dark with black; as it is where it is so already."""
    if abs(lightness(tone) - level) < _SAME:
        return tone
    other = "#ffffff" if lightness(tone) < level else "#000000"
    low, high = 0.0, 1.0
    for _ in range(_HALVINGS):
        part = (low + high) / 2
        too_far = (lightness(mixed(tone, other, part)) > level) == (other == "#ffffff")
        low, high = (low, part) if too_far else (part, high)
    return mixed(tone, other, (low + high) / 2)
