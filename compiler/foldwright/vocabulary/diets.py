"""What guests write of their diets and allergies, as what must not be in their kit.

Whoever lists something in these tables must be sure: what stands in none of them is told as not understood, and asked
about. A word that may mean more is taken to mean more (who writes nuts may mean peanuts). What a diet leaves out is
common knowledge, from memory; names of allergens in other languages are those of Annex II of Regulation (EU) No
1169/2011 in its other languages, and common forms of them, from memory.
"""

from __future__ import annotations

import unicodedata
from functools import lru_cache

from msgspec import Struct

from foldwright.vocabulary.allergens import ALLERGENS
from foldwright.vocabulary.names import KnownNames, names_in, plain_words, rows_of, spelled_words


class Avoided(Struct, frozen=True):
    """What a word of a diet keeps out of a kit: allergens by name, and what packets name but recipes do not.

    `ask` is said of diets that go by more than what is in the food.
    """

    name: str
    allergens: tuple[str, ...] = ()
    others: tuple[str, ...] = ()
    ask: bool = False


class DietSaid(Struct, frozen=True):
    """What was written, understood, and the words that were not, as spelled. Where nothing is said both are empty."""

    avoided: tuple[Avoided, ...] = ()
    left: tuple[str, ...] = ()

    @property
    def allergens(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(one for each in self.avoided for one in each.allergens))

    @property
    def others(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(one for each in self.avoided for one in each.others))

    @property
    def ask(self) -> bool:
        return any(one.ask for one in self.avoided)


_WIDER = {"nuts": ("nuts", "peanuts"), "crustaceans": ("crustaceans", "molluscs")}
"""Of a word that may mean more than the allergen of the list: nuts, shellfish."""
_LIST = """
vegan | milk, eggs, fish, crustaceans, molluscs | meat, gelatine, honey | vegan, vegane, veganer, vegano, vegana,
  végane, végétalien, végétalienne, plant based
vegetarian | fish, crustaceans, molluscs | meat, gelatine | vegetarian, veggie, veg, vegetarisch, vegetarier,
  vegetarierin, végétarien, végétarienne, vegetariano, vegetariana, vegetarisk
pescatarian | | meat, gelatine | pescatarian, pescetarian, pescatarisch
halal? | | pork, gelatine, alcohol | halal, muslim
kosher? | crustaceans, molluscs | pork, gelatine | kosher, koscher, casher, kascher
diabetic? | | sugar | diabetic, diabetes, diabetiker, diabétique, diabetico
gluten | gluten | | coeliac, celiac, coeliac disease, celiac disease, coeliac sprue, gf, glutenfree, glutenfrei,
  glutenvrij, glutenfri, glutén, zöliakie, coeliaque, cœliaque, céliaque, celíaco, celiaca
milk | milk | | cheese, yoghurt, yogurt, casein, lactosefree, laktosefrei, dairyfree
eggs | eggs | | eggfree, albumen
nuts | nuts, peanuts | | nutfree, nussfrei, praline, marzipan, nougat, gianduja
seafood | fish, crustaceans, molluscs | | seafood
meat | | meat, gelatine | meat, fleisch, viande, carne, vlees
pork | | pork, gelatine | pork, pig, schweinefleisch, schwein, porc, cerdo, maiale
beef | | beef, gelatine | beef, hindu
gelatine | | gelatine | gelatine, gelatin, gélatine, gelatina
honey | | honey | honey, honig, miel, miele
alcohol | | alcohol | alcohol, alkohol, alcool
sugar | | sugar | sugar, zucker, sucre, azúcar, zucchero
"""
"""Name (to be asked about where a question mark stands), allergens, what else, the words for it."""
AVOIDED = tuple(
    (Avoided(name.removesuffix("?"), names_in(allergens), names_in(others), name.endswith("?")), names_in(forms))
    for name, allergens, others, forms in rows_of(_LIST, 4)
)
_ELSEWHERE = {
    "gluten": "weizen roggen gerste hafer dinkel mehl blé seigle orge avoine trigo centeno cebada avena grano frumento"
    " tarwe rogge gerst haver vete hvede pszenica",
    "crustaceans": "krebstier krebstiere garnelen krustentier crustacé crustacés crevette crevettes crustáceos marisco"
    " mariscos gambas crostacei gamberi schaaldieren räkor rejer reker",
    "eggs": "ei eier œuf œufs oeuf oeufs huevo huevos uovo uova ägg æg jajka jajko muna",
    "fish": "fisch poisson pescado peixe pesce vis fisk ryba kala",
    "peanuts": "erdnuss erdnüsse erdnuß arachide arachides cacahuète cacahuètes cacahuete cacahuetes arachidi amendoim"
    " pinda pindas jordnötter jordnødder peanøtter",
    "soybeans": "soja soia",
    "milk": "milch laktose laktosefri käse butter lait lactose fromage beurre leche lactosa queso latte lattosio"
    " formaggio leite melk lactosevrij mjölk mælk laktos mleko laktoza maito",
    "nuts": "nuss nuß nüsse nüssen haselnuss haselnüsse walnuss mandel mandeln noix noisette noisettes amande amandes"
    " nuez nueces avellana avellanas almendra almendras noce noci nocciola nocciole mandorle nozes noten nötter"
    " nødder nøtter orzechy pähkinä pähkinät",
    "celery": "sellerie céleri apio sedano selderij selleri",
    "mustard": "senf moutarde mostaza senape mostarda mosterd senap sennep",
    "sesame": "sesam sésame sésamo sesamo",
    "sulphites": "sulfit sulfite sulfites sulfitos solfiti sulfieten",
    "lupin": "lupine lupinen altramuces lupini",
    "molluscs": "weichtier weichtiere muscheln mollusque mollusques moules moluscos mejillones molluschi cozze"
    " weekdieren",
}
_NOTHING = (
    "none, no, nil, n/a, na, nothing, no allergies, no allergy, no allergens, none known, no diet, no"
    " restrictions, no dietary requirements, no dietary needs, not applicable, normal, standard, omnivore,"
    " everything, eats everything, eats anything, keine, nein, nichts, kein, keine allergien, aucun, aucune, non,"
    " rien, aucune allergie, ninguna, ninguno, nada, nessuna, nessuno, niente, geen, nee, niets, ingen, inga, nej,"
    " nei, brak, nie, nenhuma, nenhum, não"
)
_SAYS_NOTHING = (
    "no not non free from of off allergy allergies allergic allergen allergens to and or plus any all the a an is"
    " has severe severely mild strong strongly very serious intolerant intolerance sensitive sensitivity diet"
    " dietary please only eat eats food contain contains containing product products with without can cannot can't"
    " must mustn't avoid avoids avoiding disease i am we she he keine kein ohne allergie allergien gegen und frei"
    " allergique sans aux au et pas de des du les la le l'aux alergia alergias alérgico alérgica sin al a los las"
    " y allergia allergico allergica senza ai alle agli alla e geen zonder en voor allergisch vrij ingen inte utan"
    " och allergisk intolerancia intolleranza intolérance unverträglichkeit"
)


