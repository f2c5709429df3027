"""The second reader finds nothing in a good file and, in a spoilt one, what was spoilt."""

from __future__ import annotations

from collections.abc import Callable

import page
import pikepdf
import pytest

from printed.making import add_content, element, made, spoilt
from printed.validated import PROFILE, validator_complaints


def test_a_good_file_has_no_failure() -> None:
    assert validator_complaints(made()) == []


def test_it_looks_at_more_than_the_checkpoints() -> None:
    """The Matterhorn protocol 1.1 has 31 checkpoints (PDF Association), most of them of several conditions."""
    assert page.validate_pdf_bytes(made(), profile=PROFILE).rules.total > 3 * 31


def without(*path: str) -> Callable[[pikepdf.Pdf], object]:
    def change(file: pikepdf.Pdf) -> None:
        holder = file.Root
        for name in path[:-1]:
            holder = holder[name]
        del holder[path[-1]]

    return change


def of_all(key: str, value: str, lost: str) -> Callable[[pikepdf.Pdf], object]:
    """Take `lost` out of every object whose `key` is `value`."""

    def change(file: pikepdf.Pdf) -> None:
        for thing in file.objects:
            if isinstance(thing, pikepdf.Dictionary) and thing.get(key) == value:
                del thing[lost]

    return change


def named(tag: str, other: str) -> Callable[[pikepdf.Pdf], object]:
    return lambda file: element(file, tag).__setattr__("S", pikepdf.Name(f"/{other}"))


def bare_figure(file: pikepdf.Pdf) -> None:
    del element(file, "Figure").Alt


def bare_link(file: pikepdf.Pdf) -> None:
    del file.pages[0].Annots[0].Contents


@pytest.mark.parametrize(
    ("change", "rule"),
    [
        (bare_figure, "FIGURE-ALTERNATIVE-TEXT"),
        (bare_link, "LINK-CONTENTS"),
        (named("H2", "H3"), "HEADING-NESTING"),
        (named("LI", "P"), "LBODY-PARENT"),
        (named("P", "Odd"), "STRUCT-TREE-ROLE-MAP"),
        (without("/Lang"), "TEXT-LANGUAGE"),
        (without("/Metadata"), "METADATA-TITLE"),
        (without("/MarkInfo"), "TAGGED-DOCUMENT"),
        (of_all("/Subtype", "/Type0", "/ToUnicode"), "FONT-UNICODE-MAPPING"),
        (of_all("/Type", "/FontDescriptor", "/FontFile2"), "FONT-EMBEDDING"),
        (add_content(b"0 0 10 10 re f"), "CONTENT-TAGGING"),
    ],
)
def test_each_thing_that_is_spoilt_is_found(change: Callable[[pikepdf.Pdf], object], rule: str) -> None:
    rules = [complaint.partition(":")[0] for complaint in validator_complaints(spoilt(made(), change))]
    assert f"PDFUA1-{rule}-001" in rules


def test_a_cell_that_belongs_to_no_head_is_found() -> None:
    (complaint,) = validator_complaints(made("<h1>a</h1><table><tr><th>b<td>c<tr><th>d<td>e</table>"))
    assert complaint.startswith("PDFUA1-TABLE-HEADERS-SCOPE-001: ")
