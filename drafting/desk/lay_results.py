"""The cutting table: lays on the garment's cloths in; words, pictures and files out.

A garment may be cut from several cloths, as a lined coat is: the first lay is the main cloth's.
"""

import json
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from hashlib import sha256
from typing import TYPE_CHECKING, Any

from ..cloth.chalk import ChalkPlan, ToChalk
from ..cloth.chalk_json import as_json as chalk_plan_json
from ..cloth.chalk_pieces import chalk_plan
from ..cloth.in_the_shop import SQUARING, reckoned_shrinkage, shop_length, shop_words
from ..geometry import Point
from ..lay.bolt import BoltLay, lay_on_bolt
from ..lay.marked import MarkedPiece, marked_pieces, to_json
from ..sewing.materials import Material
from ..sheets.chalk_words import PieceWords, before_you_start, piece_words
from ..sheets.lay_picture import close_ups_svg, lay_svg
from ..words.units import Unit, format_length
from ..words.wording import said, spell

if TYPE_CHECKING:
    from ..sheets.chalk_plan import LayDrawing

Bolts = Sequence[BoltLay]


def plan_of(bolt: BoltLay, unit: Unit) -> ChalkPlan:
    """The chalk plan: x from the physical selvedge, so the selvedge's width is added."""
    to_chalk = [_to_chalk(bolt, piece, number) for number, piece in enumerate(marked_pieces(bolt))]
    return chalk_plan(to_chalk, bolt.cloth.laid_width, bolt.cut_length, unit, folded=bolt.cloth.folded,
                      cloth=bolt.piece.name if bolt.piece else "")


def _planned(bolt: BoltLay, unit: Unit) -> list[tuple[BoltLay, ChalkPlan]]:
    """The lays on pieces of cloth that are there already, and the bolt's last, each with its plan."""
    return [(lay, plan_of(lay, unit)) for lay in (*bolt.on_hand, bolt)]


def _to_chalk(bolt: BoltLay, piece: MarkedPiece, number: int) -> ToChalk:
    edge = Point(bolt.cloth.selvedge, 0.0)
    placement = piece.placement
    return ToChalk(
        _copy_title(bolt, placement.piece, placement.copy),
        tuple(p + edge for p in piece.outline),
        tuple(replace(line, points=tuple(p + edge for p in line.points)) for line in piece.lines),
        tuple(replace(spot, at=spot.at + edge) for spot in piece.spots),
        placement.at_fold, number,
    )


def _copy_title(bolt: BoltLay, piece: str, copy: int) -> str:
    several = sum(p.piece == piece for p in bolt.layout.placements) > 1
    where = f", on {bolt.piece.name}" if bolt.piece else ""
    return f"{piece} {copy}{where}" if several else f"{piece}{where}"


def lay_json(bolt: BoltLay) -> dict[str, Any]:
    """The outside contract lay.json: a placement's `holes` (as they are cut), `lines` and `marks` lie where
    its outline does. `on_hand` are lays on pieces of cloth, from the edges they were measured from."""
    laid = bolt.layout.to_json(bolt.cloth.laid_width)
    marked = [to_json(piece, bolt.layout.width) for piece in marked_pieces(bolt)]
    placed = zip(laid["placements"], marked, strict=True)
    return {
        **laid,
        "placements": [{**placement, **inside} for placement, inside in placed],
        "to_buy": round(bolt.buy_length, 1),
        "folded": bolt.cloth.folded,
        "notes": [spell(note, "cm") for note in bolt.notes],
        **({"on_hand": [_piece_json(lay) for lay in bolt.on_hand]} if bolt.on_hand else {}),
    }


