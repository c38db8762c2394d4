"""Who is shown, and what the cloth looks like: these fields, and the pictures in the cloth's colour."""

from lengths import METRE, with_unit
from pyscript import document
from safe import esc
from telling import by_id, set_html, set_text

LISTS = (
    ("region", "impression"), ("rank", "impression"),
    ("cloth_fibre", "cloth"), ("cloth_weave", "cloth"), ("cloth_colour", "cloth"),
)
CLOTH_MORE = (  # what is folded away of the main cloth, in words
    ("washed_first", "cut before its first wash"), ("selvedge", "selvedge %s"), ("weight", "%s g/m²"),
    ("price", "%s"), ("turned", "also across the grain"), ("piecing", "in narrower parts"),
)
PLANT_FIBRES = ("linen", "hemp", "nettle", "cotton", "half-linen", "viscose")
TINTED = ("stage", "bar", "lay-picture", "enlarged-picture", "chalk")
MID = 1  # of the light, the middling and the deep tone
TILES = ((0, 0), (12, 0), (0, 12), (12, 12))


class ImpressionFields:
    """`dyes` as in the catalogue: name, title, made_of, cost, path, and tones on wool and on linen;
    `shrinking` what each fibre usually does in the wash."""

    def __init__(self, dyes, shrinking):
        self._dyes = {dye["name"]: dye for dye in dyes}
        self._shrinking = shrinking

    def fill(self, draft):
        """Make the fields show the draft, and the pictures its colour."""
        by_id("year").value = draft.get("impression", "year")
        for name, holder in LISTS:
            _choose(by_id(name), draft.get(holder, name))
        self.say(draft)
        set_text("shrinking", self._shrinking.get(draft.get("cloth", "cloth_fibre"), ""))
        self.tint(draft.get("cloth", "cloth_colour"), draft.get("cloth", "cloth_fibre"))

    def say(self, draft):
        set_text("impression-said", _said(draft))
        set_text("cloth-kind-said", _kind_of_cloth(draft.cloths["main"]))
        set_text("more-cloth-said", _more_of_cloth(draft.cloths["main"]))

    def tint(self, colour, fibre):
        """`colour` is a dye's name; one that is none leaves the pictures as they are without."""
        dye = self._dyes.get(colour)
        on = _shown_on(dye, fibre) if dye else ""
        for place in TINTED:
            style = by_id(place).style
            if dye:
                cloth, chalk = dye[on][MID]
                style.setProperty("--dye", cloth)
                style.setProperty("--chalk", chalk)
            else:
                style.removeProperty("--dye")
                style.removeProperty("--chalk")
            by_id(place).setAttribute("data-chalk", _kind(dye[on][MID][1]) if dye else "")
        if not dye:
            set_html("dye", "")
            set_html("dye-shown", "<span>Choose a colour</span>")
            return
        title = _capital(dye["title"])
        set_html("dye-shown", _swatch(dye, on, (MID,)) + "<span>%s</span>" % esc(title))
        set_html("dye", "%s<span>%s, pale to deep: %s. Cost: %s. Tones judged by eye.</span>" % (
            _swatch(dye, on, (0, 1, 2)), esc(title), esc(dye["made_of"]), esc(dye["cost"])))


def _said(draft):
    """The impression in a few words, for the line that unfolds its fields."""
    texts = draft.impression
    where = [_title("region", texts["region"])] if "region" in texts else []
    if "year" in texts:
        where.append(texts["year"].strip())
    if "rank" in texts:
        where.insert(0, _title("rank", texts["rank"]))
    if "rules" in texts:
        where.append("a group's own rules")
    return ", ".join(where) or "for advice on what is right"


def _kind_of_cloth(texts):
    """Its colour and weave, or what it is called; and how it lies."""
    looks = [_title("cloth_" + look, texts[look]) for look in ("colour", "weave") if look in texts]
    said = [texts["name"].strip()] if "name" in texts else [", ".join(looks).lower()] if looks else []
    said += [word for tick, word in (("nap", "one way up"), ("folded", "folded")) if tick in texts]
    return ", ".join(said) or "not said yet"


def _more_of_cloth(texts):
    said = [words % (with_unit(texts[name], METRE, "") if name == "price" else texts[name].strip())
            if "%s" in words else words for name, words in CLOTH_MORE if name in texts]
    return ", ".join(said) or "as usual"


def _title(name, text):
    for option in by_id(name).options:
        if option.value == text:
            return option.textContent
    return text


def _choose(box, text):
    """Set a list, which then also offers what only a link or a file has said."""
    own = box.querySelector("option[data-own]")
    if own:
        own.remove()
    box.value = text
    if box.value != text:
        option = document.createElement("option")
        option.value = option.textContent = text
        option.setAttribute("data-own", "")
        box.appendChild(option)
        box.value = text


def _shown_on(dye, fibre):
    wanted = "linen" if fibre in PLANT_FIBRES else "wool"
    return wanted if wanted in dye else "wool" if "wool" in dye else "linen"


def _kind(chalk):
    """Whether the chalk is light, on a dark cloth."""
    return "light" if int(chalk[1:3], 16) > 127 else "dark"


def _swatch(dye, on, depths):
    """Each tone with the dye's pattern on it, by which it is known without seeing colour."""
    tiles = []
    for i, depth in enumerate(depths):
        cloth, chalk = dye[on][depth]
        marks = "".join(
            '<path d="%s" transform="translate(%d %d)"/>' % (dye["path"], x, y) for x, y in TILES
        ) if dye["path"] else ""
        tiles.append(
            '<svg x="%d" width="24" height="24"><rect width="24" height="24" fill="%s"/>'
            '<g fill="none" stroke="%s" stroke-width="1.1" stroke-linecap="round">%s</g></svg>'
            % (24 * i, cloth, chalk, marks)
        )
    return '<svg class="swatch" viewBox="0 0 %d 24" style="width: %.2fem" aria-hidden="true">%s</svg>' % (
        24 * len(depths), 1.5 * len(depths), "".join(tiles))


def _capital(text):
    return text[:1].upper() + text[1:]
