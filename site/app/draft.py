"""The draft on the page: what the user typed, exactly as typed, and the request made of it."""

from collections import OrderedDict

import cloths
from example import EXAMPLE_MEASUREMENTS
from lengths import with_unit, without_unit
from texts import one_line

UNITS = ("cm", "in")
SETTINGS = ("name", "paper", "sex", "age_months")
SEXES = ("", "woman", "man")
OLDEST = 1500  # months, as drafting/body/wearer.py has it
MOST = 100  # fields of one kind in a link
PERSONAL = ("measured", "born")  # ISO dates; they stay on the device, no link holds them
HOLDERS = ("measurements", "options", "cloth", "impression")
IMPRESSION = ("year", "region", "rank", "rules")  # `rules`: a group's house rules as link text


class FormDraft:
    """`measurements` and `options` are name → text as typed; an empty text is no text.

    Every garment has options of its own, which wait while another one is chosen. `cloths` are
    {part: name → text}; in `get` and `put` the holder "cloth" speaks of them by the form's fields.
    """

    def __init__(self, garment, unit="cm"):
        self.garment = garment
        self.unit = unit
        self.measurements = {}
        self.wardrobe = {}
        self.cloths = cloths.none()
        self.impression = {}
        self.name = ""
        self.paper = ""
        self.sex = ""
        self.age_months = ""
        self.measured = ""
        self.born = ""
        self.start = {}  # a size's start values, each until another text stands in its field
        self.aged = ""  # the age in months that the last draft was made with
        self.fitted = {}  # {garment: {place: change}}, what an earlier try-on left for each
        self.cloth_ids = {}  # the kit's cloths that `cloths` are a view of, by part

    @property
    def options(self):
        return self.wardrobe.setdefault(self.garment, {})

    @property
    def taken_up(self):
        return self.fitted.get(self.garment) or {}

    def get(self, holder, name):
        texts, name = self._place(holder, name)
        return texts.get(name, "")

    def put(self, holder, name, text):
        texts, name = self._place(holder, name)
        if text.strip():
            texts[name] = text
        elif name in texts:
            del texts[name]

    def _place(self, holder, name):
        """(the texts that hold a field, its name among them)."""
        if holder != "cloth":
            return getattr(self, holder), name
        part, name = cloths.part_and_name(name)
        return self.cloths.get(part, {}), name

    def is_empty(self):
        """Whether the user has given nothing yet that would be missed."""
        return not (
            self.measurements or any(self.wardrobe.values()) or any(self.cloths.values())
            or self.impression or self.name.strip()
        )

    def is_start(self, name):
        """Whether a measurement is still a size's start value."""
        return name in self.start and self.measurements.get(name) == self.start[name]

    def typed(self, asked):
        """The measurements that count: those typed in fields that the form shows.

        What cannot be seen must not matter, so one typed for another garment waits.
        """
        return {name: self.measurements[name] for name in asked if name in self.measurements}

    def is_example(self, asked):
        return not self.typed(asked)

    def switch_unit(self, unit, lengths):
        """Every bare number keeps the unit it was typed under; nothing is converted.

        `lengths` holds, for each garment, the names of those options that are lengths.
        """
        holders = [(self.measurements, None), (self.start, None)]
        holders += [(self.cloths[part], cloths.LENGTHS) for part in self.cloths]
        holders += [(self.wardrobe[name], lengths.get(name, ())) for name in self.wardrobe]
        for texts, only in holders:
            for name in texts:
                if only is None or name in only:
                    texts[name] = without_unit(with_unit(texts[name], self.unit), unit)
        self.unit = unit

    def to_plain(self):
        return {
            "garment": self.garment, "unit": self.unit, "name": self.name, "paper": self.paper,
            "sex": self.sex, "age_months": self.age_months,
            "measured": self.measured, "born": self.born, "start": dict(self.start),
            "measurements": dict(self.measurements),
            "cloths": {part: dict(self.cloths[part]) for part in self.cloths},
            "impression": dict(self.impression),
            "wardrobe": {name: dict(texts) for name, texts in self.wardrobe.items()},
            "fitted": {name: dict(texts) for name, texts in self.fitted.items()},
        }


