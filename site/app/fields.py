"""The form as it stands on the page: what is typed in it, and what is said beside each field."""

import form
from cloths import GREY, LENGTHS, part_and_name
from impression import ImpressionFields
from lengths import METRE, YARD, is_bare, price_kept, price_shown, with_unit
from pyscript import document
from safe import esc
from telling import set_text, show

START = "a size's start value: measure, and type over it"
MARKS = ("wrong", "wanted", "warned")
CLOTH_BOXES = [
    "cloth_width", "cloth_selvedge", "cloth_on_hand", "cloth_shrinkage_warp",
    "cloth_shrinkage_weft", "cloth_weight", "cloth_price",
    "cloth_lining_width", "cloth_lining_on_hand", "cloth_name", "cloth_lining_name",
]
PRICE = "cloth_price"
CLOTH_LISTS = {"cloth_piecing": "when-needed", "cloth_lining_piecing": "when-needed"}
# The ticks: their field, what it is when ticked, and what it is when nobody has touched it.
CLOTH_TICKS = (
    ("cloth_nap", "yes", "no"), ("cloth_folded", "yes", "no"), ("cloth_turned", "yes", "no"),
    ("cloth_washed_first", "no", "yes"),
)


class Fields:
    """Follows the garment chosen; `asked` are its measurements and `lengths` its options that are
    lengths, by name, in the form's order."""

    def __init__(self, session):
        self._session, self._catalogue = session, session.catalogue
        self.impression = ImpressionFields(
            self._catalogue.described["dyes"], self._catalogue.described["shrinking"])
        self.meant = {}  # problems that say what a measurement was meant to be, by field
        self._shown = {}  # what stands on the page already, so that only changes touch it
        self._made_for = self._catalogue.garments[0]
        self._follow(self._made_for)
        session.hear("fill", self.fill)
        session.hear("changed", self._changed)
        session.hear("kit", lambda: self.impression.say(session.draft))

    def _follow(self, name):
        self.garment = self._catalogue.garment(name)
        self.asked, self.needed = self._catalogue.wanted(name)
        self.options = {option["name"]: option for option in self.garment["options"]}
        self.option_order = [option["name"] for option in self.garment["options"]]
        self.lengths = {n for n in self.options if self.options[n]["kind"] == "length"}
        boxes = self.asked + [n for n in self.option_order if self.options[n]["kind"] != "choice"]
        self.inputs = {name: document.getElementById(name) for name in boxes + CLOTH_BOXES}

    def _changed(self, soon):
        draft = self._session.draft
        self.show_what_matters()
        self.mark_starts()
        self.impression.say(draft)
        show("afresh", not draft.is_empty())
        if soon:
            show("start-from", not draft.measurements)

    def has(self, name):
        return document.getElementById("field-" + name) is not None

    def early(self):
        """What was typed before this program ran: [(holder, name, text)]."""
        return [
            (box.getAttribute("data-in"), name, self.kept(name, box.value))
            for name, box in self.inputs.items()
            if box.value
        ]

    def fill(self):
        """Make the page show the draft, building another garment's form when it is another."""
        draft = self._session.draft
        if draft.garment != self._made_for:
            self._build(draft.garment)
        document.body.setAttribute("data-unit", draft.unit)
        _check("garment", draft.garment)
        _check("unit", draft.unit)
        _check("sex", draft.sex)
        papers = self._catalogue.described["papers"]
        paper = draft.paper if draft.paper in papers else papers[0]
        document.getElementById("paper").value = paper
        document.getElementById("name").value = draft.name
        for name in ("measured", "born"):
            document.getElementById(name).value = getattr(draft, name)
        self.show_age(draft)
        for name, box in self.inputs.items():
            text = draft.get(self.holder(name), name)
            if name == PRICE:
                text = price_shown(text, draft.unit)
            if box.value != text:
                box.value = text
            self.dress(name, text)
            if name in self.lengths or name in self.asked or part_and_name(name)[1] in LENGTHS:
                box.setAttribute("inputmode", "decimal" if draft.unit == "cm" else "text")
        for name, option in self.options.items():
            if option["kind"] == "choice":
                _check(name, draft.get("options", name) or option["default"])
        for name in CLOTH_LISTS:
            document.getElementById(name).value = draft.get("cloth", name) or CLOTH_LISTS[name]
        for name, ticked, left in CLOTH_TICKS:
            box = document.getElementById(name)
            box.checked = (draft.get("cloth", name) or left) == ticked
        self.show_ranges(draft.unit)
        for name in GREY:
            self._attribute(name, "placeholder", GREY[name][draft.unit])
        document.getElementById("price-of").textContent = YARD if draft.unit == "in" else METRE
        self.show_what_matters()
        self.impression.fill(draft)

    def kept(self, name, text):
        """What is typed into a field, as the draft keeps it."""
        return price_kept(text, self._session.draft.unit) if name == PRICE else text

    def holder(self, name):
        """Which texts of a draft the field belongs to."""
        if name in self.options:
            return "options"
        return "cloth" if name in CLOTH_BOXES else "measurements"

    def _build(self, name):
        self._follow(name)
        put = {
            "needed": form.needed_html(self._catalogue.described, self.garment),
            "helpful": form.helpful_html(self._catalogue.described, self.garment),
            "about": form.about_html(self.garment),
            "options": form.options_html(self.garment),
        }
        for place, html in put.items():
            document.getElementById(place).innerHTML = html
        self._made_for = name
        self._shown = {}
        self._follow(name)

    def dress(self, name, text):
        """Show the unit behind a field only where the text has none of its own."""
        kind = "own" if text and not is_bare(text) else ""
        self._attribute(name, "data-unit-is", kind)

    def show_ranges(self, unit):
        for name in self.lengths:
            self._say(name, "hint", self.options[name]["range"][unit])

    def show_defaults(self, values):
        """The value each option has when nothing is typed, grey in its field."""
        for name, value in values.items():
            if name in self.inputs:
                self._attribute(name, "placeholder", value)

    def show_measures(self, draft, example, estimated):
        """The example's numbers in grey while it is on the page; else what was estimated."""
        for name in self.asked:
            self._attribute(name, "placeholder", example.get(name, ""))
            typed = draft.get("measurements", name)
            if draft.is_start(name):
                continue
            said = "" if typed or name not in estimated else "estimated " + estimated[name]
            self._say(name, "hint", said)

    def mark_starts(self):
        """Say beside a field that what stands in it is a size's and not the wearer's."""
        draft = self._session.draft
        for name in self.asked:
            if draft.is_start(name):
                self._say(name, "hint", START)
            elif self._shown.get((name, "hint")) == START:
                self._say(name, "hint", "")

    def show_age(self, draft):
        """A date of birth gives the age; the list of ages then says so and waits."""
        box = document.getElementById("age_months")
        box.disabled = bool(draft.born)
        months = draft.aged if draft.born else ""
        if draft.born:
            said = "From the date of birth"
            if months != "":
                said += ": %d years %d months" % (months // 12, months % 12)
            box.value = ""
        else:
            said, box.value = "", draft.age_months
        self._say("age_months", "hint", said)

    def show_what_matters(self):
        """Only options that can change anything, in groups that say what of them is the user's own."""
        groups, draft = {}, self._session.draft
        for name in self.option_order:
            option = self.options[name]
            matters = form.matters(self.garment, option, draft.options)
            if option["when"]:
                show("field-" + name, matters)
                self._follow_the_draft(name, option)
            offered, said = groups.setdefault(option["group"], ([], []))
            if matters:
                offered.append(name)
                if draft.get("options", name):
                    said.append(_in_words(option, draft.get("options", name), draft.unit))
        for group in groups:
            show("group-" + form.slug(group), bool(groups[group][0]))
            set_text("changed-" + form.slug(group), "; ".join(groups[group][1]) or "as usual")

    def _follow_the_draft(self, name, option):
        """What had waited stands in its field again; what waits now is not there."""
        text = self._session.draft.get("options", name)
        if option["kind"] == "choice":
            _check(name, text or option["default"])
        elif self.inputs[name].value.strip() != text.strip():
            self.inputs[name].value = text
            self.dress(name, text)

    def show_problems(self, problems, draft):
        """Each sentence beside its field. Returns those that have no field on this page."""
        said, also, homeless = {}, set(), []
        self.meant = {}
        for problem in problems:
            name = problem["field"]
            if not self.has(name):
                homeless.append(problem)
                continue
            mark = "wrong" if problem["severity"] == "error" else "warned"
            if mark == "wrong" and name in self.needed and not draft.get("measurements", name):
                mark = "wrong" if name in self._session.touched else "wanted"
            message = self._beside(name, problem["message"])
            if name in said:
                mark, message = said[name][0], said[name][1] + " " + message
            said[name] = (mark, message)
            if problem["meant"]:
                self.meant[name] = problem
            if mark == "wrong":
                also.update(problem["also"])
        for name in self._fields():
            mark, message = said.get(name, ("also" if name in also else "", ""))
            self._say(name, "problem", message)
            self._mark(name, mark)
        for name in self.asked:
            self._offer_meant(name, self.meant.get(name))
        return homeless

    def _offer_meant(self, name, problem):
        """What would put a measurement right, one tap away."""
        label = problem["offer"] if problem else ""
        if self._shown.get((name, "meant"), "") == label:
            return
        self._shown[(name, "meant")] = label
        old = document.getElementById(name + "-meant")
        if old:
            old.remove()
        if label:
            button = '<button type="button" class="remedy" id="%s-meant" data-do="meant:%s">%s</button>'
            document.getElementById(name + "-problem").insertAdjacentHTML(
                "afterend", button % (name, name, esc(label)))

    def _fields(self):
        own = ["name", "sex", "age_months", "born", "measured", "garment", "taken_up"]
        return self.asked + self.option_order + CLOTH_BOXES + own

    def _mark(self, name, mark):
        if self._shown.get((name, "mark"), "") == mark:
            return
        self._shown[(name, "mark")] = mark
        field = document.getElementById("field-" + name)
        field.setAttribute("data-mark", mark)
        box = document.getElementById(name)
        if box:
            if mark in ("wrong", "also"):
                box.setAttribute("aria-invalid", "true")
            else:
                box.removeAttribute("aria-invalid")
        if mark in ("wrong", "wanted"):
            around = field.closest("details")
            if around:
                around.open = True

    def label(self, name):
        return self._catalogue.label(name, self.garment["name"])

    def _beside(self, name, message):
        """The sentence without the field's name in front, since it stands beside the field."""
        label = self.label(name) + ": "
        if len(label) > 2 and message.startswith(label):
            message = message[len(label) :]
            return message[:1].upper() + message[1:]
        return message

    def _say(self, name, part, text):
        if self._shown.get((name, part), "") == text:
            return
        self._shown[(name, part)] = text
        place = document.getElementById("%s-%s" % (name, part))
        if place:
            place.textContent = text

    def _attribute(self, name, attribute, value):
        if self._shown.get((name, attribute), "") == value:
            return
        self._shown[(name, attribute)] = value
        self.inputs[name].setAttribute(attribute, value)


def _check(group, value):
    for radio in document.getElementsByName(group):
        radio.checked = radio.value == value


def _in_words(option, text, unit):
    """An option of the user's own: “Waist: straight down to the waist”."""
    if option["kind"] == "choice":
        text = dict(option["choices"]).get(text, text)
    elif option["kind"] == "length":
        text = with_unit(text, unit)
    return "%s: %s" % (option["label"], text)
