"""Words of the trade in words a beginner knows, and the same words marked in the page's texts.

A marked word is a button that opens its explanation (wayfinding.py, `word:`). Only the first of its kind in
a section is marked, so that a text stays a text. The common meaning of each; no source.
"""

from safe import esc

# Each: its name, the forms it is found by, the explanation.
WORDS = (
    ("backstitch", ("backstitch", "backstitches", "backstitched"),
     "Each stitch goes back to the end of the one before, so there is no gap. Strong, and slower than a "
     "running stitch."),
    ("bias", ("bias",),
     "The slanting direction across a cloth, between its lengthwise and its crosswise threads. Cut that "
     "way, cloth stretches."),
    ("casing", ("casing",),
     "A hem left open at its ends, like a tunnel, for a cord to run through."),
    ("ease", ("ease",),
     "Room to move and breathe: how much larger the garment is than the body inside it."),
    ("facing", ("facing", "facings"),
     "A strip or a shaped piece sewn round an opening and turned to the inside, so that the raw edge is "
     "hidden and does not stretch."),
    ("felling", ("felled", "fell", "felling"),
     "Sewing a folded edge flat on to the cloth with small slanting stitches that hardly show outside."),
    ("flare", ("flare", "flared"),
     "How much wider a piece gets towards its lower edge."),
    ("fulling", ("fulling", "fulled"),
     "Washing and working wool on purpose until it shrinks and thickens, so that it keeps out wind and "
     "frays less."),
    ("godet", ("godet", "godets"),
     "A triangle set into a slit, to widen the lower part of a piece."),
    ("gore", ("gore", "gores"),
     "A tall triangle or wedge set between two pieces, so that a skirt is wide below and narrow above."),
    ("grain", ("grain",),
     "The direction of the lengthwise threads, along the selvedge. Pieces are laid along it so that they "
     "hang straight and do not stretch out of shape."),
    ("gusset", ("gusset", "gussets"),
     "A small square or triangle sewn in where a garment would pull, under the arm or between the legs."),
    ("keyhole neck", ("keyhole neck", "keyhole"),
     "A round neckline with a short slit below it, which makes it wide enough for the head."),
    ("lay", ("lay", "lays"),
     "How all the pieces are laid out on the cloth before cutting, as close together as they will go."),
    ("nap", ("nap",),
     "Fibres brushed in one direction. Cloth with a nap looks different upside down, so every piece must "
     "lie the same way."),
    ("notch", ("notch", "notches"),
     "A mark at the edge of two pieces that shows where they meet when they are sewn together."),
    ("piecing", ("piecing", "pieced"),
     "Making one large piece out of smaller ones, when the cloth is too narrow or a scrap would do."),
    ("run-and-fell", ("run-and-fell", "run-and-felled", "run and fell", "run and felled"),
     "A seam sewn twice: first run together, then one edge is folded round the other and sewn down flat. "
     "No raw edge is left on the inside."),
    ("running stitch", ("running stitch", "running stitches"),
     "The plainest stitch: in and out along a line, with gaps as long as the stitches."),
    ("seam allowance", ("seam allowance", "seam allowances"),
     "The strip between the line you sew and the edge you cut. Without it there would be nothing to hold "
     "the stitches."),
    ("selvedge", ("selvedge", "selvedges"),
     "The finished edge along both sides of a cloth. It does not fray."),
    ("shrinkage", ("shrinkage",),
     "How much shorter and narrower a cloth gets in its first wash."),
    ("stride", ("stride",),
     "A long step. The hem must be wide enough for one."),
    ("tuck", ("tuck", "tucks", "growth tuck"),
     "A fold sewn into a garment on purpose. Let out later, it makes the garment longer or wider."),
    ("twill", ("twill",),
     "A weave with slanting ridges; it drapes well. Tabby is the plain one, over and under in turn."),
    ("warp", ("warp",),
     "The lengthwise threads of a cloth, stretched on the loom."),
    ("weft", ("weft",),
     "The crosswise threads of a cloth, woven in and out of the warp."),
)

# Forms explained as nouns only, and what follows them where they are verbs: "ease the cloth in".
NOUNS = ("ease", "lay", "tuck")
HANDLED = ("a", "all", "an", "both", "each", "it", "one", "that", "the", "them", "this", "your", "strips")


def explained(name):
    """The explanation of a word by its name, or ""."""
    for known, _, explanation in WORDS:
        if known == name:
            return explanation
    return ""


def marked(text, seen):
    """The text as HTML, the first of each word marked that is not among the names in `seen`.

    What is marked joins `seen`, a list.
    """
    small = text.lower()
    found = []
    for name, forms, _ in WORDS:
        if name not in seen:
            places = [(_find(small, form), -len(form)) for form in forms]
            places = [place for place in places if place[0] >= 0]
            if places:
                at, less = min(places)
                found.append((at, less, name))
    out, done = [], 0
    for at, less, name in sorted(found):
        if at < done:
            continue  # part of a longer word that is marked
        out.append(esc(text[done:at]))
        out.append(word_html(name, text[at : at - less]))
        done = at - less
        seen.append(name)
    out.append(esc(text[done:]))
    return "".join(out)


def word_html(name, text=""):
    return (
        '<button type="button" class="word" aria-haspopup="dialog" data-do="word:%s">%s</button>'
        % (esc(name), esc(text or name))
    )


def words_html(names):
    """A line of words that labels of a section use, where they cannot be marked themselves."""
    return '<p class="words">In plain words: %s</p>' % ", ".join(word_html(name) for name in names)


def _find(small, form):
    """Where a form stands as a word of its own, in the sense explained, or -1."""
    at = small.find(form)
    while at >= 0:
        after = at + len(form)
        if not (
            at and _joins(small[at - 1])
            or after < len(small) and _joins(small[after])
            or form in NOUNS and _is_told_to_do(small[:at].split()[-1:], small[after:].split()[:1])
        ):
            return at
        at = small.find(form, at + 1)
    return -1


def _is_told_to_do(before, after):
    """Whether a noun's form is a verb here, as in "lay both flat": something to be handled follows it."""
    if before and before[0] in ("a", "the", "this", "each", "no", "of", "growth"):
        return False
    return bool(after) and (after[0] in HANDLED or after[0][0].isdigit())


def _joins(char):
    return char.isalpha() or char == "-"
