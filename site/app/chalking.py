"""A lay in figures, and its chalk plan piece by piece."""

from safe import esc


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


def chalk_html(chalk, group):
    """Each piece folded: a table of marks, how to join them, and a diagonal to check."""
    pieces = []
    titles = [piece["title"] for piece in chalk["pieces"]]
    for number, piece in enumerate(chalk["pieces"], 1):
        after = ""
        if number < len(titles):
            after = '<button type="button" data-do="next-piece">Next: %d. %s</button>' % (
                number + 1, esc(titles[number])
            )
        marks = "".join(map(_mark_html, piece["marks"]))
        pieces.append(
            '<details class="chalk-piece" name="%s"><summary><span>%d. %s</span></summary>%s%s'
            '<table><thead><tr><th scope="col">Mark</th>%s</tr></thead><tbody>%s</tbody></table>%s%s'
            "</details>"
            % (group, number, esc(piece["title"]), piece["picture"], sentences(piece["before"]),
               "".join('<th scope="col">%s</th>' % (column[0].upper() + column[1:])
                       for column in piece["columns"]),
               marks, sentences(piece["joins"] + [piece["check"]]), after)
        )
    return sentences(chalk["first"]) + "".join(pieces)


def _mark_html(mark):
    """Its letter and two numbers, and what it is for under them."""
    label, across, down, note = [esc(text) for text in mark]
    row = '<tr><th scope="row">%s</th><td>%s</td><td>%s</td></tr>' % (label, across, down)
    return row + '<tr class="what-for"><td></td><td colspan="2">%s</td></tr>' % note if note else row


def next_piece(button):
    """Fold the piece that is chalked, and unfold the one after it."""
    piece = button.closest("details")
    after = piece.nextElementSibling
    piece.open = False
    after.open = True
    summary = after.querySelector("summary")
    summary.focus()
    summary.scrollIntoView()


def sentences(sentences):
    sentences = [s for s in sentences if s]
    if not sentences:
        return ""
    return "<ul>%s</ul>" % "".join("<li>%s</li>" % esc(s) for s in sentences)
