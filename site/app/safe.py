"""Text made safe to stand in HTML."""


def esc(text):
    """`text` as it may stand between tags or in a quoted attribute."""
    out = str(text)
    for char, entity in (("&", "&amp;"), ("<", "&lt;"), (">", "&gt;"), ('"', "&quot;")):
        out = out.replace(char, entity)
    return out
