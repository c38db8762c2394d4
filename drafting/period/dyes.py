"""The dyes: what each is made of, what it costs, and the tones it gives on wool and on linen.

Tones are for looking at on a screen. Every tone here was judged by eye against what plant dyers commonly
show; no two dye baths agree, and no screen agrees with cloth.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache
from typing import Literal

from ..words.problems import BadInput, Problem
from .places import plain

Depth = Literal["light", "mid", "deep"]
DEPTHS: tuple[Depth, ...] = ("light", "mid", "deep")
Range = tuple[str, str, str]
"""A light, a middling and a deep tone, as #rrggbb."""

TONES_FROM = "judged by eye"
COSTS = ("nothing: the sheep or the flax grew it so", "little", "some", "much", "a fortune",
         "not to be had")
COSTS_FROM = "common practice, no source"
NOT_TO_BE_HAD = COSTS.index("not to be had")


@dataclass(frozen=True)
class Dye:
    """A dye or a colour that grew; `cost` is a place in COSTS, `words` what people call the colour.

    `pattern` names a tile in PATTERNS, so that dyes can be told apart without seeing colour.
    """

    name: str
    title: str
    made_of: str
    cost: int
    pattern: str
    words: tuple[str, ...]
    wool: Range | None = None
    linen: Range | None = None
    grown: bool = False

    def tones(self, fibre: str) -> Range | None:
        """The tones on that fibre; silk is shown as wool, every plant fibre as linen."""
        return self.wool if fibre in ("wool", "silk") else self.linen


