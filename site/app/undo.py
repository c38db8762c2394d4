"""The way back from what was just done: one, until the next is offered."""

import telling


class Undo:
    def __init__(self):
        self._undo = None

    def answers(self):
        return {
            "undo": lambda *_: self.last(),
            "done": lambda *_: telling.done(""),
        }

    def offer(self, text, undo):
        """Say what was done; `undo()` takes it back."""
        self._undo = undo
        telling.done(text)

    def drop(self):
        self._undo = None
        telling.done("")

    def last(self):
        undo = self._undo
        self.drop()
        telling.focus_here()
        if undo:
            undo()
