"""What the page says of another Ellwand that was fetched."""

import pytest

from releases import told_of


@pytest.mark.parametrize("theirs, ours, begins", [
    ("0.10.0", "0.9.2", "A newer Ellwand (0.10.0)"), ("1.0", "0.9.2", "A newer Ellwand (1.0)"),
    ("0.9.2", "0.10.0", "This address has gone back to an earlier Ellwand: 0.9.2, where you have 0.10.0."),
    ("0.1.0", "0.1.0", "Another Ellwand"), ("", "0.1.0", "Another Ellwand"), ("0.1.0", "", "Another Ellwand"),
    ("next", "0.1.0", "Another Ellwand"),
])
def test_only_what_is_newer_is_called_so(theirs, ours, begins):
    assert told_of(theirs, ours).startswith(begins)
    assert "Your draft stays as it is" in told_of(theirs, ours)