_DYES = (
    Dye("undyed-white", "white fleece", "wool as a white sheep grew it", 0, "plain",
        ("white", "cream", "natural", "undyed", "ecru"),
        wool=("#f3ecdd", "#e9dfc9", "#dccfb2"), grown=True),
    Dye("undyed-grey", "grey fleece", "wool of a grey sheep, or white and black spun together", 0,
        "flecks-both", ("grey", "gray", "silver", "natural", "undyed"),
        wool=("#c9c5bd", "#a09b93", "#6f6b66"), grown=True),
    Dye("undyed-brown", "brown fleece", "wool of a brown sheep", 0, "bricks",
        ("brown", "natural", "undyed", "beige", "tan", "dun"),
        wool=("#a98b6c", "#7d5f45", "#553d2b"), grown=True),
    Dye("undyed-black", "black fleece", "wool of a black sheep, a very dark brown", 0, "bricks-small",
        ("black", "dark", "natural", "undyed", "dark brown"),
        wool=("#4b403a", "#362e2a", "#241f1d"), grown=True),
    Dye("undyed-linen", "unbleached linen", "flax as it was retted", 0, "flecks-across",
        ("beige", "natural", "undyed", "ecru", "grey", "gray"),
        linen=("#d9cfb8", "#c4b799", "#a99a7b"), grown=True),
    Dye("bleached-linen", "bleached linen", "linen washed in lye and bleached on the grass", 1,
        "flecks-down", ("white",), linen=("#faf7f0", "#f3eee2", "#e9e2d2"), grown=True),
    Dye("bark-brown", "bark brown", "alder, oak or birch bark", 1, "shingles",
        ("brown", "tan", "beige", "russet", "cinnamon"),
        wool=("#c79f78", "#a3764f", "#744d31"), linen=("#dcc3a4", "#c3a07b", "#9a7654")),
    Dye("walnut", "walnut brown", "walnut leaves and husks", 1, "bricks-upright",
        ("brown", "dark brown", "chestnut"),
        wool=("#b08d64", "#7f5c3b", "#4f3622"), linen=("#cdb694", "#a98b66", "#7d6144")),
    Dye("tannin-iron", "iron grey", "bark or oak galls, darkened with iron", 1, "grid",
        ("grey", "gray", "black", "charcoal", "dark"),
        wool=("#8b8683", "#5c5857", "#33302f"), linen=("#aaa6a0", "#7d7975", "#545150")),
    Dye("leaf-yellow", "leaf yellow", "birch leaves, dyer's greenweed, heather and the like", 1,
        "dots-sparse", ("yellow", "straw", "buff"),
        wool=("#eadb9a", "#d8bf62", "#b39742"), linen=("#efe5b9", "#e0cf8d", "#c4ae69")),
    Dye("weld", "weld yellow", "weld, with alum", 1, "dots-dense", ("yellow", "gold", "lemon"),
        wool=("#f2dc6b", "#e6c62f", "#c9a51d"), linen=("#f3e597", "#e9d467", "#d2b848")),
    Dye("madder-weld", "orange", "weld, then madder", 2, "lines-and-dots",
        ("orange", "rust", "tawny", "russet"),
        wool=("#e58b3c", "#cf6a26", "#a84e1b"), linen=("#edb180", "#df9158", "#c3753f")),
    Dye("madder-pale", "pale madder", "a madder bath that has been used before", 1,
        "lines-down-broken", ("pink", "salmon", "peach", "apricot", "coral"),
        wool=("#edb79a", "#e0926f", "#cb7450"), linen=("#f0cdb9", "#e5af93", "#d4937a")),
    Dye("bedstraw", "bedstraw red", "roots of lady's bedstraw, a small wild kin of madder", 2,
        "lines-down", ("red", "brick", "coral"),
        wool=("#d7775a", "#bd5540", "#93392c"), linen=("#e2a58e", "#cf8168", "#b2634d")),
    Dye("madder", "madder red", "roots of madder, with alum", 3, "lines-down-close",
        ("red", "brick", "crimson"),
        wool=("#c9503a", "#b03426", "#84241d"), linen=("#d98571", "#c56552", "#a34a3c")),
    Dye("kermes", "kermes crimson", "scale insects of the Mediterranean oak", 4, "lines-down-double",
        ("crimson", "scarlet", "red"), wool=("#cf3348", "#b01c35", "#7f1428")),
    Dye("woad-pale", "pale woad blue", "a weak woad vat, often uneven", 1, "lines-across-broken",
        ("blue", "light blue", "pale blue", "sky blue"),
        wool=("#b9cdd6", "#93b0c0", "#6f92a8"), linen=("#cbdae0", "#a9c2ce", "#86a6b8")),
    Dye("woad", "woad blue", "a good woad vat, even all over", 2, "lines-across",
        ("blue", "indigo", "mid blue"),
        wool=("#5f87a5", "#3f6a8c", "#2c5071"), linen=("#7d9fb8", "#5c84a3", "#446c8c")),
    Dye("woad-deep", "deep woad blue", "many dips in a strong woad vat", 3, "lines-across-close",
        ("blue", "navy", "dark blue", "deep blue"),
        wool=("#2f4a6e", "#213657", "#17263f"), linen=("#4a668a", "#375172", "#283f5c")),
    Dye("olive-green", "olive green", "a leaf yellow, saddened with iron", 1, "falling",
        ("green", "olive", "khaki"),
        wool=("#b0a861", "#8b8541", "#635f2c"), linen=("#c8c18b", "#a9a268", "#86804b")),
    Dye("pale-green", "pale green", "a yellow over pale woad", 2, "falling-broken",
        ("green", "light green", "pale green", "sage"),
        wool=("#bccb86", "#9db268", "#7d9650"), linen=("#cfd9aa", "#b4c48a", "#97ab6f")),
    Dye("deep-green", "deep green", "weld over a strong woad blue", 3, "falling-close",
        ("green", "dark green", "deep green"),
        wool=("#5f8248", "#416636", "#2a4a28"), linen=("#7f9c6b", "#628253", "#49693f")),
    Dye("madder-woad", "purple of madder and woad", "woad blue, then madder", 3, "rising-broken",
        ("purple", "violet", "plum", "mauve", "aubergine"),
        wool=("#8d6480", "#6a4562", "#4a2e47"), linen=("#ab8ba1", "#8c6b84", "#6d4f68")),
    Dye("lichen-purple", "lichen purple", "rock lichens steeped for weeks in stale urine", 3, "rising",
        ("purple", "pink", "mauve", "magenta", "violet", "orchil", "korkje"),
        wool=("#c58bb4", "#9b4f8a", "#6a2f63"), linen=("#d9b4cd", "#bd86ae", "#97618b")),
    Dye("whelk-purple", "whelk purple", "the gland of sea snails, thousands for a garment", 4,
        "rising-close", ("purple", "tyrian purple", "imperial purple", "murex"),
        wool=("#8f4f95", "#68306f", "#451d4c")),
    Dye("jet-black", "even jet black", "a modern black", 5, "grid-close", ("black", "jet black"),
        wool=("#2b2b2e", "#1a1a1d", "#0e0e10"), linen=("#313134", "#1f1f22", "#121214")),
    Dye("optical-white", "brilliant white", "optical brightener", 5, "stars",
        ("white", "bright white", "brilliant white"),
        wool=("#ffffff", "#fbfcff", "#f4f7ff"), linen=("#ffffff", "#fbfcff", "#f4f7ff")),
    Dye("cochineal", "cochineal crimson", "scale insects of American cactuses", 5, "lines-down-waved",
        ("crimson", "pink", "magenta", "fuchsia"),
        wool=("#d0446c", "#b3204f", "#7e1238"), linen=("#de8299", "#c95f7c", "#a5405e")),
    Dye("logwood", "logwood purple", "wood of a tree of Central America", 5, "rising-and-dots",
        ("purple", "violet", "black"),
        wool=("#7b6a9a", "#54416f", "#2f2543"), linen=("#9f92b6", "#7f7099", "#5c4d75")),
    Dye("modern-bright", "modern brights", "synthetic dyes", 5, "zigzag",
        ("turquoise", "royal blue", "teal", "fuchsia", "bright", "emerald", "lilac"),
        wool=("#3f8cff", "#1f5fe0", "#8a1fd0"), linen=("#3f8cff", "#1f5fe0", "#8a1fd0")),
    Dye("neon", "neon", "fluorescent pigments", 5, "zigzag-close",
        ("neon", "fluorescent", "lime", "hot pink", "neon green", "neon pink", "hi-vis", "high-vis"),
        wool=("#d4ff3a", "#5cff3a", "#ff3ea5"), linen=("#d4ff3a", "#5cff3a", "#ff3ea5")),
)
DYES: Mapping[str, Dye] = {dye.name: dye for dye in _DYES}

