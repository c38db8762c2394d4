"""What can hurt, in the words that every part uses; each defers to those who know or decide.

This stands to the left of the garments, so that a garment, the sewing plan and the period advice say
the same thing in the same words, and whoever shows them can leave out what was said before.
"""

YOUNG_CHILD_YEARS, OLDER_CHILD_YEARS = 7, 14
YOUNG_CHILD_STATURE = 1340.0
"""mm; up to here a wearer counts as a young child where no age is known.

source: Finnish Safety and Chemicals Agency, “Cords and drawstrings on children's clothing”, on EN 14682:
no cords at hood, head or neck up to 7 years or 134 cm, none with free ends from 7 to 14.
"""

CHILD_STATURE = 1500.0
"""mm; wearers up to this height are given the cautions for children. common practice, no source."""

# --- Fire -----------------------------------------------------------------------------------------

OPEN_FIRE = (
    "Loose cloth near an open fire or hearth can catch: keep it clear, and follow the event's own "
    "rules."
)
LONG_HEM = (
    "A long hem near an open fire or hearth can catch or trip: keep it clear, and follow the event's "
    "own rules."
)
PLANT_FIBRE_BURNS = (
    "Linen, hemp and cotton catch fire more easily than wool and burn on: wear wool at the fire, and "
    "follow the event's fire rules."
)
SYNTHETICS_MELT = (
    "Synthetics melt on to the skin when they burn: wear none near a fire, not even as a share in the "
    "wool or as sewing thread."
)

# --- Cords, pins, small parts ---------------------------------------------------------------------

CORDS = (
    "No cords, ribbons or ties at the head or neck of a small child: they catch and strangle. Follow "
    "the event's rules and your local code on children's clothing (in Europe EN 14682)."
)
CORDS_OLDER = (
    "From 7 to 14 years no cord with free ends at the hood, head or neck, and short ones elsewhere. "
    "Follow the event's rules and your local code on children's clothing (in Europe EN 14682)."
)
NECK_CLOSING = (
    "For a child close the neck with a button or a sewn loop, not with a cord, a ribbon or a pin: "
    "under 7 years none belongs at the neck, and from 7 to 14 cords are limited (EN 14682). Follow "
    "your local code and the event's rules."
)
DRAWSTRING = (
    "For a child sew the drawstring fast at the back, keep its ends short when the waist is drawn open, "
    "without toggles or knots that catch, and let none hang at the ankles (EN 14682). Belt "
    "loops need no cord. Follow your local code and the event's rules."
)
PINS = (
    "Pins and brooches are sharp. Keep them off small children: sew a button with a short loop, or a "
    "few stitches that give way, and follow the event's rules."
)
BROOCH_STRAPS = (
    "Brooch pins are sharp. For a small child sew the straps down instead, with no pins and no loose "
    "cords at the neck, and follow the event's rules and your local code on children's clothing."
)
TOGGLES = (
    "Toggles on a small child's clothes can come off and be swallowed: sew them through and knot the "
    "thread, or close them another way; follow your local code on children's clothing."
)
CLOAK_CATCHES = (
    "A cloak held at the throat can catch and pull: for a small child let the closing give way, and "
    "follow the event's rules and your local code on children's clothing."
)
TAIL_CATCHES = (
    "A tail can catch and pull: leave it off a small child's hood, and follow the event's rules."
)
WRAPS_TOO_TIGHT = (
    "Wind them snug, not tight: cold, numb or tingling toes mean they must come off."
)

# --- Making, dyeing, washing ----------------------------------------------------------------------

SHARP_TOOLS = (
    "Count pins and needles in and out. Shears and needles are sharp: keep them from small children, "
    "and cut away from the hand that holds the cloth."
)
HOT_TOOLS = "Irons, steam and hot soaking water burn: keep children and cords away."
WOOL_ON_SKIN = (
    "Some skins do not bear wool or the lanolin in it: try a piece on the inside of the elbow first, "
    "and line the neck and cuffs with linen. If a rash stays, ask a doctor."
)
DYE_BATH = (
    "If you dye it yourself: gloves, fresh air, no dust breathed in, and pots and spoons that never go "
    "back to the kitchen. Keep children and animals away from hot baths, and ask where the dregs may go."
)
MORDANTS = (
    "Alum is the mildest mordant, and still not for eating. Chrome and tin are poisonous and copper "
    "harms skin and water: leave them to qualified people and to your local rules."
)
VAT = (
    "A woad vat is caustic, and modern reducing powders give off a sharp gas: gloves, goggles and open "
    "air, and read the sheet that comes with the powder."
)
AMMONIA = (
    "Lichens steep in ammonia, which bites eyes and lungs: gloves and open air, never beside bleach. "
    "Rock lichens grow slowly and are protected in places: ask before you gather any."
)
IRON_BATH = (
    "Iron salts stain and are poisonous to small children: lock them away, and rinse the cloth well."
)
HOT_FULLING = (
    "Fulling takes hot water, soap and hours: tongs or gloves, a tub that stands fast, dry shoes, and "
    "no children near the hot water."
)


def is_young_child(stature: float) -> bool:
    """By stature in mm, where nobody's age was asked."""
    return stature <= YOUNG_CHILD_STATURE
