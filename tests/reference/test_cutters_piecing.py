"""How a cutter pieces what is wider than the cloth, measured on pattern.json with shapely.

common practice, no source: strips on both sides of a symmetrical piece, the same on front and back; where
that cannot be, it is said why. Nothing that is pieced on is called as a strap is.
"""

import pytest
from shapely.affinity import scale, translate
from shapely.geometry import Polygon

from drafting.cloth.piecing import fit_to_width
from drafting.garments import GARMENTS
from drafting.pattern import as_json
from tests.wardrobe import draft

WIDTHS = (320, 430, 500, 580, 640, 680, 740)
STYLES = [(name, {}) for name in GARMENTS] + [
    ("apron-dress", {"style": "pleated"}), ("apron-dress", {"style": "wrapped"}),
    ("tunic", {"shoulder": "seam", "body_width": "wide"}), ("underdress", {"gores": "all"})]


def shape_of(piece):
    return Polygon(piece["sewing_line"])


def mirrored(shape):
    """Turned over and brought where it was."""
    over = scale(shape, -1, 1, origin=(0, 0))
    return translate(over, shape.bounds[0] - over.bounds[0])


def is_symmetrical(shape):
    return mirrored(shape).symmetric_difference(shape).area < 0.1 * shape.length


def cut_alike(whole, parts):
    """Whether the parts together are as symmetrical as the piece was: each has its mirror image in one."""
    left, _, right, _ = whole.bounds
    shapes = [shape_of(part) for part in parts]
    over = [scale(shape, -1, 1, origin=((left + right) / 2, 0)) for shape in shapes]
    return all(any(shape.symmetric_difference(other).area < 0.2 * shape.length for other in over)
               for shape in shapes)


def pieced_of(pattern, width):
    """What each wider piece becomes on that cloth: the piece, its parts, and what is said of it."""
    pieced = fit_to_width(pattern, width)
    told = set(pieced.notes) - set(pattern.notes)
    after = as_json(pieced)["pieces"]
    for piece in as_json(pattern)["pieces"]:
        parts = [p for p in after if p["name"].split(" piecing")[0] == piece["name"]]
        if len(parts) > 1:
            yield piece, parts, " ".join(note for note in told if note.startswith(f"The {piece['title']} is"))


@pytest.mark.parametrize(("garment", "options"), STYLES, ids=str)
def test_a_symmetrical_piece_is_pieced_on_both_sides_alike_or_it_is_said_why_not(garment, options):
    pattern = draft(garment, options)
    for width in WIDTHS:
        for piece, parts, told in pieced_of(pattern, width):
            whole = shape_of(piece)
            if is_symmetrical(whole):
                alike = cut_alike(whole, parts)
                assert alike or "on one side, since there is no room" in told, (width, piece["name"])
                assert alike or garment == "cloak" or width < 430, (width, piece["name"])
            else:
                assert "on one side, since its sides are not alike" in told, (width, piece["name"])


def test_a_piece_cut_on_one_side_is_not_taken_for_one_cut_alike():
    leg, parts, told = next(pieced_of(draft("trousers"), 580))
    assert not cut_alike(shape_of(leg), parts) and "on one side" in told
    body, parts, told = next(pieced_of(draft("tunic", {"body_width": "wide"}), 500))
    assert (leg["name"], body["name"]) == ("leg", "body")
    assert cut_alike(shape_of(body), parts) and "on both sides alike" in told
    assert not cut_alike(shape_of(body), parts[:2])


@pytest.mark.parametrize(("garment", "options"), STYLES, ids=str)
def test_front_and_back_are_pieced_in_the_same_places_or_it_is_said_why_not(garment, options):
    pattern = draft(garment, options)
    halves = {piece.name: piece.half for piece in pattern.pieces}
    for width in WIDTHS:
        found = {halves[of[0]["name"]]: of for of in pieced_of(pattern, width)
                 if of[0]["name"] in ("front", "back")}
        if len(found) == 2 and all(is_symmetrical(shape_of(piece)) for piece, _, _ in found.values()):
            middles = [shape_of(parts[0]).bounds for _, parts, _ in found.values()]
            front, back = (bounds[2] - bounds[0] for bounds in middles)
            told = " ".join(told for _, _, told in found.values())
            assert front == pytest.approx(back, abs=0.2) or "but not where" in told, width


@pytest.mark.parametrize("options", [{}, {"strap_style": "single"}])
def test_what_is_pieced_on_is_not_called_as_a_strap_is(options):
    pieced = fit_to_width(draft("apron-dress", options), 500)
    added = [p for p in pieced.pieces if "piecing" in p.name]
    assert added and not any("str" in p.title for p in added)
    assert any("strap" in p.title or "loop" in p.title for p in pieced.pieces)
    copies = [p.copy_name(n) for p in pieced.pieces for n in range(1, p.cut + 1)]
    assert len(set(copies)) == len(copies), "two parts of one name"