PATTERNS: Mapping[str, str] = {
    "plain": "",
    "flecks-across": "M1 3h4M7 9h4",
    "flecks-down": "M3 1v4M9 7v4",
    "flecks-both": "M1 3h4M9 7v4",
    "bricks": "M0 0H12M0 6H12M3 0V6M9 6V12",
    "bricks-small": "M0 0H12M0 4H12M0 8H12M2 0V4M8 0V4M5 4V8M11 4V8M2 8V12M8 8V12",
    "bricks-upright": "M0 0V12M6 0V12M0 3H6M6 9H12",
    "shingles": "M0 0Q3 6 6 0Q9 6 12 0M0 9Q1.5 9 3 6Q6 12 9 6Q10.5 9 12 9",
    "grid": "M0 3H12M0 9H12M3 0V12M9 0V12",
    "grid-close": "M0 2H12M0 6H12M0 10H12M2 0V12M6 0V12M10 0V12",
    "dots-sparse": "M3 3h0.9M9 9h0.9",
    "dots-dense": "M2 2h0.9M8 2h0.9M5 5h0.9M11 5h0.9M2 8h0.9M8 8h0.9M5 11h0.9M11 11h0.9",
    "lines-and-dots": "M3 0V12M9 3h0.9M9 9h0.9",
    "lines-down-broken": "M6 1V7",
    "lines-down": "M6 0V12",
    "lines-down-close": "M2 0V12M6 0V12M10 0V12",
    "lines-down-double": "M4 0V12M7 0V12",
    "lines-down-waved": "M6 0Q9 3 6 6Q3 9 6 12",
    "lines-across-broken": "M1 6H7",
    "lines-across": "M0 6H12",
    "lines-across-close": "M0 2H12M0 6H12M0 10H12",
    "falling": "M0 0L12 12",
    "falling-broken": "M3 3L9 9",
    "falling-close": "M0 0L12 12M6 0L12 6M0 6L6 12",
    "rising": "M0 12L12 0",
    "rising-broken": "M3 9L9 3",
    "rising-close": "M0 12L12 0M0 6L6 0M6 12L12 6",
    "rising-and-dots": "M0 12L12 0M3 3h0.9M9 9h0.9",
    "stars": "M6 3v6M3 6h6M4 4l4 4M8 4l-4 4",
    "zigzag": "M0 9L3 3L6 9L9 3L12 9",
    "zigzag-close": "M0 4L3 1L6 4L9 1L12 4M0 10L3 7L6 10L9 7L12 10",
}
"""SVG path data, to be stroked about 1 wide with round ends in a tile of 12 by 12.

Yellow is dots, red upright lines, blue level lines, green lines falling and purple lines rising to the
right, black a grid, as engravers have drawn colours since the 17th century; brown is bricks, and lines
stand closer the deeper the colour. from memory: Petra Sancta 1638, Tesserae gentilitiae.
"""


