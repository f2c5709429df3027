"""A sheet written by hand: the birdhouse favour box, as `compose` would hand it on. Not a test."""

# ruff: noqa: E501
from __future__ import annotations

from fractions import Fraction
from html import escape

from foldwright.document.catalogue import catalogue
from foldwright.document.model import (
    CautionText,
    Document,
    Head,
    PanelLine,
    Photograph,
    Picture,
    PieceLine,
    Quantity,
    SectionText,
    StepText,
    StepTimeInWords,
    Substitute,
    SupplyLine,
    TimeSpan,
    ToolLine,
    TotalsInWords,
)
from foldwright.document.typeset import Typesetter
from foldwright.document.words import Both, MeasureInWords, Run, Runs, SetMeasure, plain
from foldwright.geometry.lengths import LengthId
from foldwright.geometry.scene import Caption, Face, LineKind, Scene, ShownLength, Stroke, Tone
from foldwright.measure.length import Length, System, Unit
from foldwright.measure.printed import Printed
from foldwright.measure.writing import typographic, write_exact
from foldwright.recipe.model import When
from foldwright.recipe.words import Emphasis, Paragraph, SectionKind, Text
from foldwright.vocabulary import Signal

WORDS = catalogue()
SET = Typesetter(WORDS)


def inch(text: str) -> Printed:
    """`4 1/4` as printed inches."""
    return write_exact(Length.of(sum(Fraction(part) for part in text.split()), Unit.INCH))


def mm(text: str) -> Printed:
    return write_exact(Length.of(Fraction(text), Unit.MILLIMETRE))


def single(imperial: str, metric: str) -> Both[SetMeasure]:
    return Both(SET.single(inch(imperial)), SET.single(mm(metric)))


def cross(imperial: str, metric: str) -> Both[SetMeasure]:
    inches = [inch(part) for part in imperial.split(" x ")]
    return Both(SET.cross(inches), SET.cross([mm(part) for part in metric.split(" x ")]))


def several(imperial: str, metric: str) -> Both[SetMeasure]:
    inches = [inch(part) for part in imperial.split(", ")]
    return Both(SET.listed(inches), SET.listed([mm(part) for part in metric.split(", ")]))


def run(*parts: str | Both[SetMeasure] | Run) -> Runs:
    """Strings become plain runs, phrases measured ones."""
    made: list[Run] = []
    for part in parts:
        match part:
            case str():
                made.append(Text(part))
            case Both():
                made.append(MeasureInWords(part))
            case _:
                made.append(part)
    return tuple(made)


def quantity(imperial: str, metric: str) -> Quantity:
    return Quantity(Length(inch(imperial).mm, Unit.INCH), single(imperial, metric))


def base_picture() -> Picture:
    width, height = 127.0, 107.95
    xs, ys = (0.0, 19.05, 107.95, 127.0), (0.0, 44.45, 63.5, 107.95)
    strokes = [Stroke(LineKind.CUT, ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height)), closed=True)]
    strokes += [Stroke(LineKind.SCORE, ((x, 0.0), (x, height))) for x in xs[1:3]]
    strokes += [Stroke(LineKind.SCORE, ((19.05, y), (107.95, y))) for y in ys[1:3]]
    strokes += [Stroke(LineKind.CUT, ((x, y), (x + 19.05, y))) for x in (0.0, 107.95) for y in ys[1:3]]
    printed: dict[LengthId, tuple[Printed, Printed]] = {}
    dimensions: list[ShownLength] = []

    def show(side: str, number: int, a: float, b: float, imperial: str, metric: str) -> None:
        name = LengthId("base", side, "panel" if number else "size", number)
        printed[name] = (inch(imperial), mm(metric))
        if side == "across":
            dimensions.append(ShownLength(name, (a, 0.0), (b, 0.0), "top", min(number, 1)))
        else:
            dimensions.append(ShownLength(name, (0.0, a), (0.0, b), "left", min(number, 1)))

    show("across", 0, 0, width, "5", "127")
    for number, (imperial, metric) in enumerate((("3/4", "19"), ("3 1/2", "89"), ("3/4", "19")), 1):
        show("across", number, xs[number - 1], xs[number], imperial, metric)
    show("down", 0, 0, height, "4 1/4", "107")
    for number, (imperial, metric) in enumerate((("1 3/4", "44"), ("3/4", "19"), ("1 3/4", "44")), 1):
        show("down", number, ys[number - 1], ys[number], imperial, metric)
    captions = (
        Caption("front", (63.5, 22.0), 88.9, 44.45),
        Caption("floor", (63.5, 54.0), 88.9, 19.05),
        Caption("back", (63.5, 85.7), 88.9, 44.45),
        Caption("left end", (9.5, 54.0), 19.05, 19.05),
        Caption("right end", (117.5, 54.0), 19.05, 19.05),
    )
    outline = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
    scene = Scene(width, height, (Face(outline, Tone.GOOD),), tuple(strokes), tuple(dimensions), captions)
    labels = Both(
        {name: typographic(pair[0]) for name, pair in printed.items()},
        {name: typographic(pair[1]) for name, pair in printed.items()},
    )
    return Picture(
        "base",
        scene,
        labels,
        (Text("Blank of the base"),),
        Both(
            "The base, 5 by 4 and 1 quarter inches, scored into nine panels.",
            "The base, 127 by 107 millimetres, scored into nine panels.",
        ),
    )


