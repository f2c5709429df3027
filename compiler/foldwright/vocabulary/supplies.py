"""Kinds of supply: which are sheets to cut from, which stick, which are food, which a small child could swallow."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from msgspec import Struct

from foldwright.vocabulary.names import KnownNames, names_in, rows_of


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


_LIST = """
# sheets
cardstock | card stock, card, plain card, coloured card, colored card, white card | sheet
patterned card | printed card, decorative card, patterned cardstock | sheet
paper | plain paper, drawing paper, copy paper, coloured paper, text paper | sheet
patterned paper | printed paper, decorative paper, wrapping paper, gift wrap, scrapbook paper | sheet
vellum | tracing paper, glassine, translucent paper | sheet
watercolour paper | watercolor paper, art paper | sheet
kraft card | kraft paper, kraft | sheet
mirror card | foil card, metallic card, glitter card, pearl card | sheet
greyboard | grey board, grayboard, gray board, chipboard, book board, board | sheet
corrugated card | corrugated cardboard, cardboard | sheet
tissue paper | crepe paper, crêpe paper | sheet
clear sheet | acetate, film, clear film, window sheet, overhead film, clear plastic | sheet
felt | felt sheet | sheet
fabric | cloth, cotton fabric | sheet
foam sheet | craft foam | sheet
label sheet | sticker sheet, sticker paper | sheet
# lines
twine | string, cord, yarn, thread, raffia, baker's twine, wool | cord
ribbon | satin ribbon, lace, trim, seam binding | cord
elastic | elastic cord, rubber band, elastic band | cord
wire | florist wire, pipe cleaner, stem wire | sharp-ends
# what sticks
adhesive | glue | adhesive
wet glue | liquid glue, white glue, pva, pva glue, craft glue, thick glue, thick craft glue | adhesive
glue stick | paper glue stick | adhesive
hot glue | hot melt, hot melt glue, hot melt adhesive, hot glue stick, hot melt stick, glue gun stick | adhesive,
  hot-glue
super glue | superglue, instant glue, instant adhesive, quick setting glue, cyanoacrylate, cyanoacrylate glue |
  adhesive, super-glue
contact adhesive | contact glue, contact cement, rubber cement, rubber solution, solvent glue, solvent adhesive |
  adhesive, solvent
resin | epoxy, epoxy glue, epoxy resin, two part glue, two part adhesive, uv resin, uv glue, hardener | adhesive,
  resin
spray adhesive | spray glue, mounting spray, adhesive spray | adhesive, spray
double-sided tape | double sided tape, tape, adhesive tape, clear tape, sticky tape | adhesive
masking tape | washi tape, paper tape, low tack tape, decorative tape | adhesive
foam adhesive | foam square, foam pad, foam tape, foam dot, sticky foam | adhesive, small
adhesive dot | glue dot, dot of adhesive, dot of glue, sticky dot, adhesive point | adhesive
adhesive sheet | double sided sheet, adhesive film | adhesive
adhesive putty | sticky putty, mounting putty, sticky tack | adhesive
# colour
ink | ink pad, inkpad, stamp pad, stamping ink, dye ink, pigment ink
embossing powder | heat powder | heat
sealing wax | wax seal, wax stick | heat
paint | watercolour, watercolor, acrylic paint, gouache, poster paint, food colouring, food coloring
spray paint | varnish spray, spray varnish, fixative, fixing spray, spray, aerosol, spray can | spray
varnish | lacquer, sealer, shellac, wood stain, nail varnish, nail polish | solvent
solvent | acetone, white spirit, mineral spirit, turpentine, turps, methylated spirit, surgical spirit, rubbing
  alcohol, isopropyl alcohol, thinner, nail varnish remover, nail polish remover, adhesive remover, alcohol ink |
  solvent
glitter | glitter powder, loose glitter | glitter
glitter glue | glitter gel, glitter pen, glitter tape, glitter sticker
# small things
brad | paper fastener, split pin | small, sharp-ends
eyelet | grommet | small
staple | | small, sharp-ends
button | | small
bead | pearl, gem, rhinestone, sequin, jewel, enamel dot | small
bell | jingle bell | small
coin | penny, washer, metal disc, metal disk | small
charm | embellishment, confetti, pompom, pom pom, wiggle eye, marble | small
magnet | magnetic disc, magnetic button, magnetic closure, magnetic clasp, magnetic | small, magnet
balloon | party balloon, water balloon | balloon
hook and loop dot | hook and loop fastener | small
sticker | seal, label
tag | ready made tag, gift tag
bow | ready made bow
pin | needle, safety pin, florist pin, drawing pin, push pin, brooch pin, thumb tack, tack | small, sharp-ends
wooden stick | lolly stick, craft stick, skewer, dowel
tea light | tealight, t light, candle, night light, votive, wick, flame, sparkler, incense | flame
battery light | led, led light, led tea light, led tealight, led candle, battery candle, battery tea light, battery
  tealight, electric candle, electric tea light, flameless candle, fairy light, string light, light string, sound
  module, music module | small, cell
coin cell | button cell, button battery, coin battery, lithium cell, battery, watch battery | small, cell
# containers
envelope
bag | clear bag, film bag, clear film bag, paper bag, food bag, treat bag
box | gift box
jar | tube, tin, bottle
# food
wrapped sweet | wrapped candy, sweet, candy, caramel, toffee, wrapped chocolate, chocolate, mint, lollipop, wrapped
  treat, treat, chocolate bar, chocolate coin, chocolate egg, chewing gum, fudge, truffle, nougat, praline, liquorice,
  licorice, humbug, boiled sweet, hard candy, peppermint, bonbon, sweetie, bubble gum | food, small, wrapped-food
unwrapped food | food, snack, biscuit, cookie, cake, cupcake, muffin, macaroon, macaron, shortbread, gingerbread,
  brownie, pretzel, nut, peanut, almond, sugared almond, popcorn, loose sweet, jelly bean, jelly sweet, gummy bear,
  gummy, marshmallow, meringue, dried fruit, raisin, sprinkle | food, small, food-contact
tea bag | teabag, tea, coffee, hot chocolate, cocoa, honey, jam, spice, spice mix, sugar | food, wrapped-food
seed | seed packet | small
# other
gift card | voucher
photo | photograph, picture, print
filler | shredded paper, wood wool, cotton wool, stuffing
water
other | anything, item
"""
"""Name, other names, what there is to know (what is none of these marks is the code of a hazard)."""
_MARKS = ("sheet", "adhesive", "food", "small")


def _kinds() -> Iterator[SupplyKind]:
    for name, forms, marks in rows_of(_LIST, 3):
        known = names_in(marks)
        yield SupplyKind(
            name,
            names_in(forms),
            sheet="sheet" in known,
            adhesive="adhesive" in known,
            food="food" in known,
            small="small" in known,
            hazards=tuple(mark for mark in known if mark not in _MARKS),
        )


SUPPLY_KINDS = tuple(_kinds())
OFF_A_ROLL = frozenset({"twine", "ribbon", "elastic", "wire", "double-sided tape", "masking tape"})
"""The kinds that are cut to length by eye, off a roll or a spool."""

_NAMES = KnownNames.of((kind, (kind.name, *kind.forms)) for kind in SUPPLY_KINDS)


@lru_cache(maxsize=1024)
def kind_of(name: str) -> SupplyKind | None:
    """The kind of supply a name means by its longest known part: `charcoal card` is cardstock; None for a new word."""
    return _NAMES.best_in(name)