def _piece_json(lay: BoltLay) -> dict[str, Any]:
    assert lay.piece, "a lay on a piece of cloth"
    told = lay_json(lay)
    return {
        "name": lay.piece.name,
        "outline": [[p.x, p.y] for p in lay.piece.outline],
        "holes": [[[p.x, p.y] for p in hole] for hole in lay.piece.holes],
        "utilisation": told["utilisation"],
        "placements": told["placements"],
        "left_over": [[[x, y] for x, y in corners] for corners in lay.left_over],
    }


def lays_in_words(bolts: Bolts, unit: Unit, torn: bool) -> dict[str, Any]:
    """The main cloth's lay as `bolt_in_words` has it, and in `further` those of the other cloths."""
    main, *others = (
        {**bolt_in_words(bolt, unit), "tearing": "" if torn else spell(tearing_costs(bolt), unit)}
        for bolt in bolts
    )
    return {**main, "further": others}


def bolt_in_words(bolt: BoltLay, unit: Unit) -> dict[str, Any]:
    """A lay for people: lengths to cut and to buy, the picture, shares, and the chalk steps, those on pieces
    that are there already first."""
    *planned, (_, plan) = _planned(bolt, unit)
    plans = [one for lay, one in (*planned, (bolt, plan)) if lay.layout.placements]
    before = sum(len(lay.layout.placements) for lay in bolt.on_hand)
    return {
        "part": bolt.part,
        "laid_as": _laid_as(bolt),
        "width": format_length(bolt.cloth.width, unit),
        "cut_length": format_length(bolt.cut_length, unit),
        "buy_length": format_length(bolt.buy_length, unit) if bolt.cut_length else "nothing",
        "shop_length": shop_words(shop_length(bolt.cloth, bolt.cut_length, unit), unit)
        if bolt.cut_length else "nothing",
        "shop_remark": spell(counted_in(bolt), unit),
        "used": f"{bolt.layout.utilisation:.0%}",
        "seconds": round(bolt.layout.seconds, 2),
        "rounds": bolt.layout.rounds,
        "weight": _amount(bolt.cloth.weight_of(bolt.buy_length), "g"),
        "price": _amount(bolt.cloth.price_of(bolt.buy_length), ""),
        "missing": None if bolt.missing is None else format_length(bolt.missing, unit),
        "notes": [spell(note, unit) for note in (*from_hand(bolt), *bolt.notes)],
        "picture": lay_svg(bolt.layout, bolt.cloth, unit=unit, plan=plan, before=before)
        if bolt.cut_length else "",
        "on_hand": [_piece_in_words(lay, one, before)
                    for (lay, one), before in zip(planned, _counted_on(bolt.on_hand), strict=True)],
        **_left_in_words(left_of_bolt(bolt), unit),
        "shares": [
            {"owner": s.owner, "part": f"{s.part:.0%}", "length": format_length(s.length, unit),
             "weight": _amount(s.weight, "g"), "price": _amount(s.price, "")}
            for s in bolt.shares()
        ],
        "chalk": {
            "first": [*before_you_start(plan if bolt.cut_length or not plans else plans[0])],
            "pieces": [step for one in plans for step in _chalk_steps(one)],
        },
    }


def _laid_as(bolt: BoltLay) -> str:
    """The same for lays of the same pieces in the same places, to the millimetre, whatever the unit."""
    lies = [(lay.cloth.name if lay.piece else "", placed.piece, placed.copy,
             [[round(x), round(y)] for x, y in placed.outline])
            for lay in (*bolt.on_hand, bolt) for placed in lay.layout.placements]
    return sha256(repr(sorted(lies)).encode()).hexdigest()[:16]


def _chalk_steps(plan: ChalkPlan) -> list[dict[str, Any]]:
    """Its pieces; the first on a piece of cloth says how that is to lie."""
    lie = before_you_start(plan)[:1] if plan.cloth else ()
    return [
        {"title": w.title, "before": [*(lie if not number else ()), *w.before], "columns": list(w.columns),
         "marks": [[m.label, m.across, m.down, m.note] for m in w.marks], "joins": list(w.joins),
         "check": w.check, "picture": close_ups_svg(piece, plan.width)}
        for number, (piece, w) in enumerate(zip(plan.pieces, piece_words(plan), strict=True))
    ]


