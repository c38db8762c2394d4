"""The form as HTML: which fields a garment asks for, drawn from the catalogue.

build.py writes the first garment's form into the page with these same functions, so that the form
stands there before any Python runs; the page calls them again when another garment is chosen.
"""

from safe import esc
from words import marked

CHILD_YEARS = range(2, 18)
GROWN_UP_MONTHS = 240
WORN_BY = (("woman", "Usually women's"), ("man", "Usually men's"), (None, "Anyone's"))


def garment_named(catalog, name):
    """The catalogue's entry for a garment, or None."""
    for garment in catalog["garments"]:
        if garment["name"] == name:
            return garment
    return None


def measures_of(catalog, garment):
    """(needed, helpful): the measures a garment asks for, each in tape order."""
    wanted = garment["needs"], garment["uses"]
    return tuple([m for m in catalog["measures"] if m["name"] in names] for names in wanted)


def matters(garment, option, texts):
    """Whether an option of a garment can change anything, with these options as typed: `when` holds
    [another option, its choices], or [a length, []] for one that must be more than nothing."""
    for name, choices in option["when"]:
        text = texts.get(name, "").strip()
        if not choices:
            if not [char for char in text if char in "123456789" or char in "¼½¾⅓⅔⅛⅜⅝⅞"]:
                return False
        elif (text or option_named(garment, name)["default"]) not in choices:
            return False
    return True


def option_named(garment, name):
    """A garment's option, or None."""
    for option in garment["options"]:
        if option["name"] == name:
            return option
    return None


def slug(group):
    """A group's name as part of an id."""
    return group.lower().replace(" ", "-")


def needed_html(catalog, garment):
    return "".join(_measure(m, True) for m in measures_of(catalog, garment)[0])


def helpful_html(catalog, garment):
    return "".join(_measure(m, False) for m in measures_of(catalog, garment)[1])


def ages_html():
    options = ['<option value="">not said</option>']
    options.append('<option value="%d">grown up</option>' % GROWN_UP_MONTHS)
    for years in CHILD_YEARS:
        options.append('<option value="%d">%d years</option>' % (12 * years, years))
    return "".join(options)


def sizes_html(catalog):
    options = ['<option value="">choose a size</option>']
    for size in catalog["sizes"]:
        options.append('<option value="%s">%s</option>' % (esc(size["name"]), esc(size["label"])))
    return "".join(options)


def garments_html(catalog):
    """Each garment with its picture, by who usually wears it."""
    first, out = catalog["garments"][0]["name"], []
    for who, title in WORN_BY:
        kinds = "".join(
            '<label class="pick kind"><input type="radio" name="garment" value="%s"%s><span>'
            '<svg aria-hidden="true"><use href="figures.svg#kind-%s"/></svg>%s</span></label>'
            % (esc(g["name"]), " checked" if g["name"] == first else "", esc(g["name"]), esc(g["title"]))
            for g in catalog["garments"] if g["worn_by"] == who
        )
        if kinds:
            out.append('<div class="kinds"><p>%s</p>%s</div>' % (title, kinds))
    return "".join(out)


def about_html(garment):
    return _about(garment, [])


def _about(garment, seen):
    return '<p>%s</p><p class="aside">%s</p>' % (
        marked(garment["summary"], seen), marked(garment["history"], seen),
    )


def options_html(garment):
    """Each group of options can be unfolded; what does not matter while nothing is chosen is hidden."""
    seen, groups = [], []
    _about(garment, seen)  # it stands above, in the same section
    for option in garment["options"]:
        if option["group"] not in groups:
            groups.append(option["group"])
    out = []
    for group in groups:
        fields = "".join(
            _option(o, seen, matters(garment, o, {})) for o in garment["options"] if o["group"] == group)
        out.append(
            '<details class="group" id="group-%s"><summary><span>%s</span> '
            '<span class="changed" id="changed-%s">as usual</span></summary>%s</details>'
            % (slug(group), esc(group), slug(group), fields)
        )
    return "".join(out)


def papers_html(catalog):
    return "".join(
        '<option value="%s">%s</option>' % (esc(paper), esc(_paper_title(paper)))
        for paper in catalog["papers"]
    )


def _paper_title(paper):
    if paper == "full":
        return "one sheet, as large as it takes"
    if paper.startswith("roll "):
        mm = int(paper[5:])
        return "roll, %d cm (%d in) wide" % (round(mm / 10), round(mm / 25.4))
    return paper


def _measure(measure, needed):
    return (
        '<div class="field measure" id="field-%s"><svg class="figure" aria-hidden="true">'
        '<use href="figures.svg#%s"/></svg>'
        '<label for="%s">%s</label>%s</div>'
        % (
            measure["name"],
            measure["name"],
            measure["name"],
            esc(measure["label"]),
            _box(measure["name"], "measurements", esc(measure["instruction"]), needed),
        )
    )


def _option(option, seen, shown):
    if option["kind"] == "choice":
        return _choice(option, seen, shown)
    name = option["name"]
    help_ = marked(option["help"], seen)
    box = _box(name, "options", help_, False, option["kind"])
    return '<div class="field" id="field-%s"%s><label for="%s">%s</label>%s</div>' % (
        name, "" if shown else " hidden", name, esc(option["label"]), box,
    )


def _choice(option, seen, shown):
    name = option["name"]
    rows = "".join(
        '<label class="row"><input type="radio" name="%s" value="%s" data-in="options"%s>'
        "<span>%s</span></label>"
        % (name, esc(value), " checked" if value == option["default"] else "", esc(title))
        for value, title in option["choices"]
    )
    return (
        '<fieldset class="field choice" id="field-%s"%s data-default="%s" '
        'aria-describedby="%s-how %s-problem"><legend>%s</legend>'
        '<p class="how" id="%s-how">%s</p>%s<p class="problem" id="%s-problem"></p></fieldset>'
        % (name, "" if shown else " hidden", esc(option["default"]), name, name, esc(option["label"]), name,
           marked(option["help"], seen), rows, name)
    )


def _box(name, holder, how, needed, kind="length"):
    return (
        '<p class="how" id="%s-how">%s</p>'
        '<div class="box %s"><input id="%s" name="%s" data-in="%s" type="text" inputmode="%s" '
        'autocomplete="off" autocapitalize="off" spellcheck="false" enterkeyhint="next" '
        'aria-describedby="%s-how %s-hint %s-problem"%s></div>'
        '<p class="hint" id="%s-hint"></p><p class="problem" id="%s-problem"></p>'
        % (name, how, kind, name, name, holder, "numeric" if kind == "count" else "decimal",
           name, name, name, ' aria-required="true"' if needed else "", name, name)
    )
