"""An event as one page for a tablet: everything to work from, with boxes whose ticks outlast a reload."""

from __future__ import annotations

from markupsafe import Markup as Html

from foldwright.event.document.model import EventDocument, For
from foldwright.event.render.views import paper_view
from foldwright.render.themes import filled, load_page, page_script, policy_hash

_WIDE_MM, _HIGH_MM = 190.0, 80.0


def event_page(document: EventDocument, theme: str) -> bytes:
    """The whole page, right without a network. What is the studio's own (prices) is not on it."""
    ready = load_page(theme, "event")
    # Nothing stands at either end: some checkers of pages trim what they hash, browsers do not.
    style, script = ready.style.strip(), page_script("event")
    papers = [
        paper_view(
            paper, lambda svg, _wide, _high: svg.replace("<svg ", '<svg class="drawing" ', 1), _WIDE_MM, _HIGH_MM
        )
        for paper in document.papers
        if paper.whose is For.HELPERS
    ]
    parts = filled(
        ready.page,
        ready.name,
        document=document,
        papers=papers,
        style=Html(style),
        script=Html(script),
        policy=(
            f"default-src 'none'; img-src data:; font-src data:; style-src {policy_hash(style)}; "
            f"script-src {policy_hash(script)}; base-uri 'none'; form-action 'none'"
        ),
    )
    return "".join(parts).encode("utf-8")
