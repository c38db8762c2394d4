"""A lay in figures, and its chalk plan piece by piece."""

from safe import esc
from telling import arrive


def figures_html(result):
    rows = [("To buy", result["buy_length"])]
    if result["cut_length"] != result["buy_length"]:
        rows.append(("To cut, after washing", result["cut_length"]))
    rows.append(("Used", result["used"]))
    if result["missing"]:
        rows.append(("Too short by", result["missing"]))
    for key, label in (("weight", "Weight"), ("price", "Price")):
        if result[key]:
            rows.append((label, result[key]))
    return "<dl>%s</dl>" % "".join(
        "<div><dt>%s</dt><dd>%s</dd></div>" % (label, esc(text)) for label, text in rows
    )


def on_hand_html(lay, may_keep):
    """Each piece of cloth that was there already with what is cut from it, and what is left of all."""
    html = "".join(
        '<h3>%s</h3><p class="aside">%s of it used</p><div class="lay-picture" id="on-hand-%d">%s</div>'
        % (esc(piece["name"]), piece["used"], number, piece["picture"])
        for number, piece in enumerate(lay.get("on_hand", ()))
    )
    left = [[piece["name"], piece] for piece in lay.get("on_hand", ())] + [["the bolt", lay]]
    left = [(name, of) for name, of in left if of.get("left_over")]
    if not left:
        return html
    html += "<h3>What is left over</h3>" + sentences(
        ["%s: %s" % (name[:1].upper() + name[1:], ", ".join(of["left_over"])) for name, of in left])
    keep = "+".join(text for _, of in left for text in of["keep"])
    button = (
        '<div class="buttons"><button type="button" data-do="keep-left:%s">Keep it in the kit</button></div>'
        % esc(keep)
    )
    return html + (button if may_keep else "")


def chalk_html(chalk, group):
    """Each piece folded."""
    titles = [piece["title"] for piece in chalk["pieces"]]
    return sentences(chalk["first"]) + "".join(
        piece_html(group, number, titles, piece) for number, piece in enumerate(chalk["pieces"])
    )


def piece_html(group, number, titles, piece, says="", head=esc, first_button=""):
    """A table of marks, how to join them, a diagonal to check, and buttons to the pieces beside it.

    `says` are attributes of its fold, `head(label)` is what stands before a mark's numbers.
    """
    columns = "".join(
        '<th scope="col">%s</th>' % (column[0].upper() + column[1:]) for column in piece["columns"])
    buttons = first_button
    if number:
        buttons += beside_html("back", "Back", number - 1, titles)
    if number + 1 < len(titles):
        buttons += beside_html("next", "Next", number + 1, titles)
    return (
        '<details class="chalk-piece" name="%s"%s><summary><span>%d. %s</span></summary>%s%s'
        '<table><thead><tr><th scope="col">Mark</th>%s</tr></thead><tbody>%s</tbody></table>%s'
        '<div class="buttons">%s</div></details>'
        % (group, says, number + 1, esc(piece["title"]), piece["picture"], sentences(piece["before"]),
           columns, "".join(_mark_html(mark, head) for mark in piece["marks"]),
           sentences(piece["joins"] + [piece["check"]]), buttons)
    )


def beside_html(way, label, number, titles):
    return '<button type="button" data-do="chalk-piece:%s">%s: %d. %s</button>' % (
        way, label, number + 1, esc(titles[number]))


def _mark_html(mark, head):
    """Its letter and two numbers, and what it is for under them."""
    label, across, down, note = mark
    row = '<tr><th scope="row">%s</th><td>%s</td><td>%s</td></tr>' % (head(label), esc(across), esc(down))
    return row + '<tr class="what-for"><td></td><td colspan="2">%s</td></tr>' % esc(note) if note else row


def open_beside(button, way):
    """Fold the piece at hand, and unfold the one after it ("next"), or before."""
    piece = button.closest("details")
    other = piece.nextElementSibling if way == "next" else piece.previousElementSibling
    piece.open = False
    other.open = True
    arrive(other.querySelector("summary"))


def sentences(sentences):
    sentences = [s for s in sentences if s]
    if not sentences:
        return ""
    return "<ul>%s</ul>" % "".join("<li>%s</li>" % esc(s) for s in sentences)
