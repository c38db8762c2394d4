"""What stands on the page before the user has typed a measurement: an invented volunteer's dress.

The inch texts are what the same tape reads on its other side.
"""

EXAMPLE_WHO = "Hild, who keeps the geese at Marram Farm"
EXAMPLE_NAME = "Hild (example)"
EXAMPLE_MEASUREMENTS = {
    "cm": {
        "bust_girth": "92", "waist_girth": "78", "torso_length": "38", "hip_girth": "99",
        "stature": "166", "arm_length": "58", "crotch_length": "72", "head_girth": "56",
        "shoulder_girth": "103", "calf_girth": "36",
    },
    "in": {
        "bust_girth": "36 1/4", "waist_girth": "30 3/4", "torso_length": "15", "hip_girth": "39",
        "stature": "65 1/4", "arm_length": "22 3/4", "crotch_length": "28 1/4", "head_girth": "22",
        "shoulder_girth": "40 1/2", "calf_girth": "14 1/4",
    },
}
