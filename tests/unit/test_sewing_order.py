"""The order of work holds for every garment, whatever its options."""

import re
from collections import Counter

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from drafting.garments import GARMENTS
from drafting.geometry import Allowance, Edge, Outline, Path, Point
from drafting.pattern import InnerLine, Pattern, Piece, Seam, SeamEdge
from drafting.sewing import Choices, sewing_plan
from drafting.sewing.graph import SeamGraph, copy_of, parts_of
from drafting.sewing.order import order_of_work
from drafting.sewing.tasks import INNER_LAYERS, LINED
from drafting.words.wording import spell
from tests.sewn import garments, sewn

slow = settings(max_examples=150, deadline=None,
                suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much])
orders = st.sampled_from(["first", "last"])


@slow
@given(garments(), orders)
def test_every_seam_is_sewn_in_exactly_one_step(pattern, gussets):
    plan = sewing_plan(pattern, Choices(gussets=gussets))
    told = Counter(name for step in plan.steps for name in step.seams)
    assert told == Counter(seam.name for seam in pattern.seams)


@slow
@given(garments(), orders)
def test_every_steps_pieces_exist_and_hang_together_by_then(pattern, gussets):
    copies = {(piece.name, copy) for piece, copy in pattern.copies()}
    seams = {seam.name: seam for seam in pattern.seams}
    assemblies = {copy: {copy} for copy in copies}
    for step in sewing_plan(pattern, Choices(gussets=gussets)).steps:
        assert set(step.copies) <= copies
        for name in step.seams:
            for side in (seams[name].a, seams[name].b):
                joined = assemblies[copy_of(side[0])]
                assert all(copy_of(part) in joined for part in side), (name, step.title)
            parts = parts_of(seams[name])
            together = set().union(*(assemblies[copy_of(part)] for part in parts))
            for copy in together:
                assemblies[copy] = together


@slow
@given(garments(), orders)
def test_every_seam_that_is_felled_later_is_felled_once_and_after_it_is_sewn(pattern, gussets):
    plan = sewing_plan(pattern, Choices(gussets=gussets))
    sewn_in = {name: step.number for step in plan.steps for name in step.seams}
    felled = [(name, step.number) for step in plan.steps for name in step.fells]
    assert len({name for name, _ in felled}) == len(felled)
    assert all(sewn_in[name] < number for name, number in felled)
    run_and_felled = {s.name for s in pattern.seams if s.treatment == "run-and-fell"}
    assert run_and_felled <= {name for name, _ in felled}


@slow
@given(garments())
def test_nothing_flat_is_left_when_the_first_assembly_is_closed(pattern):
    """common practice, no source: flat before closed. Necks and what they wait for, slits and gussets
    go by rules of their own; a lining is made up after its garment; a side of several edges waits for
    the seams it runs across."""
    graph = SeamGraph(pattern)
    across = {name for seam in pattern.seams for side in (seam.a, seam.b)
              for name in graph.joins_before(side)}
    tasks = order_of_work(pattern)
    necks = [i for i, task in enumerate(tasks) if task.kind in ("face", "neck")]
    closed: set[str] = set()
    for task in tasks[necks[0] + 1 if necks else 0:]:
        parts = [part for seam in task.seams for part in parts_of(seam)]
        if task.kind != "join" or across & {seam.name for seam in task.seams} or any(
            graph.inner_kind(part) or copy_of(part) in graph.gussets for part in parts
        ):
            continue
        cloth = pattern.piece(parts[0].piece).cloth
        if task.closes:
            closed.add(cloth)
        elif not any(len(side) > 1 for seam in task.seams for side in (seam.a, seam.b)):
            assert cloth not in closed, [seam.name for seam in task.seams]


def test_gussets_go_to_the_sleeves_before_the_sleeves_go_to_the_body():
    for garment in ("tunic", "underdress", "wrap-coat"):
        steps = {name: s.number for s in sewing_plan(sewn(garment)).steps for name in s.seams}
        for side in ("left", "right"):
            for edge in ("front", "back"):
                assert steps[f"{side} gusset to {edge} of sleeve"] < steps[f"{side} sleeve to armhole"]


def test_gussets_can_be_left_for_last():
    plan = sewing_plan(sewn("tunic"), Choices(gussets="last"))
    steps = {name: step.number for step in plan.steps for name in step.seams}
    gussets = [n for name, n in steps.items() if "gusset" in name]
    assert min(gussets) > max(n for name, n in steps.items() if "gusset" not in name)


