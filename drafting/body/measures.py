"""The measurements of the wardrobe, in the order in which one moves a tape over a body.

Names follow ISO 8559-1:2017 where that standard has the measurement, in snake case. Ours are:
face_length, crown_to_nape_length, crown_to_shoulder_length, shoulder_girth, brooch_strap_length,
torso_length, folded_hand_girth, under_knee_girth and heel_ankle_girth. `bust_girth` is the fullest
girth of the chest (from memory: ISO 8559-1:2017), as ANSUR II took it; `upper_chest_girth` is taken
just under the arms, where an apron dress sits; `waist_girth` at the navel, and `upper_arm_girth` with
the arm bent, since that is what a sleeve must let through. ANSUR II took the shoulder width with a
calliper; it is taken as ours (common practice, no source).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

View = Literal["front", "back", "side", "head", "hand"]


@dataclass(frozen=True)
class Tape:
    """Where the tape lies on the small figure of `view`, through its landmarks (see figure.py).

    `round` goes round the body between two landmarks at its edges; `along` runs from landmark to
    landmark; `upright` is a straight height beside the figure from the first to the last.
    """

    view: View
    shape: Literal["round", "along", "upright"]
    through: tuple[str, ...]


@dataclass(frozen=True)
class Measure:
    """One measurement: what it is called, how it is taken, and what could stand in for it.

    `best_estimated_from` names, best first, what to measure so that an estimate of this one is
    good; any measure given helps.
    """

    name: str
    label: str
    instruction: str
    tape: Tape
    best_estimated_from: tuple[str, ...]


_ALL = (
    Measure(
        "stature",
        "Height",
        "Stand without shoes against a wall and measure from the floor to the top of the head.",
        Tape("front", "upright", ("crown", "floor")),
        ("cervicale_height", "axilla_height", "inside_leg_height"),
    ),
    Measure(
        "head_girth",
        "Head girth",
        "Go round the widest part of the head, over the brow and the bump at the back.",
        Tape("head", "round", ("brow", "back of head")),
        ("stature", "neck_base_girth"),
    ),
    Measure(
        "face_length",
        "Round the face",
        "Run a string from under the chin up past the cheek, over the front of the crown and back "
        "down to the chin.",
        Tape("head", "along", ("under chin", "cheek", "temple", "front of crown")),
        ("head_girth",),
    ),
    Measure(
        "crown_to_nape_length",
        "Hairline to nape",
        "Measure from the hairline over the top of the head down to the hollow of the nape.",
        Tape("head", "along", ("hairline", "crown", "back of head", "nape")),
        ("head_girth",),
    ),
    Measure(
        "crown_to_shoulder_length",
        "Crown to shoulder",
        "Lay a book on the head and measure straight down beside the ear to where neck and "
        "shoulder meet.",
        Tape("head", "upright", ("crown", "neck side")),
        ("stature", "cervicale_height"),
    ),
    Measure(
        "neck_base_girth",
        "Neck base girth",
        "Go round the root of the neck, over the knob at the back and the hollow in front.",
        Tape("front", "round", ("neck base left", "neck base right")),
        ("shoulder_girth", "bust_girth"),
    ),
    Measure(
        "shoulder_width",
        "Shoulder width",
        "Hold the tape straight across the back from one bony shoulder point to the other.",
        Tape("back", "along", ("shoulder point left", "shoulder point right")),
        ("shoulder_girth", "stature"),
    ),
    Measure(
        "shoulder_girth",
        "Shoulder girth",
        "With the arms hanging, go round both shoulders and arms at their widest.",
        Tape("front", "round", ("arm outside left", "arm outside right")),
        ("bust_girth", "shoulder_width"),
    ),
    Measure(
        "brooch_strap_length",
        "Strap to the brooch",
        "Lay a string from where the dress's top edge runs across the back, over the shoulder, to "
        "where the brooch sits.",
        Tape("side", "along", ("back edge", "strap top", "brooch")),
        ("stature", "bust_girth", "axilla_height"),
    ),
    Measure(
        "upper_chest_girth",
        "Upper chest girth",
        "Go round the chest high up, just under the arms, where an apron dress's top edge lies: level all "
        "round, breathing easily.",
        Tape("front", "round", ("underarm left", "underarm right")),
        ("bust_girth", "shoulder_girth"),
    ),
    Measure(
        "bust_girth",
        "Bust girth",
        "Go round the fullest part of the chest, a hand's breadth or so lower than under the arms: level "
        "all round, breathing easily.",
        Tape("front", "round", ("bust left", "bust right")),
        ("upper_chest_girth", "shoulder_girth", "waist_girth"),
    ),
    Measure(
        "torso_length",
        "Under the arm to the flare",
        "Measure down the side from under the arm to where the skirt should begin to flare, at the "
        "top of the pelvis or a little above.",
        Tape("front", "along", ("underarm right", "waist right", "flare right")),
        ("axilla_height", "waist_height", "stature"),
    ),
    Measure(
        "back_waist_length",
        "Back waist length",
        "Measure down the back from the knob at the root of the neck to the waist.",
        Tape("back", "along", ("neck back", "waist back")),
        ("cervicale_height", "waist_height", "stature"),
    ),
    Measure(
        "waist_girth",
        "Waist girth",
        "Go round the waist at the height of the navel, without drawing in the belly.",
        Tape("front", "round", ("waist left", "waist right")),
        ("bust_girth", "hip_girth"),
    ),
    Measure(
        "hip_girth",
        "Hip girth",
        "With the feet together, go round the fullest part of the seat.",
        Tape("front", "round", ("hip left", "hip right")),
        ("thigh_girth", "waist_girth"),
    ),
    Measure(
        "arm_length",
        "Arm length",
        "With the arm a little bent, measure from the shoulder point over the elbow to the wrist "
        "bone.",
        Tape("back", "along", ("shoulder point right", "elbow right", "wrist right")),
        ("stature", "axilla_height"),
    ),
    Measure(
        "upper_arm_girth",
        "Upper arm girth",
        "Bend the arm, make a fist, and go round the thickest part of the upper arm.",
        Tape("front", "round", ("upper arm inside", "upper arm outside")),
        ("bust_girth", "shoulder_girth"),
    ),
    Measure(
        "wrist_girth",
        "Wrist girth",
        "Go round the wrist over its bones.",
        Tape("hand", "round", ("wrist thumb side", "wrist little side")),
        ("hand_girth", "upper_arm_girth"),
    ),
    Measure(
        "hand_girth",
        "Hand girth",
        "With the hand flat, go round the knuckles without the thumb.",
        Tape("hand", "round", ("knuckle thumb side", "knuckle little side")),
        ("wrist_girth", "stature"),
    ),
    Measure(
        "folded_hand_girth",
        "Hand girth, thumb folded in",
        "Lay the thumb across the palm and go round the widest part, as the hand slips through a "
        "cuff.",
        Tape("hand", "round", ("thumb joint", "palm little side")),
        ("hand_girth",),
    ),
    Measure(
        "crotch_length",
        "Crotch length",
        "Pass the tape between the legs from the waist in front to the waist behind, not tight.",
        Tape("side", "along", ("waist front", "crotch", "waist back")),
        ("hip_girth", "waist_girth"),
    ),
    Measure(
        "thigh_girth",
        "Thigh girth",
        "Go round the thickest part of the thigh, high up.",
        Tape("front", "round", ("thigh inside", "thigh outside")),
        ("hip_girth",),
    ),
    Measure(
        "under_knee_girth",
        "Girth under the knee",
        "Go round the leg just under the kneecap, where a garter would sit.",
        Tape("front", "round", ("under knee inside", "under knee outside")),
        ("calf_girth",),
    ),
    Measure(
        "calf_girth",
        "Calf girth",
        "Go round the thickest part of the calf.",
        Tape("front", "round", ("calf inside", "calf outside")),
        ("thigh_girth", "ankle_girth"),
    ),
    Measure(
        "ankle_girth",
        "Ankle girth",
        "Go round the leg at its thinnest, just above the ankle bones.",
        Tape("front", "round", ("ankle inside", "ankle outside")),
        ("calf_girth", "heel_ankle_girth"),
    ),
    Measure(
        "heel_ankle_girth",
        "Girth over heel and instep",
        "Point the foot and go round heel and instep together, as the foot slips through a narrow "
        "leg.",
        Tape("side", "along", ("heel", "instep")),
        ("stature", "ankle_girth"),
    ),
    Measure(
        "cervicale_height",
        "Neck knob to the floor",
        "Measure straight down from the knob at the root of the neck to the floor.",
        Tape("back", "upright", ("neck back", "floor")),
        ("stature",),
    ),
    Measure(
        "axilla_height",
        "Under the arm to the floor",
        "Measure straight down from just under the arm to the floor.",
        Tape("front", "upright", ("underarm left", "floor")),
        ("stature", "cervicale_height"),
    ),
    Measure(
        "waist_height",
        "Waist to the floor",
        "Measure straight down from the waist, at the height of the navel, to the floor.",
        Tape("front", "upright", ("waist left", "floor")),
        ("stature", "inside_leg_height"),
    ),
    Measure(
        "inside_leg_height",
        "Inside leg",
        "Hold a book up between the legs and measure from its top edge to the floor.",
        Tape("front", "upright", ("crotch", "floor")),
        ("waist_height", "stature"),
    ),
    Measure(
        "knee_height",
        "Knee to the floor",
        "Measure straight down from the middle of the kneecap to the floor.",
        Tape("front", "upright", ("knee", "floor")),
        ("inside_leg_height", "stature"),
    ),
)

STANDS_IN: Mapping[str, str] = MappingProxyType({
    "bust_girth": "upper_chest_girth", "upper_chest_girth": "bust_girth",
})
"""Which measure may be taken in place of one that is needed: it is then estimated, with its error."""

MEASURES: Mapping[str, Measure] = MappingProxyType({measure.name: measure for measure in _ALL})
"""Every measurement by name, in the order of taking them."""


def label_of(name: str) -> str:
    """The measure's label, or the name itself in plain words when it is none of ours."""
    return MEASURES[name].label if name in MEASURES else name.replace("_", " ")


def closest(name: str) -> str | None:
    """The measure whose name or label is nearest to what someone wrote, if any is near."""
    from difflib import get_close_matches

    written = name[:60].lower().replace("-", "_").replace(" ", "_")
    spelled = {measure.name: measure.name for measure in _ALL}
    spelled |= {measure.label.lower().replace(" ", "_"): measure.name for measure in _ALL}
    near = get_close_matches(written, list(spelled), n=1, cutoff=0.6)
    return spelled[near[0]] if near else None