def from_plain(plain, garments):
    """A FormDraft from what was kept. Raises ValueError when it is none of ours."""
    if not isinstance(plain, dict) or plain.get("garment") not in garments:
        raise ValueError("no draft")
    draft = FormDraft(plain["garment"])
    draft.unit = plain.get("unit") if plain.get("unit") in UNITS else "cm"
    for key in SETTINGS + PERSONAL:
        setattr(draft, key, text_of(plain.get(key, "")))
    draft.measurements = texts_of(plain.get("measurements", {}))
    draft.start = texts_of(plain.get("start", {}))
    draft.cloths = _cloths_from(plain)
    draft.impression = texts_of(plain.get("impression", {}))
    for key in ("wardrobe", "fitted"):
        kept = plain.get(key, {})
        if not isinstance(kept, dict):
            raise ValueError("no " + key)
        setattr(draft, key, {text_of(name): texts_of(kept[name]) for name in kept})
    return draft


def _cloths_from(plain):
    """Both cloths; until they were kept apart, `cloth` held the fields of both."""
    if "cloths" not in plain:
        return cloths.from_fields(texts_of(plain.get("cloth", {})))
    kept = plain["cloths"]
    if not isinstance(kept, dict):
        raise ValueError("no cloths")
    return {part: texts_of(kept.get(part, {})) for part in cloths.PARTS}


def person_from(plain):
    """A wearer's plain values out of those that were kept. Raises ValueError when they are not ours."""
    if not isinstance(plain, dict):
        raise ValueError("no wearer")
    person = {"unit": plain.get("unit") if plain.get("unit") in UNITS else "cm"}
    for key in ("name", "sex", "age_months") + PERSONAL:
        person[key] = text_of(plain.get(key, ""))
    for key in ("measurements", "start"):
        person[key] = texts_of(plain.get(key, {}))
    return person


def in_a_unit_of_the_page(person):
    """Measurements under a unit that this page does not offer say it themselves, under cm."""
    if person["unit"] not in UNITS:
        texts = person["measurements"]
        person["measurements"] = {name: with_unit(texts[name], person["unit"]) for name in texts}
        person["unit"] = "cm"


def from_link(read, lengths):
    """A FormDraft from what link.read_link read, and sentences on what of it is not understood."""
    unit, said = read.get("unit") or "cm", []
    if unit not in UNITS + ("mm", "m"):
        said.append(
            "The link's unit, “%s”, is not known here: its bare numbers are taken as cm." % unit[:20]
        )
        unit = "cm"
    draft = FormDraft(read["garment"], unit)
    for key in SETTINGS:
        setattr(draft, key, one_line(read.get(key, "")))
    if draft.sex not in SEXES:
        said.append(_unread("body", draft.sex))
        draft.sex = ""
    if draft.age_months and not isinstance(months(draft.age_months), int):
        said.append(_unread("age in months", draft.age_months))
        draft.age_months = ""
    left = read.get("taken_up") or {}
    draft.fitted = {draft.garment: {one_line(place): one_line(left[place]) for place in list(left)[:MOST]}}
    strange = []
    for holder in HOLDERS:
        texts = read.get(holder, {})
        for name in list(texts)[:MOST]:
            if holder != "cloth" or cloths.part_and_name(name)[1] in cloths.FIELDS:
                draft.put(holder, one_line(name), one_line(texts[name]))
            else:
                strange.append(name)
        strange += list(texts)[MOST:]
    if strange:
        said.append("“%s” in the link is nothing that is known here: it was left out." % strange[0][:40])
    for key in IMPRESSION:
        text = read.get(key, "")
        draft.put("impression", key, text if key == "rules" else one_line(text))
    draft.switch_unit(unit if unit in UNITS else "cm", lengths)
    return draft, said


def _unread(what, text):
    return "The link's %s, “%s”, does not read: it was left out." % (what, text[:20])


def months(text):
    """An age as typed as a whole number; the text itself where it is none, for whoever reads it to name."""
    whole = text and len(text) < 5 and all("0" <= char <= "9" for char in text) and int(text) <= OLDEST
    return int(text) if whole else text


