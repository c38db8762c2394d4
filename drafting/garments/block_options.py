"""The options that every garment on the body block declares, and the body's heights behind them."""

from math import ceil

from ..body import Body
from .fit import ANKLE_HEIGHT, WAIST_TO_HIP, over_the_head
from .layers import OVER, over_option
from .loom import LOOM_WIDTH
from .neck import neck_options
from .options import ChoiceOption, Chosen, LengthOption, Option
from .rounding import round_to
from .sleeve import ELBOW

CHEST_EASE = 110.0
"""mm over the chest for linen next to the skin, 100–120. common practice, no source."""

MOST_DROP = 100.0
"""mm down the arm beyond which an armhole drags: then the narrow body is proposed. common practice, no
source."""

FELLED_IN_WOOL, FELLED_IN_LINEN = 25.0, 15.0
"""mm of allowance for a seam run and felled by hand. common practice, no source."""

NAMED_LENGTHS = {
    "by-number": "the length given", "mid-thigh": "middle of the thigh", "knee": "the knee",
    "mid-calf": "middle of the calf", "ankle": "the ankle",
}

BY_NUMBER = Chosen("length_to", ("by-number",))
WITH_SLEEVES = Chosen("sleeve", ("tapered", "straight"))
NOT_NARROW = Chosen("body_width", ("as-needed", "wide"))


def named_depth(body: Body, name: str) -> float:
    """mm from the shoulder down to a named height of the leg."""
    knee, crotch = body["knee_height"], body["inside_leg_height"]
    height = {
        "mid-thigh": (knee + crotch) / 2,
        "knee": knee,
        "mid-calf": (knee + ANKLE_HEIGHT * body["stature"]) / 2,
        "ankle": ANKLE_HEIGHT * body["stature"],
    }[name]
    return round_to(body["cervicale_height"] - height, 5)


def waist_depth(body: Body) -> float:
    """mm from the shoulder's height at the neck to the waist."""
    return body["back_waist_length"]


def hip_depth(body: Body) -> float:
    """mm from the shoulder's height at the neck to the fullest hips."""
    return body["back_waist_length"] + WAIST_TO_HIP * body["stature"]


def default_chest_ease(body: Body) -> float:
    """As much as linen wants, and enough for the shoulders to pass when it is pulled on."""
    to_pass = over_the_head(body).girth - max(body["bust_girth"], body["waist_girth"])
    return max(CHEST_EASE, ceil(to_pass / 10) * 10.0)


def block_options(
    *, length: str, over: str, gores: str, neckline: str | None, hem: float, seam: float,
    open_front: bool = False,
) -> tuple[Option, ...]:
    """The options of a garment on the body block; its neckline is left out where it has its own."""
    middle = "sides and back" if open_front else "sides, front and back"
    shoulder = () if open_front else (
        ChoiceOption("shoulder", "Shoulder", "One long piece folded over the shoulders, or two.",
                     "fold", {"fold": "folded, front and back in one", "seam": "seamed"}),
    )

    def default_hem(body: Body) -> float:
        widest = max(body["bust_girth"], body["waist_girth"], body["hip_girth"])
        return round_to(max(hem * body["stature"], 1.25 * widest + 300), 10)

    return (
        LengthOption("length", "Length", "From the shoulder beside the neck to the finished hem.",
                     lambda body: named_depth(body, length), 250, 1800,
                     when=(BY_NUMBER,)),
        ChoiceOption("length_to", "Length by name", "Sets the length by where the hem should hang.",
                     "by-number", NAMED_LENGTHS),
        ChoiceOption("body_width", "Body", "How wide the front and back panels are.", "as-needed",
                     {"as-needed": "wide, or narrow where the shoulder would drop far",
                      "wide": "wide: the shoulder seam drops over the arm",
                      "narrow": "narrow: as wide as the shoulders, with side panels"}),
        *shoulder,
        ChoiceOption("gores", "Gores", "Wedges let in to widen the hem.", gores,
                     {"sides": "at the sides", "all": middle, "none": "none"}),
        ChoiceOption("gore_start", "Gores start", "Where the side gores begin.", "underarm",
                     {"underarm": "under the arm", "waist": "at the waist", "hip": "at the hips"},
                     when=(NOT_NARROW,)),
        LengthOption("middle_gore_length", "Middle gores",
                     "Length of gores in slits; 0 lets them start at the waist.", 0.0, 0, 1500,
                     when=(Chosen("gores", ("all",)),)),
        ChoiceOption("gore_cut", "Gores are cut", "Two halves lie head to tail in one rectangle.",
                     "whole", {"whole": "whole", "halves": "in two halves, with a seam"},
                     when=(Chosen("gores", ("sides", "all")),)),
        LengthOption("hem_girth", "Hem girth", "All the way round the finished hem.",
                     default_hem, 400, 8000),
        LengthOption("growth_tuck", "Growth tuck",
                     "Depth of a fold sewn in above the hem, to let down as a child grows.",
                     0.0, 0, 150),
        *(neck_options(neckline) if neckline else ()),
        ChoiceOption("sleeve", "Sleeves", "How the sleeve is cut.", "tapered",
                     {"tapered": "tapered to the cuff", "straight": "straight", "none": "none"},
                     "Sleeves"),
        LengthOption("sleeve_length", "Sleeve length",
                     "From the shoulder point over the bent elbow to the cuff.",
                     lambda body: round_to(body["arm_length"] + ELBOW * body["stature"], 5),
                     60, 1100, "Sleeves",
                     when=(WITH_SLEEVES,)),
        LengthOption("cuff_girth", "Cuff girth", "Round the finished cuff of a tapered sleeve.",
                     lambda body: round_to(
                         body["folded_hand_girth"] + 15 + OVER[over].wrist, 5),
                     80, 900, "Sleeves",
                     when=(Chosen("sleeve", ("tapered",)),)),
        LengthOption("cuff_slit", "Cuff slit", "Left open in the underarm seam at the cuff.",
                     0.0, 0, 250, "Sleeves",
                     when=(WITH_SLEEVES,)),
        ChoiceOption("gusset", "Underarm gusset", "A square set in under the arm.", "as-needed",
                     {"as-needed": "with a wide body and sleeves", "square": "square",
                      "none": "none"}, "Sleeves",
                     when=(WITH_SLEEVES, NOT_NARROW)),
        LengthOption("gusset_size", "Gusset side", "Along each side of the square.",
                     lambda body: round_to(0.06 * body["stature"], 5), 30, 250, "Sleeves",
                     when=(WITH_SLEEVES, NOT_NARROW, Chosen("gusset", ("as-needed", "square")))),
        over_option(over),
        LengthOption("chest_ease", "Ease at the chest", "Room round the chest or waist, beyond what "
                     "the clothes beneath take.",
                     default_chest_ease, 0, 800, "Ease"),
        LengthOption("arm_ease", "Ease round the arm", "Room round the upper arm, beyond what the "
                     "clothes beneath take.", 60.0, 0, 400, "Ease"),
        LOOM_WIDTH,
        LengthOption("seam_allowance", "Seam allowance", "Beyond the sewing line, for run-and-fell "
                     "seams.", seam, 6, 60, "Allowances"),
        LengthOption("hem_depth", "Hem", "Finished depth; it is turned twice.", 12.0, 0, 80,
                     "Allowances"),
    )
