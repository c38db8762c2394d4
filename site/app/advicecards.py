"""What was advised, as HTML: a card for each, and what a group says of it."""

from safe import esc

MARKS = {"right": "✓", "note": "i", "unknown": "?", "unusual": "!", "wrong": "✗"}


def headed(result, told):
    """That the organiser goes first, above the first advice."""
    return '<p class="aside">%s</p>' % esc(result["organiser_first"]) if told or result["house"] else ""


def rulings_html(house, rulings, whole):
    """What the group says of this choice; `whole` has its message as well."""
    if not house or not (rulings or whole):
        return ""
    said = "".join(
        "<li>%s%s</li>" % (esc(r["sentence"]), _buttons_html(r["alternatives"])) for r in rulings
    )
    return '<div class="house"><h3>%s says</h3>%s%s</div>' % (
        esc(house["group"]), quote_html(house) if whole else "",
        "<ul>%s</ul>" % said if said else "<p>Nothing against this.</p>" if whole else "",
    )


def quote_html(house):
    return '<p class="quote">%s</p>' % esc(house["message"]) if house["message"] else ""


def owned(name):
    return name + ("’" if name.endswith("s") else "’s")


def advice_html(advice, offered):
    """As a card; what a card before has `offered` is not offered again."""
    fresh = [a for a in advice["alternatives"] if (a["field"], a["value"]) not in offered]
    offered.update((a["field"], a["value"]) for a in fresh)
    more = "".join(_ground_html(ground) for ground in advice["more"])
    return (
        '<div class="advice" data-severity="%s"><h3><span aria-hidden="true">%s</span> %s</h3><p>%s</p>%s'
        '<details><summary><span>%s</span> <span class="aside">who says so</span></summary>%s%s</details>'
        "</div>"
        % (advice["severity"], MARKS[advice["severity"]], esc(advice["headline"]), esc(advice["sentence"]),
           _buttons_html(fresh),
           esc(_capital(advice["sure_text"])), _source_html(advice), more)
    )


def _buttons_html(alternatives):
    if not alternatives:
        return ""
    return '<div class="remedies"><span class="aside">Right instead:</span>%s</div>' % "".join(
        '<button type="button" data-do="instead" data-field="%s" data-value="%s">%s</button>'
        % (esc(a["field"]), esc(a["value"]), esc(a["label"])) for a in alternatives
    )


def _ground_html(ground):
    title = "<b>%s.</b> " % esc(ground["title"]) if ground["title"] else ""
    return "<p>%s%s <i>%s</i></p>%s" % (
        title, esc(ground["sentence"]), esc(_capital(ground["sure_text"]) + "."), _source_html(ground))


def _source_html(ground):
    dispute = "<p>But: %s</p>" % esc(ground["dispute"]) if ground["dispute"] else ""
    return '%s<p class="source">%s</p>' % (dispute, esc(_capital(ground["source"])))


def list_html(sentences):
    return "<ul>%s</ul>" % "".join("<li>%s</li>" % esc(s) for s in sentences) if sentences else ""


def _capital(text):
    return text[:1].upper() + text[1:]
