"""The cutting table: lays on the garment's cloths in; words, pictures and files out.

A garment may be cut from several cloths, as a lined coat is: the first lay is the main cloth's.
"""

import json
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from ..cloth.chalk import ChalkPlan, chalk_plan, down_the_cloth
from ..lay.bolt import BoltLay, lay_on_bolt
from ..sewing.materials import Material
from ..sheets.chalk_words import before_you_start, piece_words
from ..sheets.lay_picture import close_up_svg, lay_svg
from ..words.units import Unit, format_length
from ..words.wording import said, spell

if TYPE_CHECKING:
    from ..sheets.chalk_plan import LayDrawing

Bolts = Sequence[BoltLay]


def plan_of(bolt: BoltLay, unit: Unit) -> ChalkPlan:
    """The chalk plan: x from the physical selvedge, so the selvedge's width is added."""
    return chalk_plan(
        _outlines(bolt), bolt.cloth.laid_width, bolt.cut_length, unit, folded=bolt.cloth.folded,
        on_fold={_copy_title(bolt, p.piece, p.copy) for p in bolt.layout.placements if p.at_fold},
    )


def _outlines(bolt: BoltLay) -> list[tuple[str, list[tuple[float, float]]]]:
    """Every placed piece's title and cutting line, x from the physical selvedge, down the cloth."""
    edge = bolt.cloth.selvedge
    outlines = [
        (_copy_title(bolt, p.piece, p.copy), [(x + edge, y) for x, y in p.outline])
        for p in bolt.layout.placements
    ]
    return sorted(outlines, key=lambda item: down_the_cloth(item[1]))


def _copy_title(bolt: BoltLay, piece: str, copy: int) -> str:
    several = sum(p.piece == piece for p in bolt.layout.placements) > 1
    return f"{piece} {copy}" if several else piece


def lay_json(bolt: BoltLay) -> dict[str, Any]:
    """The outside contract lay.json."""
    return {
        **bolt.layout.to_json(bolt.cloth.laid_width),
        "to_buy": round(bolt.buy_length, 1),
        "folded": bolt.cloth.folded,
        "notes": [spell(note, "cm") for note in bolt.notes],
    }


def lays_in_words(bolts: Bolts, unit: Unit, torn: bool) -> dict[str, Any]:
    """The main cloth's lay as `_in_words` has it, and in `further` those of the other cloths."""
    main, *others = (
        {**_in_words(bolt, unit), "tearing": "" if torn else spell(tearing_costs(bolt), unit)}
        for bolt in bolts
    )
    return {**main, "further": others}


def _in_words(bolt: BoltLay, unit: Unit) -> dict[str, Any]:
    """A lay for people: lengths to cut and to buy, the picture, shares, and the chalk steps."""
    plan, outlines = plan_of(bolt, unit), [outline for _, outline in _outlines(bolt)]
    return {
        "part": bolt.part,
        "width": format_length(bolt.cloth.width, unit),
        "cut_length": format_length(bolt.cut_length, unit),
        "buy_length": format_length(bolt.buy_length, unit),
        "used": f"{bolt.layout.utilisation:.0%}",
        "seconds": round(bolt.layout.seconds, 2),
        "rounds": bolt.layout.rounds,
        "weight": _amount(bolt.cloth.weight_of(bolt.buy_length), "g"),
        "price": _amount(bolt.cloth.price_of(bolt.buy_length), ""),
        "missing": None if bolt.missing is None else format_length(bolt.missing, unit),
        "notes": [spell(note, unit) for note in bolt.notes],
        "picture": lay_svg(bolt.layout, bolt.cloth, unit=unit, plan=plan),
        "shares": [
            {"owner": s.owner, "part": f"{s.part:.0%}", "length": format_length(s.length, unit),
             "weight": _amount(s.weight, "g"), "price": _amount(s.price, "")}
            for s in bolt.shares()
        ],
        "chalk": {
            "first": [*before_you_start(plan)],
            "pieces": [
                {"title": w.title, "marks": [list(m) for m in w.marks], "joins": list(w.joins),
                 "check": w.check, "picture": close_up_svg(piece, outline)}
                for piece, outline, w in zip(plan.pieces, outlines, piece_words(plan), strict=True)
            ],
        },
    }


def _amount(value: float | None, unit: str) -> str | None:
    return None if value is None else f"{value:.0f} {unit}" if unit else f"{value:.2f}"


def tearing_costs(bolt: BoltLay) -> str:
    """One sentence: what tearing costs in length against this lay."""
    torn = lay_on_bolt(bolt.orders, bolt.cloth, part=bolt.part, tearable=True)
    more = torn.cut_length - bolt.cut_length
    if more <= 5:
        return f"Torn in full-width strips it takes no more: {said(torn.cut_length)}."
    return (f"Torn in full-width strips it would take {said(torn.cut_length)}, "
            f"{said(more)} more than this lay.")


def file_name(kind: str, part: str) -> str:
    """lay.json, and for a lining lay-lining.json."""
    name, _, ending = kind.partition(".")
    return kind if part == "main" else f"{name}-{part}.{ending}"


def lay_files(
    bolts: Bolts, unit: Unit, *, title: str, name: str | None, paper: str = "A4"
) -> dict[str, bytes]:
    """`lay.json` and `lay.svg` (true size) of each cloth, and one `chalk-plan.pdf` for all of them."""
    from ..sheets.chalk_plan import chalk_plan_pdf
    from ..sheets.lay_file import lay_file_svg
    from ..sheets.paper import PAPERS, read_paper

    files = {}
    for bolt in bolts:
        content = json.dumps(lay_json(bolt), ensure_ascii=False, indent=1)
        files[file_name("lay.json", bolt.part)] = content.encode()
        svg = lay_file_svg(bolt.layout, bolt.cloth, unit=unit, plan=plan_of(bolt, unit))
        files[file_name("lay.svg", bolt.part)] = svg.encode()
    sheet = read_paper(paper)
    if not (sheet.width and sheet.height):
        sheet = PAPERS["A4"]
    files["chalk-plan.pdf"] = chalk_plan_pdf(
        [_drawing(bolt, unit) for bolt in bolts], paper=sheet, title=title, name=name
    )
    return files


def _drawing(bolt: BoltLay, unit: Unit) -> "LayDrawing":
    from ..sheets.chalk_plan import LayDrawing

    return LayDrawing(plan_of(bolt, unit), bolt.layout, bolt.cloth, bolt.part)


def booklet_pages(bolts: Bolts, unit: Unit) -> tuple[list[Any], list[Material]]:
    """What lays add to the booklet: the chalk plans' drawings and sentences, and the cloth to buy."""
    chalk: list[Any] = []
    to_buy = []
    for bolt in bolts:
        drawing = _drawing(bolt, unit)
        chalk += [*before_you_start(drawing.plan), drawing]
        for words in piece_words(drawing.plan):
            marks = "; ".join(f"{label} {x} across, {y} down" for label, x, y in words.marks)
            chalk.append(f"{words.title}: {marks}. {' '.join((*words.joins, words.check))}".strip())
        what = "Cloth" if bolt.part == "main" else f"Cloth for the {bolt.part},"
        after = f"{said(bolt.cut_length)} to cut after washing"
        to_buy.append(Material(
            f"{what} {format_length(bolt.cloth.width, unit)} wide", said(bolt.buy_length),
            after if bolt.buy_length > bolt.cut_length + 1 else "",
        ))
    return chalk, to_buy