def from_hand(bolt: BoltLay) -> tuple[str, ...]:
    """What is cut from what is there already, and what found no place on it."""
    if not bolt.on_hand:
        return ()
    cut = [f"{lay.piece.name}: {_counted(lay)}" for lay in bolt.on_hand
           if lay.piece and lay.layout.placements]
    left = f" No place there for: {_counted(bolt)}." if bolt.layout.placements else ""
    if not cut:
        return (f"Nothing fits on the cloth that is there already.{left}",)
    return (f"From the cloth that is there already: {'; '.join(cut)}.{left}",)


def _counted(lay: BoltLay) -> str:
    """“body, 2 sleeves” as “body, sleeve (2)”."""
    counts = Counter(placed.piece for placed in lay.layout.placements)
    return ", ".join(f"{name} ({count})" if count > 1 else name for name, count in counts.items())


def _counted_on(lays: Bolts) -> list[int]:
    """How many pieces are chalked before each one's own."""
    counts = [len(lay.layout.placements) for lay in lays]
    return [sum(counts[:number]) for number in range(len(lays))]


def _piece_in_words(lay: BoltLay, plan: ChalkPlan, before: int) -> dict[str, Any]:
    """A piece of cloth: its picture, how much of it is used, and the rectangles that are left of it; `keep`
    is each of those as one types a piece of cloth. `before` its own so many pieces are chalked."""
    assert lay.piece, "a lay on a piece of cloth"
    return {
        "name": lay.piece.name,
        "used": f"{lay.layout.utilisation:.0%}",
        "picture": lay_svg(lay.layout, lay.cloth, unit=plan.unit, plan=plan, piece=lay.piece, before=before),
        **_left_in_words([size_of(corners) for corners in lay.left_over], plan.unit),
    }


def left_of_bolt(bolt: BoltLay) -> list[tuple[float, float]]:
    """The largest rectangles, across and along the warp in mm, that the lay leaves of cloth on hand."""
    on_hand = bolt.cloth.cut_length_on_hand()
    if on_hand is None or bolt.missing is not None or bolt.cloth.folded:
        return []
    from ..lay.left_over import left_of_strip

    return [(it.width, it.length) for it in left_of_strip(on_hand, bolt.layout)]


def _left_in_words(sizes: Sequence[tuple[float, float]], unit: Unit) -> dict[str, list[str]]:
    return {
        "left_over": [f"{format_length(wide, unit)} × {format_length(long, unit)}" for wide, long in sizes],
        "keep": [f"in mm | {wide:.0f} × {long:.0f}" for wide, long in sizes],
    }


def size_of(corners: Sequence[tuple[float, float]]) -> tuple[float, float]:
    """Across and along the warp, mm."""
    xs, ys = zip(*corners, strict=True)
    return max(xs) - min(xs), max(ys) - min(ys)


def exactly(bolt: BoltLay, unit: Unit) -> str:
    """What the lay needs to the millimetre, as the start of a sentence."""
    cut, buy = format_length(bolt.cut_length, unit), format_length(bolt.buy_length, unit)
    return f"exactly {buy}" + (f", {cut} after washing" if bolt.buy_length > bolt.cut_length + 1 else "")


def counted_in(bolt: BoltLay) -> str:
    """What the shop's length holds over the exact one, as the end of a sentence."""
    cloth, shrinks = bolt.cloth, reckoned_shrinkage(bolt.cloth)
    usual = f", as {cloth.fibre.replace('-', ' ')} usually does" if not cloth.shrinkage_said else ""
    shrinking = f" and {shrinks:.0%} for shrinking{usual}" if shrinks else ""
    return f"{said(SQUARING)} for squaring the ends{shrinking} counted in"


