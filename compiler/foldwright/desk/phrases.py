"""Pass phrases: plain words that can be read out across a room and typed on a tablet."""

from __future__ import annotations

import secrets

WORDS = """
apple arch autumn bacon badge bagel baker balcony balloon bamboo banana banjo barn basil basket bath beach
bead bean bell bench berry bicycle biscuit blanket blossom boat bonnet book boot bottle bowl box branch bread
brick bridge broom brush bucket bundle butter button cabin cactus cake camel camera candle canoe canvas carpet
carrot castle cedar cello chalk cherry chess chestnut chimney cinema circle clay cliff clock cloud clover
coast coat cobweb cocoa coffee comet compass copper coral cork corner cotton cousin cradle crane crayon cream
cricket crown cup curtain daisy dance desert diamond dinner dolphin donkey door dragon drawer drum duck eagle
easel echo elbow elephant ember engine evening fabric falcon farm feather fence fern fiddle field finger fire
flag flamingo flute forest fork fountain fox garden garlic gate ginger giraffe glacier glove goat grape grass
guitar hammer hammock harbour harvest hat hazel heron hill honey horn house ink island ivory ivy jacket jam
jelly jigsaw jug jungle kettle kitchen kite kitten ladder lake lamp lantern laundry lavender leaf lemon
library lily linen lion lizard llama lobster magnet mango maple marble market meadow melon mint mirror mitten
moon morning moss mountain mouse muffin museum mushroom needle nest noodle oak oats ocean olive onion orange
orchard otter oven owl paddle palace panda paper parrot parsley pasta peach peanut pebble pelican pencil
penguin pepper piano picnic pillow pine planet plum pocket pond poppy potato rabbit radish rain raisin raven
ribbon river robin rocket rose saddle sail salad salmon sand scarf school seal shell ship silver snow soap
stone
""".split()
_COUNT = 4
"""Four of 256 words are as good as a number of 32 bits, of which nobody may try more than a few a minute."""


def new_phrase() -> str:
    """Words chosen by the system's source of randomness."""
    return " ".join(secrets.choice(WORDS) for _ in range(_COUNT))
