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
TAP = "tap"  # on something that has an answer


class Answers:
    def __init__(self, sections):
        self._answers, self._reacting = {}, {kind: [] for kind in KINDS}
        self._waiting = []  # (kind, element), perhaps for a section that comes later; None once all are here
        self._add(sections)

    def take_in(self, sections, typed):
        """The sections that came later. What was done meanwhile is theirs now, and what was `typed` in their
        boxes, [box, text], even before this program ran."""
        first = {kind: len(self._reacting[kind]) for kind in KINDS}
        self._add(sections)
        waiting, self._waiting = self._waiting, None
        for box, text in typed:
            for selector, react in self._reacting["input"][first["input"]:]:
                if box.matches(selector):
                    box.value = text  # the page may have put there what was kept
                    _run(react(box))
        for kind, element in waiting:
            if kind == TAP:
                self._answer(element)
            else:
                self._react(kind, element, first[kind])

    def _add(self, sections):
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
            self._answer(element)

    def _answer(self, element):
        try:
            answer, which = answer_to(self._answers, element.getAttribute("data-do"))
        except KeyError:
            if self._waiting is None:
                raise
            self._waiting.append((TAP, element))
            return
        _run(answer(which, element))

    def pressed(self, event):
        if event.key == "Enter" and not event.isComposing:
            self.happened(event)

    def happened(self, event):
        self._react(event.type, event.target, 0)
        if self._waiting is not None:
            self._waiting.append((event.type, event.target))

    def _react(self, kind, element, first):
        for selector, react in self._reacting[kind][first:]:
            if element.matches(selector):
                _run(react(element))


def answer_to(answers, asked):
    """(the answer, what is left to tell it) to a data-do. Raises KeyError when nothing answers it."""
    what, _, which = asked.partition(":")
    kind, _, rest = which.partition(":")
    closer = what + ":" + kind
    return (answers[closer], rest) if closer in answers else (answers[what], which)


def _run(given):
    if hasattr(given, "send"):
        asyncio.create_task(given)
