"""Each check of the structure holds for a good file and fails for one spoilt in just that way."""

from __future__ import annotations

import base64
import io
from collections.abc import Callable

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name
from PIL import Image

from printed.making import DRAWING, GOOD, add_content, element, made, spoilt
from printed.structure import figure_boxes, list_numbering, structure_complaints

Change = Callable[[pikepdf.Pdf], object]


def after(change: Change) -> list[str]:
    return structure_complaints(spoilt(made(), change))


def renamed(tag: str, to: str) -> Change:
    def change(file: pikepdf.Pdf) -> None:
        element(file, tag).S = Name(f"/{to}")

    return change


def test_a_good_file() -> None:
    assert structure_complaints(made()) == []
    assert structure_complaints(spoilt(made(), lambda file: None)) == []


def test_a_file_without_tags() -> None:
    assert structure_complaints(made(tags=False)) == ["the file has no structure"]


def test_a_figure_without_words_in_its_place() -> None:
    def drop(file: pikepdf.Pdf) -> None:
        del element(file, "Figure").Alt

    def blank(file: pikepdf.Pdf) -> None:
        element(file, "Figure").Alt = " "

    for change in (drop, blank):
        (complaint,) = after(change)
        assert "no words in its place" in complaint


@pytest.mark.parametrize(
    ("body", "complaint"),
    [
        ("<p>x</p>", "there are 0 headings of the first level, not one"),
        ("<h1>a</h1><h1>b</h1>", "there are 2 headings of the first level, not one"),
        ("<h1>a</h1><h3>b</h3>", "a heading of level 3 follows one of level 1"),
        ("<h1>a</h1><h2>b</h2><h4>c</h4>", "a heading of level 4 follows one of level 2"),
        ("<h2>b</h2><h1>a</h1>", "H2 comes first"),
    ],
)
def test_headings_that_do_not_nest(body: str, complaint: str) -> None:
    assert structure_complaints(made(body)) == [complaint]


def test_headings_that_do() -> None:
    assert structure_complaints(made("<h1>a</h1><h2>b</h2><h3>c</h3><h2>d</h2><h3>e</h3>")) == []


@pytest.mark.parametrize(
    ("tag", "to", "complaint"),
    [
        ("LI", "P", " holds P"),
        ("LBody", "P", " has no LBody"),
        ("L", "Div", "LI stands in Div"),
        ("LI", "Div", "LBody stands in Div"),
    ],
)
def test_lists_that_are_none(tag: str, to: str, complaint: str) -> None:
    assert [found for found in after(renamed(tag, to)) if complaint in found]


def test_an_empty_list() -> None:
    def empty(file: pikepdf.Pdf) -> None:
        element(file, "Document").K.append(file.make_indirect(Dictionary(S=Name.L, K=Array([]))))

    (complaint,) = after(empty)
    assert complaint.endswith("has no entries")


def test_lists_with_markers_and_lists_in_lists() -> None:
    lists = "<h1>a</h1><ol><li>one<li>two<ul><li>inner</ul></ol>"
    assert structure_complaints(made(lists, "ol,ul{list-style:decimal;padding-left:8mm}")) == []
    assert structure_complaints(made("<h1>a</h1><ol><li>one<ol><li>inner</ol></ol>")) == []


def test_what_weasyprint_makes_of_an_entry_with_a_marker_and_paragraphs() -> None:
    # A fact about WeasyPrint 70 that our pages must keep clear of: P right under LI.
    entry = made("<h1>a</h1><ol><li><p>one</p></ol>", "ol{list-style:decimal;padding-left:8mm}")
    assert [complaint.split(" ", 3)[3] for complaint in structure_complaints(entry)] == ["holds P", "has no LBody"]


def test_content_painted_outside_all_marks() -> None:
    assert after(add_content(b"10 10 5 5 re f")) == ["page 1: a path is painted outside all marks"]
    assert after(add_content(b"/Extra BMC 10 10 5 5 re f EMC")) == ["page 1: a path is painted outside all marks"]
    assert after(add_content(b"BI /W 1 /H 1 /BPC 8 /CS /G ID x EI")) == [
        "page 1: a picture is painted outside all marks"
    ]
    assert after(add_content(b"/Artifact BMC 10 10 5 5 re f EMC")) == []
    assert after(add_content(b"10 10 5 5 re W n")) == []


