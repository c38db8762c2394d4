"""Pieces of the cloth that one has already: a box for each, its corners line by line, and its picture.

A text is kept as one line, with `|` where a line ends, and with the unit that its numbers were typed in.
"""

import kitcloths
from cloths import ON_HAND, ROWS
from telling import by_id, set_html, set_text, show


class RagBag:
    def __init__(self, session):
        self._session = session
        session.hear("fill", self._fill)
        session.hear("answered", self._answered)

    def on_input(self):
        return (("textarea[data-in]", self._typed),)

    def answers(self):
        return {"keep-left": lambda what, _: self._keep(what.split("+"))}

    def _fill(self):
        draft = self._session.draft
        for number in range(1, ROWS + 1):
            box, text = by_id(ON_HAND % number), draft.get("cloth", ON_HAND % number)
            if kept(box.value, draft.unit) != text:
                box.value = typed(text, draft.unit)
        self._show_rows()

    def _typed(self, box):
        draft = self._session.draft
        self._session.touched.add(box.id)
        draft.put("cloth", box.id, kept(box.value, draft.unit))
        self._show_rows()
        self._session.changed(soon=True)

    def _show_rows(self):
        """Those that are filled in, and one more."""
        draft, wanted = self._session.draft, True
        for number in range(1, ROWS + 1):
            filled = bool(draft.get("cloth", ON_HAND % number))
            show("field-" + ON_HAND % number, filled or wanted)
            wanted = filled

    def _answered(self, result):
        """Beside each piece what is wrong with it, or how it looks."""
        said = {problem["field"]: problem["message"] for problem in result.get("problems", ())}
        pictures = [piece["picture"] for piece in result.get("remnants", ())]
        for number in range(1, ROWS + 1):
            name = ON_HAND % number
            wrong = said.get(name, "")
            set_text(name + "-problem", wrong)
            by_id("field-" + name).setAttribute("data-mark", "wrong" if wrong else "")
            if result["ok"]:
                filled = bool(self._session.draft.get("cloth", name))
                set_html(name + "-picture", pictures.pop(0) if filled and pictures else "")

    def _keep(self, pieces):
        """What is left of the cloth on the form, as a cloth of the kit."""
        session = self._session
        now = kitcloths.keep_left(session.kit, session.draft.cloth_ids.get("main"), pieces)
        session.change_kit(session.kit["at"])
        session.undo.offer("Kept among the kit's cloths.", lambda: self._forget(now))

    def _forget(self, cloth_id):
        kitcloths.take_out(self._session.kit, cloth_id)
        self._session.change_kit(self._session.kit["at"])


def kept(value, unit):
    """What was typed in a box, as one line."""
    lines = [line.strip() for line in value.split("\n")]
    lines = [line for line in lines if line]
    if not lines:
        return ""
    if not lines[0].lower().startswith("in "):
        lines.insert(0, "in " + unit)
    return " | ".join(lines)


def typed(text, unit):
    """The same for a box, under a unit."""
    lines = [line.strip() for line in text.split("|")]
    if lines and lines[0] == "in " + unit:
        lines.pop(0)
    return "\n".join(lines)
