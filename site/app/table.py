"""The table of what answers what on the page, made of what each section says it answers.

    answers()     {what: answer}: what a tap does on something whose data-do is “what:which”
    on_click(), on_input(), on_change(), on_toggle(), on_keydown()
                  ((selector, react), …): what happens to an element that the selector matches; of the keys
                  only Enter is told

`answer(which, element)` and `react(element)` may give a coroutine, which is then run. A section may say
"what" or, for one of its kind alone, "what:which": the closer one answers, with what is left of `which`.
"""

import asyncio

KINDS = ("click", "input", "change", "toggle", "keydown")


class Answers:
    def __init__(self, sections):
        self._answers, self._reacting = {}, {kind: [] for kind in KINDS}
        for section in sections:
            if hasattr(section, "answers"):
                self._answers.update(section.answers())
            for kind in KINDS:
                if hasattr(section, "on_" + kind):
                    self._reacting[kind] += getattr(section, "on_" + kind)()

    def tapped(self, event):
        """Something may have been tapped that has an answer."""
        self.happened(event)
        element = event.target.closest("[data-do]")
        if element:
            event.preventDefault()
            answer, which = answer_to(self._answers, element.getAttribute("data-do"))
            _run(answer(which, element))

    def pressed(self, event):
        if event.key == "Enter" and not event.isComposing:
            self.happened(event)

    def happened(self, event):
        for selector, react in self._reacting[event.type]:
            if event.target.matches(selector):
                _run(react(event.target))


def answer_to(answers, asked):
    """(the answer, what is left to tell it) to a data-do. Raises KeyError when nothing answers it."""
    what, _, which = asked.partition(":")
    kind, _, rest = which.partition(":")
    closer = what + ":" + kind
    return (answers[closer], rest) if closer in answers else (answers[what], which)


def _run(given):
    if hasattr(given, "send"):
        asyncio.create_task(given)
