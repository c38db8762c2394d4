"""What is said of another Ellwand that was fetched: newer, earlier, or of the same number."""

STARTS = "Your draft stays as it is; that one starts when you say so, or on your next visit."
NEWER = "A newer Ellwand (%s) has been fetched. " + STARTS
EARLIER = (
    "This address has gone back to an earlier Ellwand: %s, where you have %s. " + STARTS + " What it cannot "
    "read of your kits stays kept."
)
ANOTHER = "Another Ellwand has been fetched. " + STARTS


def told_of(theirs, ours):
    """A sentence on the release that was fetched; the other is the one that runs."""
    fetched, running = _numbers(theirs), _numbers(ours)
    if not fetched or not running or fetched == running:
        return ANOTHER
    return NEWER % theirs if fetched > running else EARLIER % (theirs, ours)


def _numbers(release):
    """As they are compared; none where it is no release of ours."""
    try:
        return [int(number) for number in release.split(".")]
    except ValueError:
        return []
