"""Made of units.txt by `python3 compiler/start.py units`, with pint: mend that file, never this one.

A row: pint's name, what is measured, the group, the spellings, and for lengths and paper weights the exact size in
millimetres or g/m² as a whole number over another.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

# ruff: noqa: E501
# fmt: off
UNITS: Mapping[str, tuple[str, str, str, tuple[str, ...], tuple[int, int] | None]] = MappingProxyType({
    'm': ('metre', 'length', 'metric', ('m', 'metre', 'metres', 'meter', 'meters'), (1000, 1)),
    'cm': ('centimetre', 'length', 'metric', ('cm', 'centimetre', 'cms', 'centimetres', 'centimeter', 'centimeters'), (10, 1)),
    'mm': ('millimetre', 'length', 'metric', ('mm', 'millimetre', 'mms', 'millimetres', 'millimeter', 'millimeters'), (1, 1)),
    'm²': ('square_metre', 'area', 'metric', ('m²', 'square metre', 'm2', 'sq m', 'sqm', 'square metres', 'square meter', 'square meters'), None),
    'cm²': ('square_centimetre', 'area', 'metric', ('cm²', 'square centimetre', 'cm2', 'sq cm', 'square centimetres', 'square centimeter', 'square centimeters'), None),
    'mm²': ('square_millimetre', 'area', 'metric', ('mm²', 'square millimetre', 'mm2', 'sq mm', 'square millimetres', 'square millimeter', 'square millimeters'), None),
    'l': ('litre', 'volume', 'metric', ('l', 'litre', 'litres', 'liter', 'liters'), None),
    'cl': ('centilitre', 'volume', 'metric', ('cl', 'centilitre', 'centilitres', 'centiliter', 'centiliters'), None),
    'dl': ('decilitre', 'volume', 'metric', ('dl', 'decilitre', 'decilitres', 'deciliter', 'deciliters'), None),
    'ml': ('millilitre', 'volume', 'metric', ('ml', 'millilitre', 'mls', 'millilitres', 'milliliter', 'milliliters'), None),
    'g': ('gram', 'mass', 'metric', ('g', 'gram', 'gr', 'grams', 'gramme', 'grammes'), None),
    'kg': ('kilogram', 'mass', 'metric', ('kg', 'kilogram', 'kgs', 'kilo', 'kilos', 'kilograms', 'kilogramme', 'kilogrammes'), None),
    'g/m²': ('gram_per_square_metre', 'paper_weight', 'metric', ('g/m²', 'gram/square metre', 'g/m2', 'g/sq m', 'g/sqm', 'gsm'), (1, 1)),
    'K': ('kelvin', 'temperature', 'metric', ('k', 'kelvin'), None),
    '°C': ('degree_Celsius', 'temperature', 'metric', ('°c', 'degree celsius', 'degc', 'celsius', 'centigrade', 'degrees c', 'degrees celsius'), None),
    'in': ('inch', 'length', 'imperial', ('in', 'inch', 'ins', 'inches', '"', '″', '”', '“', "''", '′′', '’’'), (127, 5)),
    'ft': ('foot', 'length', 'imperial', ('ft', 'foot', 'feet', "'", '′', '’'), (1524, 5)),
    'yd': ('yard', 'length', 'imperial', ('yd', 'yard', 'yds', 'yards'), (4572, 5)),
    'mil': ('mil', 'length', 'imperial', ('mil', 'mils', 'pt', 'pts', 'point', 'points', 'thou'), (127, 5000)),
    'sq in': ('square_inch', 'area', 'imperial', ('sq in', 'square inch', 'in2', 'in²', 'sq ins', 'square inches'), None),
    'sq ft': ('square_foot', 'area', 'imperial', ('sq ft', 'square foot', 'ft2', 'ft²', 'square feet'), None),
    'sq yd': ('square_yard', 'area', 'imperial', ('sq yd', 'square yard', 'yd2', 'yd²', 'sq yds', 'square yards'), None),
    'gal': ('gallon', 'volume', 'imperial', ('gal', 'gallon', 'gals', 'gallons'), None),
    'qt': ('quart', 'volume', 'imperial', ('qt', 'quart', 'qts', 'quarts'), None),
    'pint': ('pint', 'volume', 'imperial', ('pint', 'pints'), None),
    'cup': ('cup', 'volume', 'imperial', ('cup', 'cups'), None),
    'fl oz': ('fluid_ounce', 'volume', 'imperial', ('fl oz', 'fluid ounce', 'floz', 'fluid ounces'), None),
    'tbsp': ('tablespoon', 'volume', 'imperial', ('tbsp', 'tablespoon', 'tbsps', 'tbs', 'tablespoons'), None),
    'tsp': ('teaspoon', 'volume', 'imperial', ('tsp', 'teaspoon', 'tsps', 'teaspoons'), None),
    'lb': ('pound', 'mass', 'imperial', ('lb', 'pound', 'lbs', 'pounds'), None),
    'oz': ('ounce', 'mass', 'imperial', ('oz', 'ounce', 'ozs', 'ounces'), None),
    'lb bond': ('pound_bond', 'paper_weight', 'imperial', ('lb bond', 'pound bond', 'lb writing', 'lb ledger'), (4123567, 1096772)),
    'lb text': ('pound_text', 'paper_weight', 'imperial', ('lb text', 'pound text', 'lb book', 'lb offset'), (45359237, 30645100)),
    'lb cover': ('pound_cover', 'paper_weight', 'imperial', ('lb cover', 'pound cover'), (45359237, 16774160)),
    'lb index': ('pound_index', 'paper_weight', 'imperial', ('lb index', 'pound index'), (90718474, 50177319)),
    'lb tag': ('pound_tag', 'paper_weight', 'imperial', ('lb tag', 'pound tag'), (45359237, 27870912)),
    'lb bristol': ('pound_bristol', 'paper_weight', 'imperial', ('lb bristol', 'pound bristol'), (90718474, 41370885)),
    '°F': ('degree_Fahrenheit', 'temperature', 'imperial', ('°f', 'degree fahrenheit', 'degf', 'fahrenheit', 'degrees f', 'degrees fahrenheit'), None),
    'typographic point': ('typographic_point', 'length', 'typesetting', ('typographic point',), (127, 360)),
    'pica': ('pica', 'length', 'typesetting', ('pica',), (127, 30)),
    'pixel': ('pixel', 'length', 'typesetting', ('pixel',), (127, 480)),
    'quarter millimetre': ('quarter_millimetre', 'length', 'typesetting', ('quarter millimetre',), (1, 4)),
})
"""Every unit by its symbol."""