def _amount(value: float | None, unit: str) -> str | None:
    return None if value is None else f"{value:.0f} {unit}" if unit else f"{value:.2f}"


def tearing_costs(bolt: BoltLay) -> str:
    """One sentence: what tearing costs in length against this lay; "" where nothing is cut from the bolt."""
    if not bolt.cut_length:
        return ""
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


def bolt_files(bolt: BoltLay, unit: Unit, *, title: str, name: str, paper: str = "A4") -> dict[str, bytes]:
    """The files of one bolt that several garments are cut from, named as a main cloth's."""
    made = lay_files([bolt], unit, title=title, name=name, paper=paper)
    return {kind.replace(f"-{bolt.part}.", "."): data for kind, data in made.items()}


def lay_files(
    bolts: Bolts, unit: Unit, *, title: str, name: str | None, paper: str = "A4"
) -> dict[str, bytes]:
    """`lay.json` and `lay.svg` (true size) of each cloth, and for all of them one `chalk-plan.pdf` and
    `chalk-plan.json`, which holds the numbers that are printed in it."""
    from ..sheets.chalk_plan import chalk_plan_pdf
    from ..sheets.lay_file import lay_file_svg
    from ..sheets.paper import PAPERS, read_paper

    files, planned = {}, []
    for bolt in bolts:
        content = json.dumps(lay_json(bolt), ensure_ascii=False, indent=1)
        files[file_name("lay.json", bolt.part)] = content.encode()
        planned += _planned(bolt, unit)
        svg = lay_file_svg(bolt.layout, bolt.cloth, unit=unit, plan=planned[-1][1])
        files[file_name("lay.svg", bolt.part)] = svg.encode()
    sheet = read_paper(paper)
    if not (sheet.width and sheet.height):
        sheet = PAPERS["A4"]
    files["chalk-plan.pdf"] = chalk_plan_pdf(
        _drawings(planned), paper=sheet, title=title, name=name
    )
    plans = chalk_plan_json([(lay.part, plan) for lay, plan in planned])
    told = json.dumps(plans, ensure_ascii=False, indent=1)
    return {**files, "chalk-plan.json": told.encode()}


def _drawings(planned: Sequence[tuple[BoltLay, ChalkPlan]]) -> "list[LayDrawing]":
    """Of those from which anything is cut."""
    from ..sheets.chalk_plan import LayDrawing

    return [LayDrawing(plan, lay.layout, lay.cloth, lay.part, lay.piece)
            for lay, plan in planned if lay.layout.placements]


def _in_one(words: PieceWords) -> str:
    """A piece's steps in one paragraph."""
    across = words.columns[0]
    marks = "; ".join(
        f"{m.label} {m.across} {across if not n else across.split()[0]}, {m.down} down"
        f"{f' ({m.note})' if m.note else ''}" for n, m in enumerate(words.marks))
    return " ".join(filter(None, (f"{words.title}:", *words.before, f"{marks}.", *words.joins, words.check)))


def booklet_pages(bolts: Bolts, unit: Unit) -> tuple[list[Any], list[Material]]:
    """What lays add to the booklet: the chalk plans' drawings and sentences, and the cloth to buy."""
    chalk: list[Any] = []
    to_buy = []
    for bolt in bolts:
        for drawing in _drawings(_planned(bolt, unit)):
            chalk += [*before_you_start(drawing.plan), drawing]
            for words in piece_words(drawing.plan):
                chalk.append(_in_one(words))
        if not bolt.cut_length:
            continue
        what = "Cloth" if bolt.part == "main" else f"Cloth for the {bolt.part},"
        to_buy.append(Material(
            f"{what} {format_length(bolt.cloth.width, unit)} wide",
            shop_words(shop_length(bolt.cloth, bolt.cut_length, unit), unit),
            f"{exactly(bolt, unit)}; {counted_in(bolt)}",
        ))
    return chalk, to_buy
