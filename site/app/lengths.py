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