@dataclass(frozen=True)
class Tone:
    """A cloth's colour, the chalk that shows on it, both as #rrggbb, and their contrast ratio."""

    cloth: str
    chalk: str
    chalk_name: str
    contrast: float


READABLE = 4.5
"""The least contrast. source: W3C, Web Content Accessibility Guidelines 2.1, success criterion 1.4.3."""

_CHALKS = (("white chalk", "#f8f2e4"), ("charcoal", "#2a221a"), ("white chalk", "#ffffff"),
           ("charcoal", "#000000"))


def tone(dye: str, fibre: str = "wool", depth: Depth = "mid") -> Tone | None:
    """How cloth of that dye looks, with a chalk to read on it; None where the fibre does not have it.

    Raises KeyError for a dye that is not in DYES.
    """
    tones = DYES[dye].tones(fibre)
    return None if tones is None else chalked(tones[DEPTHS.index(depth)])


def chalked(cloth: str) -> Tone:
    """The first of the chalks that reads on this cloth: on any colour, pure white or black does."""
    for name, chalk in _CHALKS:
        ratio = contrast(cloth, chalk)
        if ratio >= READABLE:
            return Tone(cloth, chalk, name, ratio)
    raise AssertionError("white or black has a contrast of √21 at least with every colour")


def contrast(one: str, other: str) -> float:
    """The contrast ratio of two #rrggbb colours, from 1 to 21. source: WCAG 2.1, “contrast ratio”."""
    lighter, darker = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


@cache
def _luminance(colour: str) -> float:
    # source: WCAG 2.1, “relative luminance”.
    red, green, blue = (int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5))
    return 0.2126 * _linear(red) + 0.7152 * _linear(green) + 0.0722 * _linear(blue)


def _linear(value: float) -> float:
    return value / 12.92 if value <= 0.03928 else float(((value + 0.055) / 1.055) ** 2.4)


def read_colour(text: str, field: str = "colour") -> tuple[str, ...]:
    """The dyes that a dye's name or a colour word may mean, the likeliest first.

    Raises BadInput naming `field`.
    """
    words = plain(text)
    for dye in _DYES:
        if words in (plain(dye.name), plain(dye.title)):
            return (dye.name,)
    if found := tuple(dye.name for dye in _DYES if words in dye.words):
        return found
    known = {word for dye in _DYES for word in (*dye.words, plain(dye.name), plain(dye.title))}
    near = get_close_matches(words, sorted(known), n=1, cutoff=0.7)
    hint = f" Did you mean {near[0]}?" if near else ""
    given = f"“{text.strip()[:40]}” is no colour or dye that this knows." if words else "Which colour?"
    raise BadInput([Problem(
        field, f"{given}{hint} Give a colour such as red or brown, or a dye such as weld, woad-pale or "
        "lichen-purple."
    )])