def time(seconds: int, words: str, line: str = "", estimated: bool = False) -> StepTimeInWords:
    return StepTimeInWords(TimeSpan(seconds, words), None, None, estimated, line or words)


def birdhouse() -> Document:
    head = Head(
        title="Birdhouse favour box",
        summary=run("A pocket-sized box with a birdhouse on either side: it holds three wrapped caramels."),
        credit="Reworked from a sample passed round our Tuesday table",
        licence="CC BY 4.0",
        licence_address="https://creativecommons.org/licenses/by/4.0/",
        revised="2026-11-20",
        revised_words="20 November 2026",
        makes="1 box",
        level="easy",
        audience="",
        studio="Harbour Street Paper Studio",
        author="The Tuesday table",
        address="https://harbourstreet.example/birdhouse",
        video="",
    )
    return Document(
        language="en",
        slug="birdhouse",
        system=System.IMPERIAL,
        head=head,
        labels=WORDS.below("page.label") | {"local-rules": WORDS.say("caution.local")},
        intro=(
            Paragraph(
                run(
                    "A quick, sturdy favour for a spring table. The box is one small tray; two birdhouse fronts hide its "
                    "walls and stand tall enough to tie the twine between them."
                )
            ),
        ),
        photo=Photograph("finished.png", "The finished box, two gingham fronts on a charcoal tray, tied with a bow"),
        supplies=_supplies(),
        tools=(
            ToolLine(run("paper trimmer with scoring blade")),
            ToolLine(run("small sharp scissors")),
            ToolLine(run("bone folder")),
            ToolLine(run("1 in circle punch"), (Substitute(run("a coin to draw round and small scissors")),)),
        ),
        pieces=_pieces(),
        cautions=(
            CautionText(
                "allergen",
                Signal.WARNING,
                "Warning",
                "The caramels contain milk.",
                "People with an allergy can fall seriously ill.",
                "Name it on the box, and keep the sweets in their wrappers.",
            ),
        ),
        steps=_steps(),
        sections=(
            SectionText(SectionKind.TIPS, run("Tips"), (Paragraph(run("Thin twine is easier to tie double.")),)),
            SectionText(
                SectionKind.VARIATIONS,
                run("Variations"),
                (
                    Paragraph(
                        run("Leave the roofs square and letter a name over each door, and the box is a place card.")
                    ),
                ),
            ),
        ),
        class_totals=TotalsInWords(TimeSpan(360, "6 min"), None, None, TimeSpan(360, "6 min"), True, "about 6 min"),
        totals=TotalsInWords(
            TimeSpan(1200, "20 min"),
            TimeSpan(180, "3 min"),
            None,
            TimeSpan(1380, "23 min"),
            True,
            "20 min, and 3 min to get ready (estimated)",
        ),
        rounding=Both((), ("The base is printed 107 mm long instead of 107.95 mm, so that its panels add up.",)),
        papers=("letter", "A4"),
    )


def _supplies() -> tuple[SupplyLine, ...]:
    return (
        SupplyLine(
            run("charcoal card"),
            "cardstock",
            (),
            run(
                "cardstock, ",
                Both(SetMeasure.of("100 lb cover"), SetMeasure.of("270 g/m²")),
                ", ",
                Both(SET.cross((inch("8 1/2"), inch("11"))), SetMeasure.of("A4")),
                " sheets",
            ),
        ),
        SupplyLine(
            run("gingham card"),
            "patterned card",
            (),
            run("patterned card, pattern one way, ", cross("12 x 12", "305 x 305"), " sheets"),
        ),
        SupplyLine(run("cotton twine"), "twine", run(single("36", "914")), ()),
        SupplyLine(
            run("strong tape"),
            "double-sided tape",
            run(single("12", "305")),
            run("double-sided tape, ", single("1/4", "6"), " wide"),
            (Substitute(run("wet glue"), run("let it dry 10 min")),),
        ),
        SupplyLine(run("foam square"), "foam adhesive", run("4"), ()),
        SupplyLine(run("ink pad"), "ink", run("a little"), (), colours="brown or plum", optional=True),
        SupplyLine(
            run("caramel"), "wrapped sweet", run("3"), run(cross("1 x 5/8 x 1/2", "25 x 16 x 13")), contains="milk"
        ),
    )


