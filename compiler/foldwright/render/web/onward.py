"""A page that leads on to another: for an old name of a recipe's folder, and for the folder's own short address.

It works on every host, and opened from a file: nothing but HTML is asked for.
"""

from __future__ import annotations

from html import escape

from foldwright.document.catalogue import catalogue

_PAGE = """<!DOCTYPE html>
<html lang="{language}">
<head>
<meta charset="utf-8">
<title>{title}</title>
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<meta http-equiv="refresh" content="0; url={way}">
{canonical}</head>
<body>
<p>{says} <a href="{way}">{title}</a></p>
</body>
</html>
"""


def onward(title: str, way: str, address: str, language: str) -> bytes:
    """The page. `way` leads from it to the other; `address` is the other's own, where the studio's is known."""
    said = {"title": title, "way": way, "language": language, "says": catalogue(language).say("onward.says")}
    canonical = f'<link rel="canonical" href="{escape(address)}">\n' if address else ""
    page = _PAGE.format(**{name: escape(text) for name, text in said.items()}, canonical=canonical)
    return page.encode("utf-8")