def to_link(draft, asked, needed, lengths, order, with_name):
    """The draft as link.write_link wants it: in the form's order, each length with its unit.

    `asked` are the measurements the form shows, `needed` those it must have, `order` all names in the
    order of writing, and `lengths` as for FormDraft.switch_unit.
    """
    measured = dict(draft.measurements)
    measured.update(measured_of(draft, asked, needed))
    written = {"garment": draft.garment, "name": draft.name.strip() if with_name else ""}
    for key in ("unit", "paper", "sex", "age_months"):
        written[key] = getattr(draft, key)
    for key in IMPRESSION:
        written[key] = draft.get("impression", key).strip()
    if draft.born:
        written["age_months"] = str(draft.aged)
    written["measurements"] = _written(measured, measured, draft.unit, order)
    written["taken_up"] = draft.taken_up
    written["options"] = _written(draft.options, lengths[draft.garment], draft.unit, order)
    written["cloth"] = _written(
        cloths.as_fields(draft.cloths),
        [cloths.field_of(part, name) for part in cloths.PARTS for name in cloths.LENGTHS],
        draft.unit, order,
    )
    return written


def _written(texts, lengths, unit, order):
    """The texts in their order, each of the `lengths` with its unit."""
    in_order = OrderedDict()
    for name in sorted(texts, key=lambda n: (order.index(n) if n in order else len(order), n)):
        in_order[name] = with_unit(texts[name], unit, "") if name in lengths else texts[name]
    return in_order


def measured_of(draft, asked, needed):
    """The measurements to draft with: the example's, those that are needed, while none is typed."""
    example = EXAMPLE_MEASUREMENTS[draft.unit]
    return draft.typed(asked) or {name: example[name] for name in needed}


def request_of(draft, asked, needed, today=""):
    """The request to draft it, for drafting.requests.workbench.run. `today` is an ISO date."""
    measured = measured_of(draft, asked, needed)
    cut = {"main": _cut(draft, "main", cloths.LOOKS), "lining": _cut(draft, "lining")}
    asked = {
        "do": "draft",
        "garment": draft.garment,
        "unit": draft.unit,
        "measurements": measured,
        "start": [name for name in measured if draft.is_start(name)],
        "options": dict(draft.options),
        "cloths": {part: cut[part] for part in cut if cut[part]},
        "sex": draft.sex,
        "age_months": draft.age_months,
        "born": draft.born,
        "measured": draft.measured,
        "today": today,
    }
    if draft.taken_up:
        asked["taken_up"] = dict(draft.taken_up)
    return asked


def _cut(draft, part, but=()):
    """What is said of a part's cloth that counts in a draft."""
    texts = draft.cloths[part]
    return {name: texts[name] for name in texts if name != cloths.NAME and name not in but}


def with_names(request, draft):
    """The request with the names of the cloths that it speaks of."""
    request["cloths"].setdefault("main", {})
    for part, texts in request["cloths"].items():
        if draft.cloths[part].get(cloths.NAME):
            texts[cloths.NAME] = draft.cloths[part][cloths.NAME]
    return request


def looks_of(draft):
    """Fibre, weave and colour of the main cloth, for whatever request takes them."""
    return {name: draft.cloths["main"].get(name, "") for name in cloths.LOOKS}


def period_of(draft):
    """The impression and the looks of the cloth, as a request gives them."""
    asked = {key: draft.get("impression", key) for key in ("year", "region", "rank")}
    asked["house_rules"] = draft.get("impression", "rules")
    asked.update(looks_of(draft))
    return asked


def texts_of(value):
    """{name: text}, less what is empty. Raises ValueError where something is no text."""
    if not isinstance(value, dict):
        raise ValueError("no texts")
    return {text_of(name): text_of(value[name]) for name in value if value[name]}


def steps_of(value):
    """The names of what is done. Raises ValueError where they are none."""
    if not isinstance(value, list):
        raise ValueError("no steps")
    return [text_of(step) for step in value]


def text_of(value):
    """Raises ValueError where it is no text."""
    if not isinstance(value, str):
        raise ValueError("no text")
    return value
