"""The bolts of a kit's shopping list: the one lay that all their pieces are cut from, and its chalk plan."""

import telling
from chalkplan import chalk_html, figures_html, sentences
from exchange import take_file
from safe import esc
from telling import by_id, set_html, set_text

FILES = (("chalk-plan.pdf", "Chalk plan (PDF)"), ("lay.svg", "The lay (SVG)"),
         ("chalk-plan.json", "Its numbers (JSON)"))


class BoltsPart:
    """`show` puts the bolts of a list below it; a lay is fetched when it is asked for."""

    def __init__(self, session, enlarging):
        self._session, self._enlarging = session, enlarging
        self._of, self._names = None, []

    def answers(self):
        return {
            "bolt:show": lambda number, button: self._show(int(number), button),
            "bolt:take": lambda which, button: self._take(which, button),
        }

    def show(self, request, bolts):
        """`request` is the one that the list answers."""
        self._of, self._names = request, [bolt["name"] for bolt in bolts]
        set_html("shop-bolts", "".join(_bolt_html(number, bolt) for number, bolt in enumerate(bolts)))

    def _ask(self, number, **more):
        return dict(self._of, bolt=self._names[number], **more)

    async def _show(self, number, button):
        said = "took-bolt-%d" % number
        button.setAttribute("aria-busy", "true")
        set_text(said, "Getting the cloth out…")
        try:
            result = await self._session.worker.run(self._ask(number, do="bolt"))
            if result and result["ok"]:
                set_text(said, "")
                set_html("bolt-%d" % number, _lay_html(number, result))
                self._enlarging.know("bolt-picture-%d" % number, result)
            elif result:
                set_text(said, "Not yet: " + result["problems"][0]["message"])
        except Exception as error:
            set_text(said, "The lay could not be shown (%s). Please try again." % telling.plain(error))
        finally:
            button.removeAttribute("aria-busy")

    def _take(self, which, button):
        number, _, kind = which.partition(":")
        request = self._ask(int(number), do="bolt-file", kind=kind, paper=by_id("paper").value)
        return take_file(self._session.worker, request, "took-bolt-" + number, button, "Making the file…")


def _bolt_html(number, bolt):
    count = bolt["garments"]
    what = "one garment" if count == 1 else "one lay for %d garments" % count
    files = "".join(
        '<button type="button" data-do="bolt:take:%d:%s">%s</button>' % (number, kind, label)
        for kind, label in FILES
    )
    return (
        '<h4>%s: %s</h4><div class="buttons"><button type="button" data-do="bolt:show:%d">Show the lay'
        '</button>%s</div><p class="took" id="took-bolt-%d" role="status"></p><div id="bolt-%d"></div>'
        % (esc(bolt["name"]), what, number, files, number, number)
    )


def _lay_html(number, lay):
    return (
        '<div class="lay-figures">%s</div><div class="lay-picture" id="bolt-picture-%d">%s</div>%s'
        '<div class="chalk">%s</div>' % (figures_html(lay), number, lay["picture"], sentences(lay["notes"]),
           chalk_html(lay["chalk"], "bolt-chalk-%d" % number))
    )
