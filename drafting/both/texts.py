"""What a text may hold, in a field, in a link and in a file alike: one line, in any letters.

Joiners, marks and spaces of every kind are letters to whoever writes with them. It also runs in the
page's MicroPython, so it imports nothing and keeps to the plainest Python.
"""

LONGEST = 200
"""Characters (Unicode code points) in one text."""


def is_one_line(text):
    """Whether it can be written as it is: no control character, no end of a line, no half of a pair
    of surrogates, and no more than LONGEST characters."""
    return len(text) <= LONGEST and not any(_ends_a_line(char) for char in text)


def one_line(text):
    """The text as one line: a space for each character that no line holds, and what is too long cut."""
    if is_one_line(text):
        return text
    return "".join(" " if _ends_a_line(char) else char for char in text[:LONGEST])


def _ends_a_line(char):
    """source: Unicode 15.0, table 4-4 and section 23.6: Cc, Zl, Zp and Cs."""
    code = ord(char)
    return code < 0x20 or 0x7F <= code <= 0x9F or code in (0x2028, 0x2029) or 0xD800 <= code <= 0xDFFF
