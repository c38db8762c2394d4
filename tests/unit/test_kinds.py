"""What a line, a piece or a seam is, is a kind that is checked where it is made: no name is read for it."""

import ast
from dataclasses import replace
from pathlib import Path

import pytest

import drafting
from drafting.cloth.piecing import fit_to_width
from drafting.geometry import Edge, Outline
from drafting.pattern import InnerLine, Level, Pattern, SeamEdge
from drafting.sewing.felling import laid_towards
from drafting.sewing.materials import materials
from drafting.sewing.order import order_of_work
from drafting.sewing.plan import sewing_plan
from tests.sewn import sewn
from tests.wardrobe import draft

PACKAGE = Path(drafting.__file__).parent


@pytest.mark.parametrize(("odd", "sentence"), [
    ({"roles": {"neck": "nek"}}, "The piece “front”, roles of “neck”: “nek” is not one of neck, hem, cuff"),
    ({"roles": {"nek": "neck"}}, "The piece “front”, roles: it has no line “nek”"),
    ({"faces": {"neck": "frnt"}}, "The piece “front”, faces of “neck”: “frnt” is not one of front, back"),
    ({"faces": {"slit": "front"}}, "The piece “front”, faces: it has no line “slit”"),
    ({"half": "left"}, "The piece “front”, half: “left” is not one of front, back"),
])
def test_a_piece_cannot_be_made_of_what_is_no_kind(odd, sentence):
    front = draft("tunic", {"shoulder": "seam"}).piece("front")
    assert front.role("neck") == "neck" and front.role("hem") == "hem" and front.role("left side") is None
    with pytest.raises(ValueError, match=sentence):
        replace(front, **odd)


def test_a_line_cannot_be_given_a_role_that_is_none():
    path = draft("tunic").piece("body").outline["front hem"].path
    assert InnerLine("tuck", path, "tuck", "tuck foot").role == "tuck foot"
    with pytest.raises(ValueError, match="The line “tuck”, role: “foot” is not one of neck, .*tuck foot"):
        InnerLine("tuck", path, "tuck", "foot")


def test_a_level_cannot_be_made_without_a_kind_or_of_none():
    assert [level.kind for level in draft("trousers").levels] == ["waist", "hips", "leg", "leg", "leg", "leg"]
    with pytest.raises(TypeError, match="kind"):
        Level("waist", 0.0, 800.0)
    with pytest.raises(ValueError, match="The level “waist”, kind: “wst” is not one of top, waist"):
        Level("waist", 0.0, 800.0, kind="wst")


def test_what_is_cut_from_a_piece_keeps_its_roles_and_faces():
    whole = draft("tunic", {"shoulder": "seam", "growth_tuck": "4cm"})
    pieced = fit_to_width(whole, 500.0)
    parts = [piece for piece in pieced.pieces if piece.name.startswith("front ") and "piecing" in piece.name]
    assert parts and all(part.half == "front" for part in parts)
    assert {part.role(edge.name) for part in parts for edge in part.outline.edges} >= {"hem", None}
    assert all([line.role for line in part.inner_lines if line.kind == "tuck"] == ["tuck foot", None]
               for part in parts)
    cloak = fit_to_width(draft("cloak", {"shape": "half-circle"}), 600.0)
    hems = [piece for piece in cloak.pieces if "hem" in piece.roles.values()]
    assert len(hems) > 2


# --- Nothing is read out of a name ----------------------------------------------------------------


