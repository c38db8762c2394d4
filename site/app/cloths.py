"""The cloths that a garment is cut from: {part: {name: text}}, and how the form calls their fields.

A field of the form, and of a link, is called after its part: `cloth_width`, `cloth_lining_width`.
"""

PARTS = ("main", "lining")
LENGTHS = ("width", "selvedge", "on_hand")
LOOKS = ("fibre", "weave", "colour")  # they change nothing in how the main cloth is cut
FIELDS = (
    "name", "width", "selvedge", "on_hand", "shrinkage_warp", "shrinkage_weft", "washed_first", "nap",
    "two_sided", "folded", "turned", "weight", "price", "piecing", "fibre", "weave", "colour",
) + tuple("remnant_%d" % number for number in range(1, 61))
ROWS = 8  # of pieces on hand that the form has; what more a kit's file holds is laid as well
ON_HAND = "cloth_remnant_%d"
GREY = {  # what counts of a cloth where nothing is typed, by field and unit
    "cloth_width": {"cm": "150", "in": "59"}, "cloth_lining_width": {"cm": "140", "in": "55 1/8"},
    "cloth_selvedge": {"cm": "1", "in": "3/8"},
}
NAME = "name"  # changes nothing at all in a draft
CLOTH = "cloth_"  # how link.py tells a cloth's fields from options
_PREFIXES = {"main": CLOTH, "lining": "cloth_lining_"}


def none():
    """Cloths of which nothing is said."""
    return {part: {} for part in PARTS}


def field_of(part, name):
    return _PREFIXES[part] + name


def part_and_name(field):
    """Which part's cloth a field speaks of, and what it is called there; ("", field) for no cloth's."""
    for part in ("lining", "main"):
        if field.startswith(_PREFIXES[part]):
            return part, field[len(_PREFIXES[part]) :]
    return "", field


def from_fields(texts):
    """{part: {name: text}} out of {field: text}; what is no cloth's is left out."""
    found = none()
    for field in texts:
        part, name = part_and_name(field)
        if part:
            found[part][name] = texts[field]
    return found


def as_fields(cloths):
    """{field: text} out of {part: {name: text}}."""
    return {field_of(part, name): cloths[part][name] for part in cloths for name in cloths[part]}
