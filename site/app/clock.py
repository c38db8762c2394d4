"""The time and the day here, and marks of when something was done, for whoever measures it."""

from pyscript import window


def now():
    """Seconds since the page was opened."""
    return window.performance.now() / 1000


def today():
    """The date here, as ISO text."""
    day = window.Date.new()
    return "%04d-%02d-%02d" % (day.getFullYear(), day.getMonth() + 1, day.getDate())


def mark(name):
    """The last time that something was done."""
    window.performance.clearMarks(name)
    window.performance.mark(name)