def renamed(pattern: Pattern) -> Pattern:
    """The same pattern, its lines and pieces called what tells nothing."""
    lines = {name for piece in pattern.pieces
             for name in (*(e.name for e in piece.outline.edges), *(i.name for i in piece.inner_lines))}
    new = {name: f"x{n}" for n, name in enumerate(sorted(lines))}

    def part(p: SeamEdge) -> SeamEdge:
        return replace(p, edge=new[p.edge])

    return replace(
        pattern,
        pieces=tuple(
            replace(
                piece, title=f"y{n}",
                outline=Outline(tuple(Edge(new[e.name], e.path) for e in piece.outline.edges)),
                inner_lines=tuple(replace(line, name=new[line.name]) for line in piece.inner_lines),
                notches=tuple(replace(notch, edge=new[notch.edge]) for notch in piece.notches),
                hangs=tuple(replace(hang, hem=new[hang.hem]) for hang in piece.hangs),
                allowances={new.get(k, k): v for k, v in piece.allowances.items()},
                roles={new[k]: v for k, v in piece.roles.items()},
                faces={new[k]: v for k, v in piece.faces.items()},
            )
            for n, piece in enumerate(pattern.pieces)
        ),
        seams=tuple(replace(s, a=tuple(map(part, s.a)), b=tuple(map(part, s.b))) for s in pattern.seams),
        attachments=tuple(replace(a, to=part(a.to)) for a in pattern.attachments),
        levels=tuple(replace(level, name=f"z{n}") for n, level in enumerate(pattern.levels)),
    )


@pytest.mark.parametrize(("garment", "options"), [
    ("apron-dress", {"growth_tuck": "4cm"}), ("apron-dress", {"style": "wrapped"}),
    ("underdress", {"gores": "all", "growth_tuck": "4cm"}), ("tunic", {"shoulder": "seam", "gores": "all"}),
    ("tunic", {"neck_finish": "turned"}), ("tunic", {"neckline": "slit", "body_width": "narrow"}),
    ("trousers", {}), ("wrap-coat", {"lining": "full"}), ("wrap-coat", {"neck_finish": "turned"}),
    ("hood", {"lining": "full"}), ("hood", {"front": "overlap", "gores": "all-round"}),
    ("cloak", {"lining": "full", "shape": "half-circle"}), ("cloak", {}), ("cap", {}),
    ("cap", {"back": "darted"}),
])
def test_the_order_of_work_and_what_is_bought_do_not_hang_on_names(garment, options):
    pattern = sewn(garment, **options)
    other = renamed(pattern)
    tasks = [[(task.kind, [seam.name for seam in task.seams], len(task.lines), task.copies)
              for task in order_of_work(p)] for p in (pattern, other)]
    assert tasks[0] == tasks[1]
    for one, two in zip(pattern.seams, other.seams, strict=True):
        assert laid_towards(pattern, one) == laid_towards(other, two), one.name
    bought = [[m.amount for m in materials(sewing_plan(p))] for p in (pattern, other)]
    assert bought[0] == bought[1]


NAMED = ("name", "edge", "title", "hem")
READ = ("startswith", "endswith", "split", "removeprefix", "removesuffix", "replace")


def names_read(source: str) -> list[str]:
    """Where a text is looked for in a name, or a name is taken apart or compared with a text."""
    found = []
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Compare):
            sides = (node.left, *node.comparators)
            read = any(isinstance(s, ast.Constant) and isinstance(s.value, str) and s.value for s in sides)
        elif isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr in READ:
            sides, read = (node.func.value,), True
        else:
            continue
        if read and any(isinstance(s, ast.Attribute) and s.attr in NAMED for s in sides):
            found.append(ast.unparse(node))
    return found


def test_no_room_after_the_garments_reads_a_name():
    rooms = ("checks", "cloth", "lay", "sewing", "sheets")
    paths = [path for room in rooms for path in (PACKAGE / room).rglob("*.py")]
    found = {path.name: read for path in paths if (read := names_read(path.read_text(encoding="utf-8")))}
    assert found == {}


@pytest.mark.parametrize("bad", [
    "'neck' in part.edge", "edge.name.endswith('hem')", "level.name == 'waist'", "piece.title.split()",
])
def test_a_name_that_is_read_is_found(bad):
    assert names_read(bad) == [bad]