@pytest.mark.parametrize("operator", ["S", "s", "f", "F", "f*", "B", "B*", "b", "b*"])
def test_every_way_to_paint_a_path_counts(operator: str) -> None:
    path = f"10 10 m 15 10 l 15 15 l {operator}".encode()
    assert after(add_content(path)) == ["page 1: a path is painted outside all marks"]


def test_pictures_of_pixels() -> None:
    picture = io.BytesIO()
    Image.new("RGB", (8, 8), "red").save(picture, "PNG")
    address = "data:image/png;base64," + base64.b64encode(picture.getvalue()).decode()
    photograph = made(f"<h1>a</h1><img style='width:20mm' alt='A red square' src='{address}'>")
    assert structure_complaints(photograph) == []

    def again(file: pikepdf.Pdf) -> None:
        (name,) = file.pages[0].Resources.XObject.keys()
        file.pages[0].contents_add(f"{name} Do".encode())

    assert structure_complaints(spoilt(photograph, again)) == ["page 1: a picture is painted outside all marks"]


def test_marks_whose_number_stands_among_the_resources() -> None:
    def by_name(file: pikepdf.Pdf) -> None:
        file.pages[0].Resources.Properties = Dictionary(Facts=Dictionary(MCID=99))
        file.pages[0].contents_add(b"/Span /Facts BDC 10 10 5 5 re f EMC")

    assert after(by_name) == ["page 1: content 99 stands in the structure 0 times"]


def test_words_painted_outside_all_marks() -> None:
    def write(file: pikepdf.Pdf) -> None:
        (font, *_) = file.pages[0].Resources.Font.keys()
        file.pages[0].contents_add(b"BT %s 8 Tf <0001> Tj ET" % font.encode())

    assert after(write) == ["page 1: text is painted outside all marks"]


def test_content_that_is_not_in_the_structure() -> None:
    found = after(add_content(b"/Span <</MCID 99>> BDC 10 10 5 5 re f EMC"))
    assert found == ["page 1: content 99 stands in the structure 0 times"]


def test_content_twice_on_the_page_or_in_the_structure() -> None:
    assert after(add_content(b"/Span <</MCID 0>> BDC 10 10 5 5 re f EMC")) == [
        "page 1: content 0 is on the page 2 times"
    ]

    def again(file: pikepdf.Pdf) -> None:
        heading = element(element_in(file, "H1"), "Span")
        heading.K.append(heading.K[0])

    assert after(again) == ["page 1: content 0 stands in the structure 2 times"]


def element_in(file: pikepdf.Pdf, tag: str) -> pikepdf.Pdf:
    """The file itself, seen to begin with that element."""
    first = element(file, "Document").K[0]
    assert str(first.S) == f"/{tag}"
    return file


def test_an_element_taken_out_of_the_structure_leaves_its_content_homeless() -> None:
    def drop(file: pikepdf.Pdf) -> None:
        del element(file, "Document").K[0]

    found = after(drop)
    assert "page 1: content 0 stands in the structure 0 times" in found
    assert "there are 0 headings of the first level, not one" in found
    assert [complaint for complaint in found if "which is not in the structure" in complaint]


def test_content_of_a_page_that_is_not_there() -> None:
    def number(file: pikepdf.Pdf) -> None:
        element(file, "Span").K[0] = 77

    found = after(number)
    assert "page 1: content 77 is on the page 0 times" in found
    assert "page 1: content 0 stands in the structure 0 times" in found


def test_marks_within_marks() -> None:
    inner = b"/Artifact BMC /Span <</MCID 0>> BDC 10 10 5 5 re f EMC EMC"
    assert "page 1: Span stands inside Artifact" in after(add_content(inner))
    other = b"/Span <</MCID 0>> BDC /Artifact BMC 10 10 5 5 re f EMC EMC"
    assert "page 1: Artifact stands inside Span 0" in after(add_content(other))


def test_content_numbered_within_a_form() -> None:
    # WeasyPrint 70 draws what is half transparent as a form, and numbers its words as the page's own.
    found = structure_complaints(made("<h1>a</h1><p style='opacity:.5'>faint</p>"))
    assert len(found) == 1
    assert "numbered in a form" in found[0]
    faint = DRAWING.replace("<rect ", '<rect opacity=".5" ')
    assert structure_complaints(made("<h1>a</h1>" + faint)) == []


def test_a_foot_in_the_margin_box_is_not_in_the_structure() -> None:
    # A fact about WeasyPrint 70 that our pages must keep clear of.
    foot = made("<h1>a</h1>", "@page{@bottom-center{content:'foot';font:8pt Face}}")
    assert "page 1: content 1 stands in the structure 0 times" in structure_complaints(foot)


