"""Lengths as typed: which carry their own unit, and what is to be done when the unit is switched.

No length is ever converted here. A bare `92` typed under cm means 92 cm, so when the unit becomes
inches the text becomes `92 cm`: it keeps its meaning, and can be read.
"""

_DOUBLE_QUOTES = '"″“”„‟〃'
_SINGLE_QUOTES = "'′’‘‛ʹʼ`´"


def is_bare(text):
    """Whether the text holds a number and no unit of its own."""
    digit = False
    for i, char in enumerate(text):
        if char.isdigit() or char in "¼½¾⅓⅔⅛⅜⅝⅞":
            digit = True
        elif (
            char.isalpha() or char in _DOUBLE_QUOTES
            or (char in _SINGLE_QUOTES and not _parts_thousands(text, i))
        ):
            return False
    return digit


def _parts_thousands(text, at):
    """Whether the apostrophe stands as in 1'200, and not as in 5'4 (feet)."""
    after = text[at + 1 : at + 4]
    return at > 0 and text[at - 1].isdigit() and len(after) == 3 and after.isdigit() and (
        not text[at + 4 : at + 5].isdigit()
    )


def with_unit(text, unit, space=" "):
    """The text with the unit that a bare number was meant in."""
    text = text.strip()
    return text + space + unit if is_bare(text) else text


def without_unit(text, unit):
    """The bare number again, where the text is one with just this unit behind it."""
    text = text.strip()
    rest = text[: -len(unit)].rstrip()
    return rest if text.endswith(unit) and is_bare(rest) else text


def under(texts, before, after, lengths):
    """Texts by name that keep their meaning where another unit is the rule; `lengths` are those it is for."""
    if before == after:
        return dict(texts)
    return {
        name: without_unit(with_unit(texts[name], before), after) if name in lengths else texts[name]
        for name in texts
    }


METRE, YARD = " a metre", " a yard"


def price_kept(text, unit):
    """A price of the length that a shop with such a tape sells by, as it is kept: bare, of a metre."""
    return text.strip() + YARD if unit == "in" and is_bare(text) else text


def price_shown(text, unit):
    """The price again as it was typed: bare where it is of the length that goes with the tape."""
    mine, other = (YARD, METRE) if unit == "in" else (METRE, YARD)
    text = text.strip()
    if text.endswith(mine) and is_bare(text[: -len(mine)]):
        return text[: -len(mine)]
    return text + other if unit == "in" and is_bare(text) else text
