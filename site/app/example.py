"""What stands on the page before the user has typed a measurement: an invented volunteer's dress.

The inch texts are what the same tape reads on its other side.
"""

EXAMPLE_WHO = "Hild, who keeps the geese at Marram Farm"
EXAMPLE_NAME = "Hild (example)"
EXAMPLE_MEASUREMENTS = {
    "cm": {"bust_girth": "92", "waist_girth": "78", "torso_length": "38"},
    "in": {"bust_girth": "36 1/4", "waist_girth": "30 3/4", "torso_length": "15"},
}
