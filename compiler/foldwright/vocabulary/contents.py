"""Things people put into boxes: how they stand or lie, what two numbers of them mean, and which measures to take.

How a thing is kept is common practice, no source, unless it says otherwise.
"""

from __future__ import annotations

from collections.abc import Iterator
from enum import Enum
from fractions import Fraction
from functools import lru_cache

from msgspec import Struct

from foldwright.vocabulary.names import KnownNames, names_in, rows_of


class Posture(Enum):
    """How a thing is kept: `UPRIGHT` is never laid on its side, `STANDS` and `LIES` rather so, `ANY` is any way."""

    ANY = ""
    UPRIGHT = "upright"
    STANDS = "stands"
    LIES = "lies"


class Shape(Enum):
    """What a size of fewer than three numbers means.

    Of what is `ROUND` a diameter and a height, of what is `LONG` a diameter and a length, of a `BALL` a diameter alone;
    what is `FLAT` is as thick as its kind is.
    """

    SOLID = ""
    ROUND = "round"
    LONG = "long"
    BALL = "ball"
    FLAT = "flat"


class Content(Struct, frozen=True):
    """A kind of thing. `alone`: nothing lies on it. `pair`: two of them are one thing.

    `measures` is what to say of how it is measured, `thickness` (mm) that of something flat; `size` is the one size it
    is made in (mm).
    """

    name: str
    measures: str
    posture: Posture = Posture.ANY
    shape: Shape = Shape.SOLID
    alone: bool = False
    pair: bool = False
    thickness: Fraction | None = None
    size: tuple[Fraction, ...] = ()


_LIST = """
# to eat
cupcake | muffin, fairy cake, bun | crown | upright, alone, round
cake | gateau, tart, tartlet, pie, cheesecake | crown | upright, alone, round
macaron | macaroon | disc | lies, alone, round
cookie | biscuit, shortbread, cracker, oat cake, oatcake, gingerbread | disc | lies, round
truffle | praline, bonbon, cake ball, gumball | ball | alone, ball
egg | easter egg, chocolate egg | egg | stands, alone, round
caramel | toffee, fudge, candy, sweet, chocolate, nougat, treat, mint, brownie, marshmallow | solid
chocolate bar | bar of chocolate | solid | lies
tea bag | teabag, sachet | flat | lies, flat | 3
# light
tea light | tealight, votive, votive candle, night light | disc | stands, alone, round
candle | pillar candle, dinner candle, taper, taper candle | candle | long
# to hold something
mug | cup, teacup, coffee cup, beaker with a handle | handle | upright, alone, round
jar | tin, pot, can, tub, jam jar, candle jar, candle tin, tumbler candle | standing | upright, round
glass | tumbler, wine glass, goblet, beaker, vase, bowl | standing | upright, alone, round
bottle | flask, vial, phial | standing | stands, round
plant | succulent, potted plant, plant pot, seedling | plant | upright, alone, round
saucer | plate, coaster, cd, dvd, disc, disk | disc | lies, round
# to write and to draw
pencil | pen, crayon, marker, paint brush, paintbrush, brush, chalk, stick, chopstick, straw, knitting needle,
  crochet hook, chop stick, incense stick, wand, lip balm, lipstick, lip stick, tube, test tube | stick | long
book | notebook, journal, diary, paperback, hardback, notepad, sketchbook | book | lies
# flat
gift card | bank card, credit card, debit card, loyalty card, id card, identity card, key card, membership card | flat |
  lies, flat | 0.76 | 85.6 x 53.98
photo | photograph, picture, print, snapshot, instant photo | flat | lies, flat | 0.3
card | greeting card, postcard, business card, playing card, place card, invitation, recipe card, card stock |
  flat | lies, flat | 0.4
tag | gift tag, label, bookmark, voucher, ticket, sticker | flat | lies, flat | 0.4
seed packet | packet of seeds | flat | lies, flat | 2
letter | note, sheet, leaflet, certificate, flyer, menu, napkin, serviette | flat | lies, flat | 0.3
deck of cards | pack of cards, card deck, set of cards, pack of playing cards, deck of playing cards | solid | lies
# to wear
ring | finger ring, wedding ring, signet ring | ring | lies
earring | ear ring, stud, hoop | earring | pair
necklace | bracelet, bangle, chain, pendant, pendant on a chain, rosary, anklet, string of beads | chain | lies
brooch | pin, badge, charm, button, key ring, keyring, key, coin, medal, cufflink, hair clip, barrette | flat-lying |
  lies
watch | wrist watch, wristwatch | chain
scarf | shawl, sock, glove, mitten, t-shirt, tie, handkerchief, baby suit, bib, towel, tea towel, hat, beanie, blanket |
  folded | lies
spectacles | pair of glasses, sunglasses, reading glasses, eyeglasses | folded | pair
# other
soap | bar of soap, soap bar, piece of soap, cake of soap, shampoo bar | solid | lies
ball | marble, bauble, bath bomb, ornament ball, table tennis ball, golf ball, tennis ball, tree ornament |
  ball | ball
figurine | figure, doll, toy, teddy, teddy bear, ornament, statue, model, car, toy car, miniature | figure | stands
phone | mobile phone, smartphone, tablet, remote | solid | lies
scissors | tweezers, tongs, pliers | folded | pair, lies
box | case, holder, frame, album, game, stand, kit, cutter, sharpener, puzzle, block, dish, magnet | solid
spool | reel, bobbin, spool of thread, ribbon spool | disc | round
"""
"""Name, other names, how it is measured, what there is to know, how thick (mm), its one size (mm).

A gift card is ID-1 of ISO/IEC 7810: 85.60 x 53.98 x 0.76 mm. The other thicknesses are of usual kinds, by calliper
(common practice, no source)."""
_POSTURES = {one.value: one for one in Posture if one.value}
_SHAPES = {one.value: one for one in Shape if one.value}


def _contents() -> Iterator[tuple[Content, tuple[str, ...]]]:
    for row in rows_of(_LIST, 6):
        name, forms, measures, said, thickness, size = row
        marks = names_in(said)
        content = Content(
            name,
            measures,
            next((_POSTURES[mark] for mark in marks if mark in _POSTURES), Posture.ANY),
            next((_SHAPES[mark] for mark in marks if mark in _SHAPES), Shape.SOLID),
            alone="alone" in marks,
            pair="pair" in marks,
            thickness=Fraction(thickness) if thickness else None,
            size=tuple(map(Fraction, size.split(" x "))) if size else (),
        )
        yield content, (name, *names_in(forms))


_ROWS = tuple(_contents())
CONTENTS = tuple(content for content, _ in _ROWS)
UNKNOWN = Content("thing", "solid")
"""What nobody has heard of."""
_NAMES = KnownNames.of(_ROWS)


@lru_cache(maxsize=256)
def content_of(name: str) -> Content:
    """The kind of thing a name means by its longest known part; `UNKNOWN` when it has none."""
    return _NAMES.best_in(name) or UNKNOWN