def test_a_parent_tree_that_leads_elsewhere() -> None:
    def swap(file: pikepdf.Pdf) -> None:
        entries = file.Root.StructTreeRoot.ParentTree.Nums[1]
        entries[0], entries[1] = entries[1], entries[0]

    def forget(file: pikepdf.Pdf) -> None:
        del file.Root.StructTreeRoot.ParentTree

    def page_without_key(file: pikepdf.Pdf) -> None:
        del file.pages[0].obj.StructParents

    assert after(swap) == ["page 1: the parent of content 0 is not Span", "page 1: the parent of content 1 is not Span"]
    assert len(after(forget)) > 5
    assert len(after(page_without_key)) > 5


def test_a_parent_tree_with_branches_is_read() -> None:
    def branch(file: pikepdf.Pdf) -> None:
        tree = file.Root.StructTreeRoot.ParentTree
        file.Root.StructTreeRoot.ParentTree = Dictionary(Kids=Array([file.make_indirect(Dictionary(Nums=tree.Nums))]))

    assert after(branch) == []


def test_tags_of_ones_own_need_a_role() -> None:
    def with_role(role: str) -> Change:
        def change(file: pikepdf.Pdf) -> None:
            element(file, "P").S = Name.Step
            file.Root.StructTreeRoot.RoleMap = Dictionary(Step=Name(f"/{role}"))

        return change

    assert after(renamed("P", "Step")) == ["Step is no standard tag and stands for none"]
    assert after(with_role("P")) == []
    assert after(with_role("Step")) == ["Step is no standard tag and stands for none"]


def test_links_that_say_nothing_or_stand_nowhere() -> None:
    def dumb(file: pikepdf.Pdf) -> None:
        del file.pages[0].Annots[0].Contents

    def nowhere(file: pikepdf.Pdf) -> None:
        link = element(file, "Link")
        link.K = Array([kid for kid in link.K if isinstance(kid, int)])

    def led_astray(file: pikepdf.Pdf) -> None:
        nums = file.Root.StructTreeRoot.ParentTree.Nums
        nums[len(nums) - 1] = element(file, "H1")

    def unordered(file: pikepdf.Pdf) -> None:
        del file.pages[0].obj.Tabs

    assert [complaint.split(" annotation ")[1].split(" ", 1)[1] for complaint in after(dumb)] == [
        "does not say what it is"
    ]
    assert [
        complaint for complaint in after(nowhere) if "annotation" in complaint and "not in the structure" in complaint
    ]
    (astray,) = after(led_astray)
    assert astray.endswith("is not in the structure")
    assert after(unordered) == ["page 1: its annotations are not visited in the order of the structure"]
    assert any("stands in Span" in complaint for complaint in after(renamed("Link", "Span")))


def test_a_structure_that_bites_its_tail() -> None:
    def bite(file: pikepdf.Pdf) -> None:
        element(file, "L").K.append(element(file, "Document"))

    with pytest.raises(ValueError, match="twice"):
        after(bite)


def test_a_numbered_list_that_does_not_say_so() -> None:
    marked = made("<h1>a</h1><ol><li>one</ol>", "ol{list-style:decimal;padding-left:8mm}")
    assert len(list_numbering(marked)) == 1

    def say(file: pikepdf.Pdf) -> None:
        element(file, "L").A = Dictionary(O=Name.List, ListNumbering=Name.Decimal)

    assert list_numbering(spoilt(marked, say)) == []
    assert list_numbering(made()) == []


def test_a_figure_whose_box_is_elsewhere() -> None:
    assert len(figure_boxes(made())) == 1

    def put_right(file: pikepdf.Pdf) -> None:
        x0, y0, x1, y1 = (float(side) for side in element(file, "Figure").A.BBox)
        height = float(file.pages[0].mediabox[3])
        # CSS pixels from the top, 96 to the inch, as points from the foot of the page.
        element(file, "Figure").A.BBox = Array([0.75 * x0, height - 0.75 * y1, 0.75 * x1, height - 0.75 * y0])

    assert figure_boxes(spoilt(made(), put_right)) == []


def test_several_pages() -> None:
    two = GOOD + "<p style='break-before:page'>More of it.</p>"
    assert structure_complaints(made(two)) == []
    found = structure_complaints(spoilt(made(two), lambda file: file.pages[1].contents_add(b"1 1 5 5 re f")))
    assert found == ["page 2: a path is painted outside all marks"]