def _accentless(text: str) -> str:
    return "".join(one for one in unicodedata.normalize("NFKD", text) if not unicodedata.combining(one))


def _names() -> KnownNames[Avoided]:
    """Our own diets first, then every allergen by all its forms; a word of two lists means what the first says."""
    found: dict[tuple[str, ...], Avoided] = {}
    for avoided, forms in AVOIDED:
        for form in forms:
            found.setdefault(plain_words(_accentless(form)), avoided)
    for allergen in ALLERGENS:
        avoided = Avoided(allergen.name, _WIDER.get(allergen.name, (allergen.name,)))
        for form in (allergen.name, *allergen.forms, *_ELSEWHERE[allergen.name].split()):
            found.setdefault(plain_words(_accentless(form)), avoided)
    return KnownNames(found, max(map(len, found)))


_NAMES = _names()
_NONE = frozenset(plain_words(_accentless(one)) for one in _NOTHING.split(","))
_DASHES = " -–—./"
_FILLING = frozenset(word for text in _SAYS_NOTHING.split() for word in plain_words(_accentless(text)))


@lru_cache(maxsize=4096)
def diet_of(text: str) -> DietSaid:
    """What a guest's diet keeps out of the kit, and the words that are not understood."""
    plain = _accentless(text)
    words = plain_words(plain)
    if words in _NONE or not text.strip(_DASHES):
        return DietSaid()
    avoided: list[Avoided] = []
    left: list[str] = []
    spelled = spelled_words(unicodedata.normalize("NFC", text))
    spelled = spelled if len(spelled) == len(words) else words
    at = 0
    for thing, run in _NAMES.runs_in(words):
        if thing is not None:
            avoided.append(thing)
        elif run[0] not in _FILLING:
            left.append(spelled[at])
        at += len(run)
    if not avoided and not left:
        left = list(spelled) or [text.strip()]
    return DietSaid(tuple(dict.fromkeys(avoided)), tuple(dict.fromkeys(left)))


def speaks_of_diet(text: str) -> bool:
    """Whether a note that may be of anything names something of a diet, or an allergy."""
    said = diet_of(text)
    return bool(said.avoided) or not _OF_ALLERGY.isdisjoint(plain_words(_accentless(text)))


_OF_ALLERGY = frozenset(
    word
    for text in ("allergy allergic intolerance intolerant diet allergie allergique alergia alergico allergisch".split())
    for word in plain_words(text)
)
