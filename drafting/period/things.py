"""What else can be chosen for a garment: fibres, weaves, threads, trims, fastenings, and their names."""

from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Literal

from ..words.problems import BadInput, Problem
from .places import plain

Topic = Literal["fibre", "weave", "thread", "trim", "fastening", "making"]


@dataclass(frozen=True)
class Thing:
    """Something one can choose; `aliases` are what else people type for it, in small letters."""

    name: str
    title: str
    aliases: tuple[str, ...] = ()


def _things(*things: Thing) -> Mapping[str, Thing]:
    return {thing.name: thing for thing in things}


THINGS: Mapping[Topic, Mapping[str, Thing]] = {
    "fibre": _things(
        Thing("wool", "wool", ("woollen", "woolen", "worsted")),
        Thing("linen", "linen", ("flax",)),
        Thing("hemp", "hemp"),
        Thing("nettle", "nettle"),
        Thing("silk", "silk"),
        Thing("cotton", "cotton", ("muslin", "calico", "denim")),
        Thing("half-linen", "linen mixed with cotton", ("linen cotton", "cotton linen", "linen mix")),
        Thing("wool-mix", "wool mixed with synthetics", ("wool blend", "mixed wool", "wool polyester")),
        Thing("viscose", "viscose", ("rayon", "bamboo", "modal")),
        Thing("synthetic", "synthetics", ("polyester", "acrylic", "nylon", "polyamide", "fleece",
                                          "polar fleece", "elastane")),
    ),
    "weave": _things(
        Thing("tabby", "tabby", ("plain weave", "plain", "linen weave")),
        Thing("twill", "2/2 twill", ("2/2", "plain twill", "vaðmál", "vadmal", "wadmal")),
        Thing("herringbone", "herringbone twill", ("chevron", "chevron twill", "pointed twill",
                                                   "zigzag twill")),
        Thing("broken-twill", "broken twill", ("broken chevron", "broken herringbone")),
        Thing("diamond-twill", "diamond twill", ("lozenge twill", "lozenge", "diamond",
                                                 "broken diamond twill", "goose eye")),
        Thing("three-end-twill", "2/1 twill", ("2/1", "three shed twill", "three end twill")),
        Thing("pile", "shaggy pile weave", ("shaggy", "röggvar", "rya", "pile weave")),
        Thing("felt", "felt", ("felted",)),
        Thing("broadcloth", "smooth, shorn broadcloth", ("melton", "felted broadcloth", "loden")),
        Thing("knit", "knitting and jersey", ("jersey", "knitted", "t shirt", "sweatshirt")),
        Thing("velvet", "velvet", ("velour", "corduroy")),
        Thing("satin", "satin", ("sateen", "jacquard", "damask")),
    ),
    "thread": _things(
        Thing("wool", "wool thread", ("woollen", "wool yarn")),
        Thing("linen", "linen thread", ("flax",)),
        Thing("silk", "silk thread"),
        Thing("cotton", "cotton thread"),
        Thing("synthetic", "polyester thread", ("polyester", "nylon", "all purpose")),
    ),
    "trim": _things(
        Thing("none", "no trim"),
        Thing("tablet-band", "tablet-woven band", ("tablet weaving", "tablet woven", "card woven",
                                                   "braid")),
        Thing("silk-strips", "strips of patterned silk", ("silk", "silk border", "silk edging")),
        Thing("embroidery", "embroidery", ("embroidered",)),
        Thing("metal-thread", "gold or silver thread", ("gold thread", "silver thread", "brocading")),
        Thing("lace", "lace", ("machine lace", "crochet")),
        Thing("ribbon", "machine-woven ribbon", ("jacquard ribbon", "polyester braid", "satin ribbon")),
    ),
    "fastening": _things(
        Thing("none", "no fastening"),
        Thing("brooch", "brooch or pin", ("pin", "fibula", "brooches", "pins")),
        Thing("belt", "belt", ("girdle", "sash")),
        Thing("ties", "sewn-on ties", ("tie", "tapes", "cord", "cords", "drawstring")),
        Thing("loop-and-button", "a small button or bead and a loop", ("bead and loop",
                                                                       "button and loop")),
        Thing("metal-buttons", "small cast buttons down the front", ("bronze buttons", "buttons")),
        Thing("toggles", "toggles and loops", ("toggle",)),
        Thing("buttonholes", "a close row of buttonholes", ("button row", "buttonhole")),
        Thing("eyelets", "metal eyelets", ("grommets", "metal grommets")),
        Thing("zip", "zip", ("zipper", "zip fastener")),
        Thing("hook-tape", "hook-and-loop tape", ("touch fastener", "hook and loop")),
        Thing("snaps", "press studs", ("snap", "press stud", "poppers")),
        Thing("elastic", "elastic", ("rubber", "elastic waist")),
    ),
    "making": _things(
        Thing("hand", "sewn by hand", ("by hand", "handsewn", "hand sewn")),
        Thing("machine-hidden", "long seams by machine, what shows by hand", ("hidden machine",)),
        Thing("machine", "machine stitches that show", ("by machine", "machine sewn", "overlock",
                                                        "serger")),
    ),
}


def read_thing(topic: Topic, text: str) -> str:
    """The thing's name. Raises BadInput naming the topic."""
    words = plain(text)
    things = THINGS[topic]
    for thing in things.values():
        if words in (plain(thing.name), plain(thing.title), *thing.aliases):
            return thing.name
    known = {
        plain(word): thing.name
        for thing in things.values() for word in (thing.name, thing.title, *thing.aliases)
    }
    near = get_close_matches(words, known, n=1, cutoff=0.7)
    hint = f" Did you mean {known[near[0]]}?" if near else ""
    given = f"“{text.strip()[:40]}” is no {topic} that this knows." if words else f"Which {topic}?"
    raise BadInput([Problem(topic, f"{given}{hint} Give one of: {', '.join(things)}.")])
