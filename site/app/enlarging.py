"""A piece of a lay, tapped in its picture: large, with its marks, over the page."""

from telling import by_id, set_html, set_text


class Enlarging:
    def __init__(self):
        self._pieces = {}  # of the lay in each picture, by the picture's id

    def answers(self):
        return {"shrink": lambda *_: by_id("enlarged").close()}

    def on_click(self):
        return ((".lay-picture g[data-number] *", self._tapped),)

    def know(self, picture, lay):
        """What may be tapped in a picture."""
        self._pieces[picture] = lay["chalk"]["pieces"]

    def _tapped(self, drawn):
        at = int(drawn.closest("g[data-number]").getAttribute("data-number"))
        tapped = self._pieces[drawn.closest(".lay-picture").id][at]
        set_text("enlarged-title", "%d. %s" % (at + 1, tapped["title"]))
        set_html("enlarged-picture", tapped["picture"])
        by_id("enlarged").showModal()
