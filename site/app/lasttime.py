"""The pattern shown from last time until it is drawn again: last.js keeps and shows it.

What is kept answers one request, and is never shown for another.
"""

from pyscript import window


def keep(request, preview):
    """What stands on the page was drawn for a request: the user's own, or None for another's."""
    if request is None:
        window.ellwand.last.leave()
    else:
        window.ellwand.last.keep(written(request), preview)


def drop():
    """The user's own draft was changed."""
    window.ellwand.last.drop()


def check(request):
    """Take away what is shown from last time, unless it was drawn for this request. True if so."""
    return window.ellwand.last.check(written(request))


def written(request):
    """A request as text, the same for the same: dicts keep no order here. The day does not count."""
    return repr(_in_order({name: request[name] for name in request if name != "today"}))


def _in_order(value):
    if isinstance(value, dict):
        return [(name, _in_order(value[name])) for name in sorted(value)]
    if isinstance(value, list):
        return [_in_order(part) for part in value]
    return value
