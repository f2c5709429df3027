"""How wide the letters of Source Sans are, so that a label's room can be known without opening a font.

Advance widths in thousandths of the type size, from the `hmtx` table of SourceSansPro-Regular as the package
font-source-sans-pro brings it, for Latin with its accents and the signs of measures. tests/render/test_letter_widths.py
reads the font again and compares.
"""

from __future__ import annotations

_LETTERS_BY_WIDTH: dict[int, str] = {
    86: "\u2044",
    125: "\u202f",
    200: " ",
    202: "\u00a0",
    241: "|",
    246: "iìíîïĩīĭįı",
    247: "jĵ",
    249: "',.:;\u2019",
    255: "lĺļ",
    262: "ł",
    263: "IÌÍÎÏĨĪĬĮİ",
    270: "ľ",
    289: "!",
    292: "f",
    303: "()[]{}",
    311: "-",
    331: "°",
    338: "tţťŧ",
    347: "rŕŗř",
    350: "/\\",
    362: "ŀ",
    418: "*",
    419: "sśŝşš",
    425: '"?zźżž',
    446: "x",
    456: "cçćĉċč",
    467: "vyýÿŷ",
    476: "YÝŶŸ",
    480: "JĴ\u2013",
    486: "LĹĻĽĿ",
    489: "Ł",
    493: "ĳ",
    494: "F",
    495: "kķĸ",
    496: "eèéêëēĕėęě",
    497: "#$+0123456789<=>^~×÷",
    500: "_",
    504: "agàáâãäåāăąĝğġģ",
    513: "X",
    515: "V",
    526: "Ĳ",
    527: "EÈÉÊËĒĔĖĘĚ",
    534: "SŚŜŞŠ",
    536: "TŢŤŦ",
    539: "ZŹŻŽ",
    542: "`oòóôõöøōŏő",
    544: "AhuÀÁÂÃÄÅùúûüĀĂĄĥħũūŭůűų",
    545: "ð",
    547: "nñńņňŋ",
    553: "b",
    555: "dpqþđ",
    566: "P",
    569: "RŔŖŘ",
    571: "CÇĆĈĊČ",
    573: "ď",
    576: "ß",
    579: "KĶ",
    583: "Þ",
    588: "B",
    609: "&",
    615: "DĎ",
    617: "GĜĞĠĢ",
    635: "Ŋ",
    638: "ÐĐ",
    645: "UÙÚÛÜŨŪŬŮŰŲ",
    647: "NÑŃŅŇ",
    652: "HĤ",
    664: "OQÒÓÔÕÖØŌŎŐ",
    687: "Ħ",
    718: "wŵ",
    727: "M",
    775: "ŉ",
    785: "æ",
    786: "WŴ",
    800: "\u2014",
    822: "Æ",
    824: "%",
    829: "m",
    839: "œ",
    847: "@Œ",
    948: "\u2026",
}
LETTER_WIDTHS: dict[str, int] = {letter: width for width, letters in _LETTERS_BY_WIDTH.items() for letter in letters}

OTHER_LETTER = 600
"""A guess on the wide side for a letter the table does not hold."""


def width_of(text: str) -> float:
    """The width of a text set without kerning, as a multiple of its type size."""
    widths = LETTER_WIDTHS
    return sum([widths.get(letter, OTHER_LETTER) for letter in text]) / 1000