def _pieces() -> tuple[PieceLine, ...]:
    base = PieceLine(
        "base",
        1,
        "charcoal card",
        quantity("5", "127"),
        quantity("4 1/4", "107"),
        cross("5 x 4 1/4", "127 x 107"),
        (
            PanelLine("left end", quantity("3/4", "19")),
            PanelLine("floor", quantity("3 1/2", "89")),
            PanelLine("right end", quantity("3/4", "19")),
        ),
        (
            PanelLine("front", quantity("1 3/4", "44")),
            PanelLine("floor", quantity("3/4", "19")),
            PanelLine("back", quantity("1 3/4", "44")),
        ),
        (
            run("Cut ", cross("5 x 4 1/4", "127 x 107"), "."),
            run("Score ", several("3/4, 4 1/4", "19, 108"), " from the left edge."),
            run("Score ", several("1 3/4, 2 1/2", "44, 63"), " from the top edge."),
            run("Make 4 cuts, ", single("3/4", "19"), " long, in from the left and right edges along those scores."),
        ),
        base_picture(),
    )
    front = PieceLine(
        "birdhouse front",
        2,
        "gingham card",
        quantity("3 1/2", "89"),
        quantity("4", "102"),
        cross("3 1/2 x 4", "89 x 102"),
        (),
        (),
        (run("Cut ", cross("3 1/2 x 4", "89 x 102"), "."),),
        None,
    )
    return base, front


def _steps() -> tuple[StepText, ...]:
    knife = CautionText(
        "trimmer-blade",
        Signal.CAUTION,
        "Caution",
        "The trimmer's blade is open on one side.",
        "It cuts fingers as well as card.",
        "Keep the guard down, hold the card well away from the blade, and follow the rules of your house.",
        reminder="Keep the guard down.",
    )
    return (
        StepText(
            1,
            run("Cut and score the base"),
            (
                (
                    Paragraph(
                        run(
                            "Cut the charcoal card to ",
                            cross("5 x 4 1/4", "127 x 107"),
                            ". With a short edge against the fence, score at ",
                            single("1 3/4", "44"),
                            " and ",
                            single("2 1/2", "63"),
                            ". Turn the card and score ",
                            single("3/4", "19"),
                            " from each end.",
                        )
                    ),
                ),
            ),
            StepTimeInWords(
                TimeSpan(120, "2 min"), TimeSpan(180, "3 min"), None, False, "2 min, and 3 min to get ready"
            ),
            When.BEFORE_CLASS,
            "before class",
            (knife,),
            ("base",),
            ("base",),
            tip=(Paragraph(run("Score on the good side; the folds come out crisper.")),),
        ),
        StepText(
            2,
            run("Free the corner flaps"),
            (
                (
                    Paragraph(
                        run(
                            "Make four cuts with the scissors, each ",
                            single("3/4", "19"),
                            " long: start at a short edge and follow the long score as far as the short one. Each flap "
                            "stays joined to the front or the back. Snip ",
                            single("1/16", "1.5"),
                            " off the free edge of every flap ",
                            Emphasis(run("so that it clears")),
                            " the opposite wall.",
                        )
                    ),
                ),
            ),
            time(120, "2 min"),
            When.IN_CLASS,
            "",
            pieces=("base",),
            shows=("base",),
        ),
        StepText(
            3,
            run("Fold and glue the ends"),
            (
                (
                    Paragraph(
                        run(
                            "Fold every score away from you and rub it down with the bone folder. Put a strip of tape on the "
                            "outside of each flap, lift the front and back, tuck the flaps in behind the ends and press the "
                            "ends on to them."
                        )
                    ),
                ),
            ),
            time(240, "4 min", "about 4 min", estimated=True),
            When.IN_CLASS,
            "",
            pieces=("base",),
        ),
    )


def no_photo(photo: Photograph, width: int = 0) -> None:
    """A page without its photographs."""


def plain_drawing(picture: Picture, system: System) -> str:
    """A stand-in for a drawing: the outlines, and every length as text."""
    scene = picture.scene
    lines = "".join(
        f'<polyline points="{" ".join(f"{x:.2f},{y:.2f}" for x, y in stroke.points)}"/>' for stroke in scene.strokes
    )
    labels = "".join(
        f'<text x="0" y="{9 * at}">{text}</text>' for at, text in enumerate(picture.labels.of(system).values())
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {scene.width:.2f} {scene.height:.2f}" role="img">'
        f"<title>{escape(plain(picture.title, system))}</title>{lines}{labels}</svg>"
    )
