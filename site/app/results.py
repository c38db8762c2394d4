"""What a draft came to, as HTML: the checks, the pieces, the finished size, what to mind.

Like form.py it is called by build.py too, which writes the example's result into the page.
"""

from safe import esc
from words import marked


def verdict(result):
    """The checks in one line."""
    failed = [check for check in result["checks"] if not check["passed"]]
    count = len(result["checks"])
    doubts = doubted(result)
    if not failed and doubts:
        return "All %d checks pass, but look at a number again." % count
    if not failed:
        return "All %d checks pass." % count
    return "%d of %d checks %s." % (len(failed), count, "fails" if len(failed) == 1 else "fail")


def doubted(result):
    """The fields of what was typed that is hardly so."""
    return [p["field"] for p in result.get("problems", ()) if p["severity"] == "warning"]


def failed_html(result, seen):
    """Each failed check as a card, with its ways out as buttons."""
    out = []
    for check in result["checks"]:
        if check["passed"]:
            continue
        buttons = "".join(
            '<button type="button" class="remedy" data-do="remedy" data-option="%s" '
            'data-value="%s">%s</button>' % (esc(r["option"]), esc(r["value"]), esc(r["label"]))
            for r in check["remedies"]
        )
        out.append(
            '<li class="failed"><h4>%s</h4><p class="amounts">%s <span>(%s)</span></p><p>%s</p>%s</li>'
            % (_name(check), esc(check["value"]), esc(check["limit"]), marked(check["advice"], seen),
               '<div class="remedies">%s</div>' % buttons if buttons else "")
        )
    return '<ul class="cards">%s</ul>' % "".join(out) if out else ""


def passed_html(result, seen):
    rows = "".join(
        '<li><span class="tick" aria-hidden="true">✓</span><span><b>%s</b> %s <i>(%s)</i><br>%s</span>'
        "</li>" % (_name(check), esc(check["value"]), esc(check["limit"]), marked(check["advice"], seen))
        for check in result["checks"]
        if check["passed"]
    )
    return '<ul class="ticked">%s</ul>' % rows if rows else ""


def pieces_html(result):
    rows = "".join(
        '<tr><th scope="row">%s</th><td>%s</td><td class="size">%s</td></tr>'
        % (esc(_capital(piece["title"])), piece["cut"], esc(piece["size"]))
        for piece in result["pieces"]
    )
    return (
        '<table><thead><tr><th scope="col">Piece</th><th scope="col">Cut</th>'
        '<th scope="col">Cloth it takes</th></tr></thead><tbody>%s</tbody></table>' % rows
    )


def finished_html(result):
    rows = "".join(
        "<div><dt>%s</dt><dd>%s</dd></div>" % (esc(f["label"]), esc(f["text"]))
        for f in result["finished"]
    )
    return "<dl>%s</dl>" % rows


def estimated_html(result):
    """What was estimated, each with a way to its field."""
    rows = "".join(
        '<li><button type="button" class="link" data-do="go-to" data-field="%s">%s</button> '
        "<span>%s</span></li>"
        % (esc(e["name"]), esc(e["label"]), esc(e["text"]))
        for e in result["estimated"]
    )
    return "<ul>%s</ul>" % rows if rows else ""


def sentences_html(sentences, seen):
    rows = "".join("<li>%s</li>" % marked(s, seen) for s in sentences)
    return "<ul>%s</ul>" % rows if rows else ""


def parts(result):
    """The places on the page, and what each is to hold. What is folded away marks words of its own."""
    seen = []
    return {
        "failed": failed_html(result, seen),
        "passed": passed_html(result, []),
        "piece-list": pieces_html(result),
        "finished": finished_html(result),
        "estimated": estimated_html(result),
        "growth": sentences_html(result["growth"], seen),
        "notes": sentences_html(result["notes"], seen),
        "cautions": sentences_html(result["cautions"], seen),
    }


def wide(preview):
    """The drawing's width over its height, coarsely, so that the page does not jump as one types."""
    at = preview.index('viewBox="') + 9
    _, _, width, height = (float(part) for part in preview[at : preview.index('"', at)].split())
    return "%.1f" % max(0.6, width / height)


def _name(check):
    mark = ' <em class="estimate">estimated</em>' if check["estimated"] else ""
    return esc(_capital(check["name"])) + mark


def _capital(text):
    return text[:1].upper() + text[1:]