def test_the_neck_is_finished_while_the_piece_is_light():
    for options in ({}, {"neck_finish": "turned"}, {"shoulder": "seam"}):
        plan = sewing_plan(sewn("underdress", **options))
        kinds = [step.kind for step in plan.steps]
        neck = next(i for i, kind in enumerate(kinds) if kind in ("face", "neck"))
        before = {name for step in plan.steps[:neck] for name in step.seams}
        assert before <= {"left shoulder", "right shoulder"}


def test_slits_are_reinforced_before_their_gores_go_in():
    plan = sewing_plan(sewn("tunic", gores="all"))
    steps = {name: step.number for step in plan.steps for name in step.seams}
    (reinforced,) = (step.number for step in plan.steps if step.kind == "reinforce")
    assert reinforced < steps["front gore, left edge"]
    assert reinforced < steps["back gore, right edge"]


def test_a_flared_hem_hangs_for_a_day_before_it_is_sewn_last_of_all():
    for garment in ("apron-dress", "tunic", "underdress", "wrap-coat"):
        kinds = [step.kind for step in sewing_plan(sewn(garment)).steps]
        assert kinds[-2:] == ["hem", "check"]
        assert kinds.index("hang") < kinds.index("hem")
        assert kinds.index("fit") < kinds.index("fell") < kinds.index("hang")


def test_a_growth_tuck_is_a_step_and_its_seams_are_not_trimmed():
    plan = sewing_plan(sewn("apron-dress", growth_tuck="40mm"))
    kinds = [step.kind for step in plan.steps]
    assert kinds.index("let-out") < kinds.index("fell")
    assert kinds.index("tuck") < kinds.index("hang") < kinds.index("hem")
    felling = " ".join(s for step in plan.steps if step.kind == "fell" for s in step.sentences)
    assert "Trim nothing" in felling and "Trim the allowance" not in felling
    tuck = next(step for step in plan.steps if step.kind == "tuck")
    assert "4 cm" in spell(" ".join(tuck.sentences), "cm")


def test_a_childs_seams_are_kept_for_letting_out_unless_told_otherwise():
    child = sewn("tunic", stature=1180.0)
    assert "let-out" in [step.kind for step in sewing_plan(child).steps]
    told = sewing_plan(child, Choices(let_out=False))
    assert "let-out" not in [step.kind for step in told.steps]


@pytest.mark.parametrize(("garment", "options", "wanted", "not_wanted"), [
    ("cap", {}, "Turn the head", "step"), ("hood", {}, "bow", "sit,"), ("trousers", {}, "squat", "arms"),
    ("tunic", {}, "both arms", "squat"),
    ("cloak", {"shape": "half-circle", "cut": "quarters"}, "lift both arms", "step"),
])
def test_the_fitting_asks_for_what_one_does_in_this_garment(garment, options, wanted, not_wanted):
    (step,) = (step for step in sewing_plan(sewn(garment, **options)).steps if step.kind == "fit")
    (moves,) = (s for s in step.sentences if "Pin what is too wide" in s)
    assert wanted in moves and not_wanted not in moves.split("Pin what")[0]


def test_a_seam_into_a_slit_is_not_promised_to_give_anything():
    plan = sewing_plan(sewn("tunic", gores="all"), Choices(let_out=True))
    (kept,) = (step for step in plan.steps if step.kind == "let-out")
    into_slits = {"front gore, left edge", "back gore, right edge"}
    assert not into_slits & {m.label for m in kept.measures} and "give nothing" in kept.sentences[-1]
    assert not any("Trim the allowance" in s for step in plan.steps for s in step.sentences)


def test_no_length_is_followed_by_in_all():
    """In inches it would read “12 in in all”."""
    for garment in GARMENTS:
        for step in sewing_plan(sewn(garment)).steps:
            assert not re.search(r"⟩ in all", " ".join(step.sentences)), step.title


def test_every_hem_and_free_edge_with_a_fold_is_sewn_once():
    for garment in GARMENTS:
        pattern = sewn(garment)
        graph = SeamGraph(pattern)
        wanted = {part for part in graph.free_edges
                  if part.edge in pattern.piece(part.piece).allowances
                  and pattern.piece(part.piece).allowances[part.edge].fold
                  and pattern.piece(part.piece).allowance(part.edge) > 0}
        done = Counter(line for step in sewing_plan(pattern).steps
                       if step.kind in ("edge", "hem", "neck") for line in step.task.lines)
        assert set(done) >= wanted, garment
        assert max(done.values(), default=1) == 1, garment


