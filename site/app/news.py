"""What the parts of the page tell each other, so that none has to know who listens."""


from collections import OrderedDict


class News:
    def __init__(self):
        self._hearers = {}
        self._said = OrderedDict()  # what was told last of each

    def hear(self, what, react):
        """Have `react` called whenever `what` is told, after those who heard of it before."""
        self._hearers.setdefault(what, []).append(react)

    def tell(self, what, *said):
        self._said[what] = said
        for react in self._hearers.get(what, ()):
            react(*said)

    def counted(self):
        """How many hear of what, for `repeat`."""
        return {what: len(self._hearers[what]) for what in self._hearers}

    def repeat(self, before):
        """Tell what was told last, to those alone who hear of it since it was counted."""
        for what in list(self._said):
            for react in self._hearers.get(what, ())[before.get(what, 0):]:
                react(*self._said[what])
