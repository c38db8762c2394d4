"""From cut pieces to a finished garment: stitches, seams, thread, time and the order of work."""

from .as_json import plan_json, span_in_words, time_in_words
from .materials import Material, finished_weight, materials, thread_needed
from .pace import TYPICAL, Pace, calibrate
from .plan import Choices, SeamLine, SewingPlan, Step, sewing_plan
from .profile import girth_profile
from .step_pictures import step_pictures
from .together import together_picture

__all__ = [
    "TYPICAL", "Choices", "Material", "Pace", "SewingPlan", "SeamLine", "Step", "calibrate",
    "finished_weight", "girth_profile", "materials", "plan_json", "sewing_plan",
    "span_in_words", "step_pictures", "thread_needed", "time_in_words", "together_picture",
]
