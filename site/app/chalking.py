"""The chalk plan: one piece at a time, its marks ticked as they are made, and kept with the garment."""

from chalkplan import beside_html, open_beside, piece_html, sentences
from clock import today
from kitlives import come_to
from pyscript import document
from safe import esc
from telling import set_html, set_text, show

KEPT = "chalk "
"""What is chalked is kept among what is done of a garment, under names that begin so."""

PLACES = (("main", "chalk"), ("lining", "lining-chalk"))


class Chalking:
    def __init__(self, session):
        self._session = session
        self._count_of = {}  # by place: how many pieces there are

    def answers(self):
        return {
            "chalk-piece": lambda way, button: open_beside(button, way),
            "chalked": lambda name, button: self._chalked(name, button),
        }

    def on_change(self):
        return (("[data-mark-of]", self._tick),)

    def on_toggle(self):
        return ((".chalk-piece", self._opened),)

    def show(self, lays):
        """The plans of the main cloth and, where there is one, of the lining."""
        for (part, place), lay in zip(PLACES, lays):
            self._put(part, place, lay["chalk"])
        for _, place in PLACES[len(lays):]:
            set_html(place, "")
            self._count_of[place] = 0
        show("lining-chalked", len(lays) > 1)
        show("chalked")
        show("chalk-none", False)
        self.say_current(True)
        self._say_count()

    def laid_anew(self, laid_as):
        """Where it lies otherwise than before, nothing of it is chalked yet."""
        garment = self._session.sewn()
        if garment.get("laid_as", laid_as) != laid_as:
            garment["done"][:] = [name for name in garment["done"] if not name.startswith(KEPT)]
        garment["laid_as"] = laid_as
        self._session.keep()

    def say_current(self, current):
        show("chalk-stale", not current)

    def _done(self):
        return self._session.sewn()["done"]

    def _put(self, part, place, chalk):
        done, at = self._done(), self._session.view.get("chalking")
        titles = [piece["title"] for piece in chalk["pieces"]]
        names = [_name(part, title) for title in titles]
        if at not in names and part == "main":
            begun = any(name in done for name in names)
            at = next((name for name in names if name not in done), "") if begun else place
        pieces = [
            _piece_html(place, number, piece, names[number], titles, done, at)
            for number, piece in enumerate(chalk["pieces"])
        ]
        self._count_of[place] = len(pieces)
        first = (
            '<details class="chalk-piece" name="%s"%s><summary><span>Before the first mark</span></summary>%s'
            '<div class="buttons">%s</div></details>'
            % (place, " open" if at == place else "", sentences(chalk["first"]),
               beside_html("next", "Next", 0, titles))
        )
        set_html(place, first + "".join(pieces))

    def _tick(self, box):
        """A mark was made, or is to be made again."""
        self._keep(box.getAttribute("data-mark-of"), box.checked)

    def _chalked(self, name, button):
        """A piece is chalked and cut, or not yet after all; then comes the next."""
        now = name not in self._done()
        self._keep(name, now)
        piece = button.closest("details")
        piece.setAttribute("data-done", "yes" if now else "no")
        button.setAttribute("aria-pressed", "true" if now else "false")
        left = self._say_count()
        come_to(self._session.sewn(), "cut", not left, today())
        self._session.tell("kit")
        if now and piece.nextElementSibling:
            open_beside(button, "next")

    def _keep(self, name, ticked):
        done = self._done()
        if ticked and name not in done:
            done.append(name)
        elif not ticked and name in done:
            done.remove(name)
        self._session.keep()

    def _opened(self, piece):
        if piece.open and piece.hasAttribute("data-piece"):
            self._session.view["chalking"] = piece.getAttribute("data-piece")
            self._session.keep()

    def _say_count(self):
        """How many are left."""
        count = sum(self._count_of.values())
        done = document.querySelectorAll("#chalking .chalk-piece[data-done=yes]").length
        set_text("chalk-count", "%d of %d pieces chalked and cut" % (done, count))
        return count - done


def _name(part, title, mark=""):
    return KEPT + "/".join(text for text in (part, title, mark) if text)


def _piece_html(place, number, piece, name, titles, done, at):
    """With a tick at each mark, and one for the whole."""
    part, made = name[len(KEPT):].split("/")[0], name in done

    def head(label):
        of = _name(part, piece["title"], label)
        return (
            '<label class="tick-mark"><input type="checkbox" data-mark-of="%s"%s> %s</label>'
            % (esc(of), " checked" if of in done else "", esc(label))
        )

    says = ' data-piece="%s" data-done="%s"%s' % (
        esc(name), "yes" if made else "no", " open" if name == at else "")
    chalked = (
        '<button type="button" class="main" data-do="chalked:%s" aria-pressed="%s">Chalked and cut</button>'
        % (esc(name), "true" if made else "false")
    )
    return piece_html(place, number, titles, piece, says, head, chalked)