def test_a_lining_goes_in_after_the_hem():
    plan = sewing_plan(sewn("wrap-coat", lining="full"))
    kinds = [step.kind for step in plan.steps]
    assert kinds.index("hem") < kinds.index("lining")


def test_sleeves_longer_than_their_ease_say_which_side_to_hold_towards_you():
    pattern = _two_squares(ease=12.0)
    (step,) = (s for s in sewing_plan(pattern).steps if s.kind == "join")
    assert any("1.2 cm longer" in spell(s, "cm") for s in step.sentences)


def _two_squares(ease: float = 0.0) -> Pattern:
    def square(name: str, size: float) -> Piece:
        corners = [Point(0, 0), Point(size, 0), Point(size, size), Point(0, size)]
        return Piece(
            name, name,
            Outline(tuple(Edge(edge, Path.through(corners[i], corners[(i + 1) % 4]))
                          for i, edge in enumerate(("top", "right", "bottom", "left")))),
            {edge: Allowance(10.0) for edge in ("top", "right", "bottom", "left")},
        )

    seam = Seam("one to other", (SeamEdge("one", "right"),), (SeamEdge("other", "left"),), 10.0,
                ease=ease)
    return Pattern("demo", "Demo", (square("one", 300.0 + ease), square("other", 300.0)), (seam,),
                   {}, {}, {})


def test_seams_that_wait_for_one_another_are_still_all_sewn():
    """Two seams whose sides each need the other first: the ring is broken, nothing is lost."""
    pattern = _two_squares()
    a, b = pattern.pieces
    ring = (
        Seam("top", (SeamEdge("one", "top"), SeamEdge("other", "top")),
             (SeamEdge("one", "bottom"), SeamEdge("other", "bottom")), 10.0),
    )
    lonely = Pattern("demo", "Demo", (a, b), ring, {}, {}, {})
    assert [s for step in sewing_plan(lonely).steps for s in step.seams] == ["top"]


@pytest.mark.parametrize("odd", [{"treatment": "glue"}, {"stitch": "runing"}])
def test_a_seam_sewn_or_treated_in_no_known_way_cannot_be_made(odd):
    seam = _two_squares().seams[0]
    (kind, given), known = next(iter(odd.items())), "run-and-fell, .*bound|running, .*roll"
    with pytest.raises(ValueError, match=f"glued.*{kind}: “{given}” is not one of ({known})"):
        Seam("glued", seam.a, seam.b, 10.0, **odd)


def test_a_line_of_no_known_kind_cannot_be_made():
    with pytest.raises(ValueError, match="The line “waist”, kind: “lvel” is not one of fold, slit"):
        InnerLine("waist", Path.through(Point(0, 0), Point(1, 0)), "lvel")


def test_every_treatment_the_wardrobe_uses_is_known():
    for garment in GARMENTS:
        for seam in sewn(garment).seams:
            assert seam.treatment in ("run-and-fell", "butted selvedges", "pleat", "overcast", "felled-open",
                                      "quilted", "layered", "ridge",
                                      *INNER_LAYERS, *LINED)


@slow
@given(garments(), st.sampled_from(["cm", "in"]))
def test_sentences_are_whole_and_spell_their_lengths(pattern, unit):
    for step in sewing_plan(pattern).steps:
        assert step.title and step.title[0].isupper()
        for sentence in step.sentences:
            told = spell(sentence, unit)
            assert told.endswith((".", "!")) and "⟨" not in told and "  " not in told, told
        assert step.work.minutes >= 0 and step.work.thread >= 0


def test_inner_lines_of_a_slit_without_a_gore_are_hemmed():
    pattern = _two_squares()
    slit = InnerLine("vent", Path.through(Point(100, 300), Point(100, 200)), "slit")
    one = pattern.pieces[0]
    vented = Piece(one.name, one.title, one.outline, one.allowances, inner_lines=(slit,))
    steps = sewing_plan(Pattern("demo", "Demo", (vented, pattern.pieces[1]), pattern.seams, {}, {}, {}))
    (step,) = (s for s in steps.steps if s.kind == "vent")
    assert step.measures[0].length == pytest.approx(200.0)


def test_a_neck_is_tried_over_the_head_after_its_facing_is_turned_and_before_it_is_felled():
    (step,) = (step for step in sewing_plan(sewn("tunic")).steps if step.kind == "face")
    at = {word: next(i for i, sentence in enumerate(step.sentences) if word in sentence)
          for word in ("turn the facing to the inside", "over the head", "fell it down")}
    assert list(at.values()) == sorted(set(at.values()))
